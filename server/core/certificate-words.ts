import { type CertificateData, type CertificateVerdict, type Figure, type RunoutRow, wasRead } from '#core/certificate.ts'
import { figureText, limitText } from '#core/certificate-figures.ts'
import type { WayOfHolding } from '#core/crank-shape.ts'
import { dayInWords } from '#core/days-in-words.ts'
import { HELD_WORDS } from '#core/held-words.ts'
import type { GuardRule } from '#core/runout-verdict.ts'
import { fromMm } from '#core/units.ts'

export const HEADINGS = { certificate: 'Certificate of runout', report: 'Report of runout' } as const

interface End {
  name: 'left' | 'right'
  row: RunoutRow
  dialMm: number
}

interface ReadEnd extends End {
  figure: Figure
}

/**
 * The one line that a certificate comes down to, in the past tense, with place and day: what each end swung, give or take
 * what, by which dial, where it stood and how the crank was held, and what is allowed.
 *
 * @example plainLine(data) // 'On our bench on 2 December 2026 the left end swung 0.012 mm and the right 0.014 mm in one turn (0.5 and 0.6 thou), give or take 0.007 and 0.005, by a 0.001 mm dial, 45 and 50 mm out from the middle of the main seats, on bare seats in V-blocks. We allow 0.020.'
 *
 * Figures as figureText rounds them. An end that was not read is said with its reason. Anything but "within" is said too.
 */
export function plainLine(data: CertificateData): string {
  const ends: End[] = [
    { name: 'left', row: data.left, dialMm: data.setup.left.dialMm },
    { name: 'right', row: data.right, dialMm: data.setup.right.dialMm },
  ]
  const read = ends.flatMap((end): ReadEnd[] => (wasRead(end.row.final) ? [{ ...end, figure: end.row.final }] : []))
  const sentences = read.length > 0 ? [swungSentence(data, read)] : []
  sentences.push(...allowedSentences(read), ...read.flatMap((end) => verdictSentence(end.name, end.row.verdict)))
  for (const { name, row } of ends) {
    if (!wasRead(row.final)) sentences.push(`The ${name} end was not read on ${dayInWords(data.measuredOn)}, because ${row.final.notRead}.`)
  }
  return sentences.join(' ')
}

function swungSentence(data: CertificateData, read: ReadEnd[]): string {
  const [first, second] = read
  const swung = read.map(
    (end, index) => `${index === 0 ? `the ${end.name} end swung` : `the ${end.name}`} ${figureText(end.figure, 'mm', 'low')} mm`,
  )
  const thou = read.map((end) => figureText(end.figure, 'thou', 'low'))
  const doubts = read.flatMap((end) =>
    end.row.giveOrTakeMm === undefined ? [] : [figureText({ mm: end.row.giveOrTakeMm, stepMm: end.figure.stepMm }, 'mm', 'low')],
  )
  const steps = [...new Set(read.map((end) => end.figure.stepMm))]
  const parts = [
    `On our bench on ${dayInWords(data.measuredOn)} ${swung.join(' and ')} in one turn (${thou.join(' and ')} thou)`,
    ...(doubts.length === read.length
      ? [`give or take ${doubts.length === 2 && doubts[0] === doubts[1] ? `${doubts[0]} at each end` : doubts.join(' and ')}`]
      : []),
    steps.length === 1 ? `by a ${stepWords(steps[0]!)} dial` : `by dials of ${steps.map(stepWords).join(' and ')}`,
    placeWords(data.setup.held, first!, second),
    HELD_WORDS[data.setup.held],
  ]
  return `${parts.join(', ')}.`
}

/** A dial's step; one of an inch dial is said in thou. */
function stepWords(stepMm: number): string {
  const thou = fromMm(stepMm, 'thou')
  const isInch = Math.abs(thou * 20 - Math.round(thou * 20)) < 1e-6 && thou >= 0.05
  return isInch ? `${Math.round(thou * 100) / 100} thou` : `${Math.round(stepMm * 1e5) / 1e5} mm`
}

function placeWords(held: WayOfHolding, first: ReadEnd, second: ReadEnd | undefined): string {
  const from = held === 'centres' ? 'centre' : 'main seat'
  const middle = held === 'centres' ? '' : 'the middle of '
  const far = (end: ReadEnd) => `${Math.round(Math.abs(end.dialMm) * 10) / 10}`
  const way = (end: ReadEnd) => (end.dialMm < 0 ? 'in' : 'out')
  if (!second) return `${far(first)} mm ${way(first)} from ${middle}its ${from}`
  if (way(first) !== way(second))
    return `${far(first)} mm ${way(first)} from ${middle}the left ${from} and ${far(second)} mm ${way(second)} from ${middle}the right`
  if (far(first) === far(second)) return `${far(first)} mm ${way(first)} from ${middle}each ${from}`
  return `${far(first)} and ${far(second)} mm ${way(first)} from ${middle}the ${from}s`
}

function allowedSentences(read: ReadEnd[]): string[] {
  const ours = sameOrEach(
    read.map((end) => ({
      name: end.name,
      text: end.row.houseLimitMm === undefined ? undefined : limitText(end.row.houseLimitMm, end.figure.stepMm),
    })),
  )
  const makers = sameOrEach(
    read.map((end) => ({
      name: end.name,
      text: end.row.makerLimit?.samePlace ? limitText(end.row.makerLimit.mm, end.figure.stepMm) : undefined,
    })),
  )
  return [...(ours ? [`We allow ${ours}.`] : []), ...(makers ? [`At the same place the maker allows ${makers}.`] : [])]
}

function sameOrEach(limits: { name: string; text: string | undefined }[]): string | undefined {
  const said = limits.filter((limit) => limit.text !== undefined)
  if (said.length === 0) return undefined
  if (said.length === limits.length && said.every((limit) => limit.text === said[0]?.text)) return said[0]?.text
  return said.map((limit) => `${limit.text} ${limit.name}`).join(' and ')
}

function verdictSentence(name: string, verdict: CertificateVerdict): string[] {
  const says: Partial<Record<CertificateVerdict, string>> = {
    'in-the-doubt-band': 'was inside our limit, but in the doubt band',
    over: 'was over our limit',
    'over-ours-inside-makers': 'was over our limit and inside the maker’s',
    'over-ours-doubtful-by-makers': 'was over our limit and in the doubt band of the maker’s',
  }
  const words = says[verdict]
  return words ? [`The ${name} end ${words}.`] : []
}

/**
 * What the verdict words on this sheet mean: only those that it uses, and how it was decided and rounded. A sheet that has
 * its statement sealed says that one, whatever the words have become since.
 *
 * @example statementOfRule(data) // '“Within” means that the figure with its give-or-take added does not pass the limit named here, 19 times in 20. Decided before rounding; printed rounded to the side that flatters us least.'
 */
export function statementOfRule(data: CertificateData): string {
  if (data.worth !== undefined) return data.worth.statement
  const rows = [data.left, data.right, data.width, data.sideClearance, data.bigEndPlay, ...data.further]
  const used = new Set(rows.map((row) => row?.verdict))
  const sentences = [
    used.has('within') && '“Within” means that the figure with its give-or-take added does not pass the limit named here, 19 times in 20.',
    used.has('in-the-doubt-band') &&
      '“In the doubt band” means that the figure itself does not pass the limit, but with its give-or-take added it would.',
    (used.has('over') || used.has('under')) && '“Over” and “under” mean that the figure itself passes the limit.',
    used.has('over-ours-inside-makers') &&
      '“Inside the maker’s” means that the figure passes our limit, but with its give-or-take added not the maker’s for the same place.',
    used.has('over-ours-doubtful-by-makers') &&
      '“In the doubt band of the maker’s” means that it passes our limit, and with its give-or-take added would pass the maker’s.',
    used.has('no-limit') && 'Where no limit stands, none was asked for.',
    'Decided before rounding; printed rounded to the side that flatters us least.',
  ]
  return sentences.filter((one) => one !== false).join(' ')
}

/**
 * The statement of the rule by which the verdicts of a sheet were decided, as it is sealed with them: of the words that the
 * sheet uses, what each means.
 *
 * @example ruleInWords('full-guard', ['within']) // '“Within” means that the figure and its give-or-take together do not pass the limit named here. Decided before rounding; printed rounded to the side that flatters us least.'
 *
 * Source: decision rules stated with the verdict, ISO/IEC 17025:2017 7.8.6 and ILAC-G8:09/2019 (from memory).
 */
export function ruleInWords(rule: GuardRule, verdicts: readonly CertificateVerdict[]): string {
  const used = new Set(verdicts)
  const guarded = rule === 'full-guard'
  const sentences = [
    used.has('within') &&
      (guarded
        ? '“Within” means that the figure and its give-or-take together do not pass the limit named here.'
        : '“Within” means that the figure does not pass the limit named here; its give-or-take is left out, so that a figure at the limit is as likely over it as not.'),
    used.has('in-the-doubt-band') &&
      '“In the doubt band” means that the figure itself does not pass the limit, but with its give-or-take added it would.',
    (used.has('over') || used.has('under')) && '“Over” and “under” mean that the figure itself passes the limit.',
    used.has('over-ours-inside-makers') &&
      (guarded
        ? '“Inside the maker’s” means that the figure passes our limit, but with its give-or-take added not the maker’s for the same place.'
        : '“Inside the maker’s” means that the figure passes our limit, but not the maker’s for the same place; the give-or-take is left out.'),
    used.has('over-ours-doubtful-by-makers') &&
      '“In the doubt band of the maker’s” means that it passes our limit, and with its give-or-take added would pass the maker’s.',
    used.has('no-limit') && 'Where no limit stands, none was asked for.',
    'Decided before rounding; printed rounded to the side that flatters us least.',
  ]
  return sentences.filter((one) => one !== false).join(' ')
}

/**
 * What makes the give-or-take of the ends, in words: its coverage, and the parts with their shares, greatest first; those
 * under a twentieth together. Nothing for a sheet of form 1.
 *
 * Source: common practice, no source.
 */
export function worthInWords(data: CertificateData): string[] {
  const { worth } = data
  if (worth === undefined) return []
  const ends = (['left', 'right'] as const).flatMap((name) => {
    const end = worth[name]
    return end === undefined ? [] : [{ name, says: `k = ${Math.round(end.k * 100) / 100}: ${partsInWords(end.parts)}` }]
  })
  const [first, second] = ends
  if (first === undefined) return []
  const each = second === undefined || first.says === second.says ? first.says : ends.map(({ name, says }) => `${name} ${says}`).join('; ')
  const heat = worth.warm ? ' The crank was still warm, and no give-or-take covers that.' : ''
  return [`The give-or-take of a full swing holds the true one ${Math.floor(worth.coverage * 100)} times in 100, ${each}.${heat}`]
}

const LEAST_SHARE = 0.05

function partsInWords(parts: readonly { name: string; share: number }[]): string {
  // A figure is not parted from its sign at the end of a line.
  const percent = (share: number) => `${Math.round(share * 100)}\u00a0%`
  const named = parts.filter((part) => part.share >= LEAST_SHARE)
  const rest = parts.filter((part) => part.share < LEAST_SHARE).reduce((sum, part) => sum + part.share, 0)
  return [...named.map(({ name, share }) => `${name} ${percent(share)}`), ...(rest < 0.005 ? [] : [`others ${percent(rest)}`])].join(', ')
}

/** One thing that the owner let pass at a gate. @example passLine({ onDay: '2026-11-24', what: 'right web at 0.094', reason: 'no other web', customerToldOn: null }) // 'Let pass by the owner of the shop on 24 November 2026: right web at 0.094. Why: no other web. The customer has not been told.' */
export function passLine(pass: CertificateData['passes'][number]): string {
  const told =
    pass.customerToldOn === null
      ? 'The customer has not been told.'
      : `The customer was told ${pass.customerToldOn === pass.onDay ? 'that day' : `on ${dayInWords(pass.customerToldOn)}`}.`
  const measured = pass.measuredBy ? ` Measured by ${pass.measuredBy}.` : ''
  return `Let pass by the owner of the shop on ${dayInWords(pass.onDay)}: ${stopped(pass.what)} Why: ${stopped(pass.reason)}${measured} ${told}`
}

function stopped(text: string): string {
  return /[.?…]$/.test(text.trim()) ? text.trim() : `${text.trim()}.`
}
