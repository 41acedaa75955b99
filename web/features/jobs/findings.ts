import type { Bench } from '#contract/bench.ts'
import type { Engine } from '#contract/engines.ts'
import type { Measurement } from '#contract/measurements.ts'
import { hasSeveralThrows } from '#core/crank-build.ts'
import { measuredLines } from '#web/features/jobs/measured-lines.ts'
import { figuresOf, type MeasuredLine, newestOf, stepOf, widthRead } from '#web/features/jobs/measured-places.ts'
import { benchOfWhole } from '#web/lib/bench-at-joint.ts'
import { mm } from '#web/lib/format.ts'

/** Web rim where the sheet is silent: half the stroke and 20 mm, as the drawing and the truing sum take it. */
const BEYOND_THE_THROW_MM = 20

/** How much wider the webs stand opposite the pin by the dials, mm across the rim; undefined where the dials do not tell. */
function widerByDials(bench: Bench, sheet: Engine): number | undefined {
  const sum = newestOf(bench, 'runout')?.runout?.sum
  const { strokeMm, rimRadiusMm } = figuresOf(sheet)
  if (sum === undefined || !('openRad' in sum.faults) || strokeMm === undefined) return undefined
  return sum.faults.openRad * 2 * (rimRadiusMm ?? strokeMm / 2 + BEYOND_THE_THROW_MM)
}

const AGREE_MM = 0.02

/** A blow between the two changes what they say: on the way, only a width taken after the turn is a second witness of it. */
function isOfOneState(width: Measurement, runout: Measurement): boolean {
  return width.phase === runout.phase && (runout.phase === 'received' || width.occurredAt >= runout.occurredAt)
}

function websWords(bench: Bench, sheet: Engine): string | undefined {
  const byDial = widerByDials(bench, sheet)
  const width = widthRead(bench)
  const runout = newestOf(bench, 'runout')
  const bySpan = width !== undefined && runout !== undefined && isOfOneState(width.set, runout) ? width.widerOppositeMm : undefined
  if (byDial === undefined) return undefined
  const said = (wider: number) => `${mm(Math.abs(wider), 0.01)} ${wider > 0 ? 'wider' : 'narrower'} opposite the pin`
  if (bySpan === undefined)
    return Math.abs(byDial) < 0.01 ? 'By the dials the webs stand parallel.' : `By the dials the webs stand ${said(byDial)}.`
  if (Math.abs(byDial - bySpan) <= AGREE_MM) {
    return Math.abs(byDial) < 0.01
      ? 'Dial and micrometer say the same: the webs stand parallel.'
      : `Dial and micrometer say the same: webs ${said(byDial)}.`
  }
  return `The dials say webs ${said(byDial)}, the micrometer ${said(bySpan)}: one of the two wants reading again.`
}

function swingWords(bench: Bench): string | undefined {
  const runout = newestOf(bench, 'runout')
  const sum = runout?.runout?.sum
  // That two ends do not tell which of several joints is out is for the bench to know.
  if (hasSeveralThrows(bench.build ?? null)) return undefined
  if (runout === undefined || sum === undefined) return runout?.runout?.refused
  const step = stepOf(runout)
  if (sum.verdict === 'true') return 'Both ends run within what is allowed.'
  const swing = Math.abs(sum.faults.swingMm)
  const isNothing = swing < step / 2
  const turned = isNothing ? 'No swing to speak of.' : `Swing ${mm(swing, step)} about the pin.`
  if (sum.verdict === 'throw') return `${turned} The halves stand off each other at the pin, which no blow mends.`
  if (sum.verdict === 'cocked') return `${turned} A pin sits cocked, which no blow mends.`
  return turned
}

/** One plain sentence or a few of what was found, for the counter and the customer’s ear. */
export function findings(given: Bench, sheet: Engine): string {
  const lines = measuredLines(given, sheet)
  const bench = benchOfWhole(given)
  // The width as it came in is no fault: it is set anew when the crank is pressed together.
  const said = lines.filter((one) => !one.id.startsWith('width') && !one.id.startsWith('runout') && one.figure !== undefined)
  const past = said.filter((one) => one.past !== undefined).map(pastWords)
  const pin = bench.fit?.ofOldPin ? ['Pin of the new kit: not measured yet.'] : []
  return [websWords(bench, sheet), swingWords(bench), ...past, ...pin].filter((one) => one !== undefined).join(' ')
}

/** `Side clearance of the rod 0.61: over, allowed 0.25 to 0.50.` */
function pastWords(line: MeasuredLine): string {
  const beside = line.allowed === undefined ? '' : line.allowed.endsWith('foretold') ? `, ${line.allowed}` : `, allowed ${line.allowed}`
  return `${line.what} ${line.figure}: ${line.past}${beside}.`
}
