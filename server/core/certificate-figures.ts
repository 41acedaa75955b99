import {
  type CertificateData,
  type CertificateVerdict,
  type Figure,
  type Figured,
  type PhaseRow,
  type RunoutRow,
  type WidthRow,
  type WindowRow,
  wasRead,
} from '#core/certificate.ts'
import { type FlatteringSide, type LengthUnit, printedFigure } from '#core/units.ts'

/** What stands where there is no figure. */
export const DASH = '–'

export const VERDICT_WORDS: Readonly<Record<CertificateVerdict, string>> = {
  within: 'within',
  'in-the-doubt-band': 'in the doubt band',
  over: 'over',
  'over-ours-inside-makers': 'over ours, inside the maker’s',
  'over-ours-doubtful-by-makers': 'over ours, in the doubt band of the maker’s',
  under: 'under',
  'no-limit': DASH,
  'not-read': DASH,
}

/** Verdicts that a sheet marks as past a limit. */
export function isPast(verdict: CertificateVerdict): boolean {
  return verdict === 'under' || verdict.startsWith('over')
}

/** One line of the table of a certificate, as it prints. */
export interface CertificateLine {
  end?: 'left' | 'right'
  what: string
  /** Smaller under it: what the dial stood on, the places of a width, the maker's limit, why a figure is missing. */
  notes: string[]
  asReceived: string
  nowMm: string
  thou: string
  giveOrTake: string
  allowed: string
  whose: string
  verdict: string
  past: boolean
}

/**
 * A length as it prints: in mm or thou, rounded away from the side that flatters the shop, no digit finer than the
 * instrument, and never as nothing at all.
 *
 * @example figureText({ mm: 0.0117, stepMm: 0.001 }, 'mm', 'low') // '0.012'
 * @example figureText({ mm: 0.0117, stepMm: 0.001 }, 'thou', 'low') // '0.5'
 * @example figureText({ mm: 0, stepMm: 0.001 }, 'mm', 'low') // 'under 0.001'
 *
 * Refuses (RangeError) what printedFigure refuses. Common practice, no source.
 */
export function figureText(figure: Figure, unit: LengthUnit, flattering: FlatteringSide): string {
  const { value, decimals } = printedFigure({ ...figure, unit, flattering })
  return value === 0 ? `under ${(10 ** -decimals).toFixed(decimals)}` : value.toFixed(decimals)
}

/**
 * A limit as it prints: all the digits it was set with, and at least those of the figures beside it.
 *
 * @example limitText(0.02, 0.001) // '0.020'
 * @example limitText(0.012, 0.01) // '0.012'
 */
export function limitText(mm: number, stepMm: number): string {
  const { decimals } = printedFigure({ mm, stepMm, unit: 'mm', flattering: 'low' })
  const own = String(Math.round(mm * 1e5) / 1e5).split('.')[1]?.length ?? 0
  return mm.toFixed(Math.max(decimals, own))
}

/**
 * The table of a certificate, line by line, as the paper and the screen print it.
 *
 * @example certificateTable(data).map((line) => [line.what, line.nowMm, line.allowed, line.verdict])[0] // ['Left end, full swing', '0.012', '0.020', 'within']
 */
export function certificateTable(data: CertificateData): CertificateLine[] {
  return [
    runoutLine('left', data.setup.left.says, data.left),
    runoutLine('right', data.setup.right.says, data.right),
    ...throwLines('', data),
    ...(data.throws ?? []).flatMap((one) => throwLines(one.name, one)),
    ...(data.middle ?? []).map((row) => windowLine(`${row.name}, full swing`, row)),
    ...(data.phase ?? []).map(phaseLine),
    ...data.further.map((row) => windowLine(row.what, row)),
  ]
}

/** The rows that every throw has; with the name of the throw where there are several. */
function throwLines(
  name: string,
  { width, sideClearance, bigEndPlay }: Pick<CertificateData, 'width' | 'sideClearance' | 'bigEndPlay'>,
): CertificateLine[] {
  const what = (words: string) => (name === '' ? words : `${name}, ${words.charAt(0).toLowerCase()}${words.slice(1)}`)
  return [
    ...(width === undefined ? [] : [widthLine(what('Width over webs'), width)]),
    ...(sideClearance === undefined ? [] : [windowLine(what('Rod side clearance'), sideClearance)]),
    ...(bigEndPlay === undefined ? [] : [windowLine(what('Big-end play, up and down'), bigEndPlay)]),
  ]
}

function phaseLine(row: PhaseRow): CertificateLine {
  const { nominalDeg, limitDeg, final } = row
  // Away from where it should stand, since an angle nearer to that flatters.
  const text = (deg: number) => {
    const off = deg - nominalDeg
    return `${(nominalDeg + (Math.sign(off) * Math.ceil(Math.abs(off) * 10 - 1e-6)) / 10).toFixed(1)}°`
  }
  return {
    what: `${row.name}, angle from throw 1`,
    notes: 'notRead' in final ? [`not read, because ${final.notRead}`] : [],
    asReceived: row.asReceivedDeg === undefined ? DASH : text(row.asReceivedDeg),
    nowMm: 'notRead' in final ? DASH : text(final.deg),
    thou: '',
    giveOrTake: 'notRead' in final ? DASH : `${row.giveOrTakeDeg}°`,
    allowed: `${Number((nominalDeg - limitDeg).toFixed(2))} – ${Number((nominalDeg + limitDeg).toFixed(2))}°`,
    whose: '',
    verdict: VERDICT_WORDS[row.verdict],
    past: isPast(row.verdict),
  }
}

function runoutLine(end: 'left' | 'right', surface: string, row: RunoutRow): CertificateLine {
  const stepMm = wasRead(row.final) ? row.final.stepMm : 0.001
  const notes = [surface, ...whyNot(row.asReceived, row.final)]
  const text = (mm: number) => limitText(mm, stepMm)
  const { houseLimitMm, houseLimitGiven: given } = row
  if (houseLimitMm !== undefined && given !== undefined)
    notes.push(`we allow ${text(given.limitMm)} ${farWords(given.dialMm)}, which is ${text(houseLimitMm)} here`)
  if (row.makerLimit) notes.push(makerNote(row.makerLimit, text))
  return {
    end,
    what: end === 'left' ? 'Left end, full swing' : 'Right end, full swing',
    notes,
    // A high figure before the work flatters the work.
    asReceived: textOf(row.asReceived, 'high'),
    nowMm: textOf(row.final, 'low'),
    thou: wasRead(row.final) ? figureText(row.final, 'thou', 'low') : DASH,
    giveOrTake: doubtText(row.giveOrTakeMm, stepMm),
    allowed: row.houseLimitMm === undefined ? DASH : limitText(row.houseLimitMm, stepMm),
    whose: row.houseLimitMm === undefined ? '' : 'ours',
    verdict: VERDICT_WORDS[row.verdict],
    past: isPast(row.verdict),
  }
}

function makerNote({ mm, place, samePlace, given }: NonNullable<RunoutRow['makerLimit']>, text: (mm: number) => string): string {
  if (given !== undefined) return `the maker allows ${text(given.limitMm)} ${farWords(given.dialMm)}, which is ${text(mm)} here`
  return `the maker allows ${text(mm)} ${place}${samePlace ? '' : ', another place, not to be compared'}`
}

function farWords(dialMm: number): string {
  return `at ${Number(Math.abs(dialMm).toFixed(2))} mm ${dialMm < 0 ? 'in' : 'out'}`
}

function windowLine(what: string, row: WindowRow): CertificateLine {
  const stepMm = wasRead(row.final) ? row.final.stepMm : 0.01
  const inThou = wasRead(row.final) ? figureText(row.final, 'thou', sideOf(row.final.mm, row)) : DASH
  return {
    what,
    notes: whyNot(row.asReceived, row.final),
    ...windowCells(row, stepMm),
    nowMm: wasRead(row.final) ? figureText(row.final, 'mm', sideOf(row.final.mm, row)) : DASH,
    thou: inThou,
  }
}

function widthLine(what: string, row: WidthRow): CertificateLine {
  if (!wasRead(row.final)) return { what, notes: whyNot(row.asReceived, row.final), ...windowCells(row, 0.01), nowMm: DASH, thou: DASH }
  const { placesMm, stepMm } = row.final
  const worst = furthestOut(placesMm, row)
  const each = placesMm.map((mm) => figureText({ mm, stepMm }, 'mm', sideOf(mm, row))).join(' · ')
  const spread = figureText({ mm: Math.max(...placesMm) - Math.min(...placesMm), stepMm }, 'mm', 'low')
  return {
    what,
    notes: [
      ...whyNot(row.asReceived, undefined),
      placesMm.length === 4 ? `at 12, 3, 6, 9: ${each}, spread ${spread}` : `${each}, spread ${spread}`,
    ],
    ...windowCells(row, stepMm),
    nowMm: figureText({ mm: worst, stepMm }, 'mm', sideOf(worst, row)),
    thou: '',
  }
}

function windowCells(
  row: Omit<WindowRow, 'final'>,
  stepMm: number,
): Pick<CertificateLine, 'asReceived' | 'giveOrTake' | 'allowed' | 'whose' | 'verdict' | 'past'> {
  const { allowed } = row
  const from = allowed?.minMm === undefined ? '' : `${limitText(allowed.minMm, stepMm)} – `
  return {
    asReceived: wasRead(row.asReceived)
      ? figureText(row.asReceived, 'mm', sideOf(row.asReceived.mm, row) === 'low' ? 'high' : 'low')
      : DASH,
    giveOrTake: doubtText(row.giveOrTakeMm, stepMm),
    allowed: allowed ? `${from}${limitText(allowed.maxMm, stepMm)}` : DASH,
    whose: allowed ? (allowed.whose === 'ours' ? 'ours' : 'maker’s') : '',
    verdict: VERDICT_WORDS[row.verdict],
    past: isPast(row.verdict),
  }
}

/** Toward which side an error would flatter a figure in a window: toward its middle. */
function sideOf(mm: number, row: Pick<WindowRow, 'allowed'>): FlatteringSide {
  const { allowed } = row
  if (allowed?.minMm === undefined) return 'low'
  return mm >= (allowed.minMm + allowed.maxMm) / 2 - 1e-9 ? 'low' : 'high'
}

function furthestOut(placesMm: readonly number[], row: Pick<WindowRow, 'allowed'>): number {
  const { allowed } = row
  const middle = allowed?.minMm === undefined ? 0 : (allowed.minMm + allowed.maxMm) / 2
  return placesMm.reduce((worst, mm) => (Math.abs(mm - middle) > Math.abs(worst - middle) + 1e-9 ? mm : worst))
}

function textOf(figured: Figured | undefined, flattering: FlatteringSide): string {
  return wasRead(figured) ? figureText(figured, 'mm', flattering) : DASH
}

function doubtText(giveOrTakeMm: number | undefined, stepMm: number): string {
  return giveOrTakeMm === undefined ? DASH : figureText({ mm: giveOrTakeMm, stepMm }, 'mm', 'low')
}

function whyNot(received: Figured | undefined, final: Figured | undefined): string[] {
  const notes: string[] = []
  if (received && 'notRead' in received) notes.push(`as received not read, because ${received.notRead}`)
  if (final && 'notRead' in final) notes.push(`not read, because ${final.notRead}`)
  return notes
}
