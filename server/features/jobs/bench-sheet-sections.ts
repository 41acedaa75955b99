import type { Hazard } from '#core/cautions.ts'
import type { Cycle } from '#core/certificate-texts.ts'
import type { WayOfHolding } from '#core/crank-shape.ts'
import { HELD_WORDS } from '#core/held-words.ts'
import { actWord, type JobKind, PATHS, type Step } from '#core/steps.ts'
import type { SheetName } from '#server/plugins/paper.ts'

export interface Window {
  minMm?: number
  maxMm?: number
}

/** What the sheet for a bench without the book has to know of a job. Lengths mm. */
export interface BenchSheetData {
  sheet: SheetName
  shop: string
  /** YYYY-MM-DD in the shop's zone. */
  printedOn: string
  tag: string
  crank: string
  kind: JobKind
  cycle: Cycle
  promisedOn?: string
  /** What was asked for and what the hand should know, a clause each. */
  remarks: string[]
  held: WayOfHolding
  left: { dialMm: number; says: string; limitMm?: number }
  right: { dialMm: number; says: string; limitMm?: number }
  width?: Window
  clearance?: Window
  play?: Window
  fit?: Window
  shopFloorMm?: number
  scrapFloorMm?: number
  /** The kit that is set aside for it. */
  kit?: string
  welded: boolean
}

export interface BoxRow {
  what: string
  end?: 'left' | 'right'
  /** What the figures have to lie in. */
  window?: string
  boxes: string[]
}

export interface SheetSection {
  title: string
  hazards: Hazard[]
  say: string[]
  rows: BoxRow[]
  /** Empty lines of the truing log, before the rows. */
  moves?: number
}

const ROUND = ['12', '3', '6', '9', '12 again']
const PLACES = ['12', '3', '6', '9']

/** The sections of the sheet in the order of the work, for the kind of job that it is. */
export function benchSections(data: BenchSheetData): SheetSection[] {
  const path = PATHS[data.kind]
  const title = (step: Step) => actWord(data.kind, path[path.indexOf(step) - 1] ?? 'booked')
  const has = (step: Step) => path.includes(step)
  return [
    received(data, title('measured')),
    ...(has('apart') ? [apart(title('apart')), fitted(data)] : []),
    ...(has('together') ? [together(data, title('together'))] : []),
    ...(data.kind === 'weld-only' ? [weld()] : []),
    ...(has('trued') ? [trued(data, title('trued'))] : []),
    second(data, title('signed')),
  ]
}

function received(data: BenchSheetData, title: string): SheetSection {
  return {
    title,
    hazards: ['solvent'],
    say: [
      `Held ${HELD_WORDS[data.held]}. Marks clockwise seen from the right-hand end, the same for both dials; 12 again has to repeat within 0.005 or half a division.`,
    ],
    rows: [
      { what: 'Width over webs', window: words(data.width), boxes: PLACES },
      ...ends(data),
      { what: 'Side clearance and play', window: clearanceAndPlay(data), boxes: ['left', 'right', 'up and down', 'part, °C', 'dial no.'] },
    ],
  }
}

function apart(title: string): SheetSection {
  return {
    title,
    hazards: ['press', 'drop'],
    say: ['Only after a yes to the price.'],
    rows: [
      { what: 'Peak of the gauge, t', boxes: ['left', 'right'] },
      { what: 'Bores under a lens: torn metal, cracks', boxes: ['left web', 'right web'] },
      { what: 'Marks on the webs', boxes: ['left web', 'right web'] },
    ],
  }
}

function fitted(data: BenchSheetData): SheetSection {
  const floors = [
    data.shopFloorMm === undefined ? '' : `our floor ${data.shopFloorMm.toFixed(3)}`,
    data.scrapFloorMm === undefined ? '' : `scrap floor ${data.scrapFloorMm.toFixed(3)}`,
  ]
  const limits = [data.fit ? `fit ${words(data.fit, 3)}` : '', ...floors].filter(Boolean).join(' · ')
  return {
    title: 'to measure the fit',
    hazards: ['solvent'],
    say: [
      `The new kit’s own pin, two ways across at each end; each bore at two depths.${limits ? ` ${sentence(limits)}` : ''} Under the scrap floor: stop.`,
    ],
    rows: [
      { what: 'Pin', boxes: ['left end, 12', 'left end, 3', 'right end, 12', 'right end, 3'] },
      { what: 'Bore of left web', boxes: ['outer, 12', 'outer, 3', 'inner, 12', 'inner, 3'] },
      { what: 'Bore of right web', boxes: ['outer, 12', 'outer, 3', 'inner, 12', 'inner, 3'] },
      { what: 'Fit: least pin less greatest bore', boxes: ['left', 'right'] },
    ],
  }
}

function together(data: BenchSheetData, title: string): SheetSection {
  const say = ['Out of the press after the first few millimetres: curl or hairs in the bore, stop.']
  if (data.cycle === '4T') say.push('Oil hole of the pin in line with the drilling in the web, wholly open.')
  return {
    title,
    hazards: ['press', 'hot'],
    say,
    rows: [
      { what: 'Rod kit', boxes: [data.kit ? `lot (${data.kit})` : 'maker, part, lot', 'oil or paste on the pin'] },
      { what: 'Peak of the gauge, t', boxes: ['left', 'right', ...(data.cycle === '4T' ? ['oil hole open'] : [])] },
      { what: 'Width over webs', window: words(data.width), boxes: PLACES },
      { what: 'Side clearance', window: words(data.clearance), boxes: ['left', 'right'] },
    ],
  }
}

function weld(): SheetSection {
  return {
    title: 'to weld',
    hazards: ['weld', 'hot'],
    say: ['True first. Afterwards read both ends again, cold, and say on the sheet that it is welded.'],
    rows: [{ what: 'Weld', boxes: ['filler', 'current, A', 'tacks'] }],
  }
}

function trued(data: BenchSheetData, title: string): SheetSection {
  return {
    title,
    hazards: ['hammer', 'lathe'],
    say: ['One move a line: what was done, on which half, at which mark; then read again.'],
    moves: 7,
    rows: [
      {
        what: 'After the last blow, wedge or squeeze',
        window: [words(data.width), words(data.clearance)].filter(Boolean).join(' · '),
        boxes: ['width, 12', 'width, 3', 'width, 6', 'width, 9', 'clear. left', 'clear. right'],
      },
    ],
  }
}

function second(data: BenchSheetData, title: string): SheetSection {
  return {
    title,
    hazards: [],
    say: ['Another person, a fresh set-up, cold, with the first figures covered.'],
    rows: [
      ...ends(data),
      { what: 'Width over webs', window: words(data.width), boxes: PLACES },
      { what: 'Side clearance, rod falls freely', window: words(data.clearance), boxes: ['left', 'right', 'rod falls'] },
      { what: 'Who, when', boxes: ['name', 'day and time', 'dial no.', 'part, °C'] },
    ],
  }
}

function ends(data: BenchSheetData): BoxRow[] {
  return (['left', 'right'] as const).map((end) => {
    const { dialMm, says, limitMm } = data[end]
    const place = `${Math.abs(dialMm)} mm ${dialMm < 0 ? 'in' : 'out'}, ${says}`
    return {
      what: end === 'left' ? 'Left end' : 'Right end',
      end,
      window: limitMm === undefined ? place : `${place}; full swing up to ${limitMm.toFixed(3)}`,
      boxes: ROUND,
    }
  })
}

function clearanceAndPlay(data: BenchSheetData): string {
  return [data.clearance ? words(data.clearance) : '', data.play ? `play ${words(data.play)}` : ''].filter(Boolean).join(' · ')
}

function words(window: Window | undefined, decimals = 2): string {
  const { minMm, maxMm } = window ?? {}
  if (minMm !== undefined && maxMm !== undefined) return `${minMm.toFixed(decimals)} – ${maxMm.toFixed(decimals)}`
  if (maxMm !== undefined) return `up to ${maxMm.toFixed(decimals)}`
  return minMm === undefined ? '' : `from ${minMm.toFixed(decimals)}`
}

function sentence(text: string): string {
  return `${text.charAt(0).toUpperCase()}${text.slice(1)}.`
}
