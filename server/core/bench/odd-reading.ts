import type { EngineSheet } from '#core/bench/limits-at-dial.ts'
import { type Slip, slipBehind } from '#core/bench/odd-figure-slip.ts'
import type { ReadingPhase } from '#core/bench/reading-set.ts'
import { warmPart } from '#core/bench/warm-part.ts'
import { BINARY_DUST_MM } from '#core/limits.ts'
import { median } from '#core/numeric/median.ts'
import { oddOneOut } from '#core/odd-one-out.ts'
import { lengthAt20C } from '#core/units.ts'
import type { Window } from '#core/width.ts'

export const ODD_KINDS = ['width', 'pin', 'bore'] as const
export type OddKind = (typeof ODD_KINDS)[number]

export const ODD_CODES = ['not-by-the-sheet', 'not-like-the-tap-before', 'not-like-the-others', 'not-like-ours', 'warm'] as const
export type OddCode = (typeof ODD_CODES)[number]

/** One thing about a set that is worth a second look. Lengths mm. */
export interface OddReading {
  code: OddCode
  /** Where, by the list of places; absent where it is about the whole set. */
  place?: string
  /** What it would be without the slip that explains it. */
  likelyMm?: number
  /** How many of ours it is compared with, and their middle. */
  count?: number
  medianMm?: number
  /** By how much a warm part reads wide. */
  wideMm?: number
  says: string
}

export interface OddAsked {
  kind: OddKind
  phase: ReadingPhase
  values: readonly { place: string; mm: number }[]
  temperatureC: number | null
  sheet: EngineSheet
  /** Middles at 20 °C of what the same kind of set came to on our last cranks of this engine. */
  oursMm: readonly number[]
  /** The width after the tap before, while it is pressed; null where there was none. */
  beforeMm: number | null
}

/** How far from the window of the sheet a figure may lie before it is asked about. Common practice, no source. */
const REACH_MM: Readonly<Record<OddKind, number>> = { width: 0.3, pin: 0.2, bore: 0.2 }
/** How far one place of a set may lie from the middle of the other places. Common practice, no source. */
const APART_MM: Readonly<Record<OddKind, number>> = { width: 0.3, pin: 0.1, bore: 0.1 }
/** A tap moves some hundredths, and nothing widens under the ram but by the doubt of the micrometer. Common practice, no source. */
const TAP: { mostMm: number; backMm: number } = { mostMm: 0.4, backMm: 0.1 }
/** From so many of our own on a history says something. */
const OURS_LEAST = 5
/** Ours may lie within a hundredth of each other; under this nothing is called unlike them. Common practice, no source. */
const UNLIKE_LEAST_MM = 0.05

/**
 * What of a set of widths, pin or bore readings looks mistyped or odd: against the window of the sheet (or its pin Ø) with
 * the slip of the hand that explains it, against the tap before, against the other places of the set, against our own last
 * ones of this engine by their median, and read warm. Nothing is refused by it: it is asked about, and said with the set.
 *
 * @example oddReadings({ kind: 'width', phase: 'received', values: [{ place: '0', mm: 6.4 }], temperatureC: null, sheet: { widthMinMm: 63.95, widthMaxMm: 64.05 }, oursMm: [], beforeMm: null })[0].likelyMm // 64
 *
 * Lengths mm. A history of fewer than five says nothing. While a crank is pressed its width is wide of the window for good
 * reason, and only what is under it or leaves the row of taps is odd.
 * Source: odd-one-out as `oddOneOut`; the reaches common practice, no source.
 */
export function oddReadings(asked: OddAsked): OddReading[] {
  const found = asked.values.flatMap((value) => oddValue(asked, value) ?? [])
  const ours = found.length === 0 ? unlikeOurs(asked) : null
  const warm = warmSet(asked)
  return [...found, ...(ours === null ? [] : [ours]), ...(warm === null ? [] : [warm])]
}

/** What the sheet says of such a figure; null where it says nothing. */
function bySheet({ kind, sheet }: OddAsked): Window | null {
  const { widthMinMm, widthMaxMm, pinDiameterMm } = sheet
  if (kind === 'width') return widthMinMm === undefined || widthMaxMm === undefined ? null : { minMm: widthMinMm, maxMm: widthMaxMm }
  return pinDiameterMm === undefined ? null : { minMm: pinDiameterMm, maxMm: pinDiameterMm }
}

function oddValue(asked: OddAsked, value: { place: string; mm: number }): OddReading | null {
  const { kind, phase, beforeMm } = asked
  const { place, mm } = value
  const sheet = bySheet(asked)
  const reach = REACH_MM[kind]
  const isPressing = kind === 'width' && phase === 'building'
  if (sheet !== null) {
    const isUnder = mm < sheet.minMm - reach - BINARY_DUST_MM
    // On the way it is as wide as the pin still stands out.
    const isOver = mm > sheet.maxMm + (isPressing ? (asked.sheet.engagementMm ?? 25) : reach) + BINARY_DUST_MM
    if (isUnder || isOver) {
      const slip = slipBehind(mm, { minMm: sheet.minMm - reach, maxMm: sheet.maxMm + reach })
      return odd('not-by-the-sheet', place, mm, `The sheet says ${windowWords(sheet)}.`, slip)
    }
  }
  if (isPressing && beforeMm !== null && (mm > beforeMm + TAP.backMm || mm < beforeMm - TAP.mostMm)) {
    const slip = slipBehind(mm, { minMm: beforeMm - TAP.backMm, maxMm: beforeMm + TAP.backMm })
    return odd('not-like-the-tap-before', place, mm, `The tap before left it at ${plain(beforeMm)}.`, slip)
  }
  return unlikeTheOthers(asked, value)
}

/** Of three or more places one that leaves the rest, which a sheet of no figures lets pass. */
function unlikeTheOthers({ kind, values }: OddAsked, { place, mm }: { place: string; mm: number }): OddReading | null {
  const others = values.filter((one) => one.place !== place && sameThing(kind, one.place, place)).map((one) => one.mm)
  if (others.length < 2) return null
  const middle = median(others)
  const apart = APART_MM[kind]
  if (Math.abs(mm - middle) <= apart + BINARY_DUST_MM || Math.max(...others) - Math.min(...others) > apart) return null
  const slip = slipBehind(mm, { minMm: middle - apart, maxMm: middle + apart })
  return odd('not-like-the-others', place, mm, `The other places read about ${plain(middle)}.`, slip)
}

/** The bores of two webs are two things; the ends of a pin, and a width all round, are one. */
function sameThing(kind: OddKind, one: string, other: string): boolean {
  return kind !== 'bore' || one.split('-')[0] === other.split('-')[0]
}

const SLIP_WORDS: Readonly<Record<Slip['kind'], string>> = {
  decimal: 'With the mark moved it is',
  'half-turn': 'One turn of the thimble, half a millimetre, makes it',
  frame: 'One frame of the micrometer, 25 mm, makes it',
  inch: 'Read as inches it is',
}

function odd(code: OddCode, place: string, mm: number, against: string, slip: Slip | null): OddReading {
  const question = `Is it really ${bare(mm)}? ${against}`
  if (slip === null) return { code, place, says: question }
  return { code, place, likelyMm: slip.mm, says: `${question} ${SLIP_WORDS[slip.kind]} ${plain(slip.mm)}.` }
}

/** The middle of a width set at 20 °C; null where the set is another kind, or a tap read at one place. */
export function middleAt20C({ kind, values, temperatureC }: Pick<OddAsked, 'kind' | 'values' | 'temperatureC'>): number | null {
  if (kind !== 'width' || values.length < 2) return null
  const middle = values.reduce((sum, one) => sum + one.mm, 0) / values.length
  return lengthAt20C(middle, temperatureC ?? 20)
}

function unlikeOurs(asked: OddAsked): OddReading | null {
  const { oursMm } = asked
  const middle = middleAt20C(asked)
  if (middle === null || oursMm.length < OURS_LEAST) return null
  const medianMm = median(oursMm)
  if (Math.abs(middle - medianMm) <= UNLIKE_LEAST_MM + BINARY_DUST_MM) return null
  const judged = oddOneOut({ values: oursMm, candidate: middle })
  // Where more than half of ours are one figure there is no spread to score by: then what is away by more than the least is odd.
  if (judged.ok && Math.abs(judged.value.candidateScore ?? 0) <= 3.5) return null
  const says = `Is it really ${plain(Number(middle.toFixed(3)))} on the mean? The last ${oursMm.length} of this engine here had their middle at ${plain(Number(medianMm.toFixed(3)))}.`
  return { code: 'not-like-ours', count: oursMm.length, medianMm, says }
}

function warmSet({ kind, values, temperatureC }: OddAsked): OddReading | null {
  if (kind !== 'width' || temperatureC === null || values.length === 0) return null
  const warm = warmPart(values.reduce((sum, one) => sum + one.mm, 0) / values.length, temperatureC)
  if (warm === null) return null
  const [how, reads] = warm.awayK > 0 ? ['warm', 'wide'] : ['cold', 'narrow']
  const away = bare(Number(Math.abs(warm.awayK).toFixed(1)))
  return {
    code: 'warm',
    wideMm: warm.wideMm,
    says: `Read ${how}: ${away} K from 20 °C it reads ${bare(Number(Math.abs(warm.wideMm).toFixed(3)))} ${reads}. Never measure a width warm; let it come to the room.`,
  }
}

function windowWords({ minMm, maxMm }: Window): string {
  return minMm === maxMm ? `about ${plain(minMm)}` : `${plain(minMm)} to ${plain(maxMm)}`
}

/** A figure as a sheet writes it: two places, and more where it has them. */
function plain(value: number): string {
  const short = bare(value)
  return (short.split('.')[1]?.length ?? 0) >= 2 ? short : value.toFixed(2)
}

/** A figure as it was keyed, without a binary tail. */
function bare(value: number): string {
  return String(Number(value.toFixed(5)))
}
