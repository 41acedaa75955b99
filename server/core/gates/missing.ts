import { type Joint, jointWords } from '#core/crank-build.ts'
import { type Figure, type Taken, WIDTH_PLACES, type WidthPlaces } from '#core/gates/facts.ts'

/**
 * Everything that a gate can find missing, and who may let it pass: the owner with a reason, or nobody. The closed list
 * that the wire repeats; a pass names one of these.
 */
const PASS = {
  'width-as-received': 'owner',
  'runout-left-as-received': 'owner',
  'runout-right-as-received': 'owner',
  'big-end-play': 'owner',
  quote: 'owner',
  yes: 'owner',
  'yes-to-the-present-quote': 'owner',
  'yes-by-whom-and-how': 'owner',
  'peak-tonnage-left': 'owner',
  'peak-tonnage-right': 'owner',
  'look-at-bores': 'owner',
  crack: 'never',
  'web-marks': 'owner',
  'kit-lot': 'owner',
  'fit-left': 'owner',
  'fit-right': 'owner',
  'fit-left-older-than-parting': 'owner',
  'fit-right-older-than-parting': 'owner',
  'fit-left-not-of-the-kit-pin': 'owner',
  'fit-right-not-of-the-kit-pin': 'owner',
  'fit-left-below-shop-floor': 'owner',
  'fit-right-below-shop-floor': 'owner',
  'fit-left-under-scrap-floor': 'never',
  'fit-right-under-scrap-floor': 'never',
  'oil-hole': 'owner',
  'oil-hole-masked': 'never',
  width: 'owner',
  'width-older-than-last-move': 'owner',
  'width-window': 'owner',
  'width-out-of-window': 'owner',
  'side-clearance': 'owner',
  'side-clearance-older-than-last-move': 'owner',
  'side-clearance-window': 'owner',
  'side-clearance-out-of-window': 'owner',
  weld: 'owner',
  'trapped-parts': 'owner',
  phase: 'owner',
  'phase-older-than-last-move': 'owner',
  'phase-out-of-limit': 'owner',
  'centre-runout': 'owner',
  'centre-runout-older-than-last-move': 'owner',
  'centre-runout-over': 'owner',
  'runout-left': 'owner',
  'runout-right': 'owner',
  'runout-left-older-than-last-move': 'owner',
  'runout-right-older-than-last-move': 'owner',
  'runout-left-not-cold': 'owner',
  'runout-right-not-cold': 'owner',
  'runout-left-not-at-stated-place': 'owner',
  'runout-right-not-at-stated-place': 'owner',
  'house-limit-left': 'owner',
  'house-limit-right': 'owner',
  'runout-left-over-house': 'owner',
  'runout-right-over-house': 'owner',
  'runout-left-over-house-inside-maker': 'owner',
  'runout-right-over-house-inside-maker': 'owner',
  'second-reading': 'owner',
  'second-reading-left': 'owner',
  'second-reading-right': 'owner',
  'second-reading-by-the-same-person': 'owner',
  'second-reading-saw-the-first': 'owner',
  'second-reading-older-than-last-move': 'owner',
  'second-reading-over-house-left': 'owner',
  'second-reading-over-house-right': 'owner',
  'readings-differ-left': 'owner',
  'readings-differ-right': 'owner',
  'third-set-settles-nothing': 'owner',
  'instrument-overdue': 'owner',
  'instrument-in-doubt': 'owner',
  certificate: 'owner',
  'certificate-older-than-readings': 'owner',
  'box-list': 'owner',
  paid: 'owner',
} as const satisfies Record<string, 'owner' | 'never'>

export type MissingCode = keyof typeof PASS
export const MISSING_CODES = Object.keys(PASS) as readonly MissingCode[]

export interface Missing {
  code: MissingCode
  /** At which joint of a crank with several throws; absent where it is of the whole crank. */
  joint?: Joint
  /** What is missing and, where the hand can do something, what to do: one or two sentences for the bench. */
  detail: string
  pass: 'owner' | 'never'
  /** A pass given before this instant was given for another figure and does not count; null where no figure is concerned. */
  since: string | null
}

/** A missing thing in words; whether it may be let pass is said by its code. @example missing('crack', 'A crack was seen in a web.').pass // 'never' */
export function missing(code: MissingCode, detail: string, since: string | null = null): Missing {
  return { code, detail, pass: PASS[code], since }
}

/** The same at one joint of a crank with several throws, which its words then open with. @example atJoint({ code: 'width', detail: 'The width is not read yet.', pass: 'owner', since: null }, 'throw-2').detail // 'Throw 2: the width is not read yet.' */
export function atJoint(one: Missing, joint: Joint): Missing {
  return { ...one, joint, detail: `${jointWords(joint)}: ${one.detail.charAt(0).toLowerCase()}${one.detail.slice(1)}` }
}

/** Whether a figure was taken, so that it has a value. @example isTaken({ read: false, because: 'it was away' }) // false */
export function isTaken<Value>(figure: Figure<Value>): figure is Taken<Value> {
  return figure?.read === true
}

/** A figure that was not taken, said with its why where somebody gave one. */
export function notTaken(code: MissingCode, what: { name: string; figure: Figure<unknown>; since?: string | null }): Missing {
  const { name, figure, since = null } = what
  const why = figure?.read === false ? `was not read, because ${figure.because}` : 'is not read yet'
  return missing(code, `${name} ${why}.`, since)
}

/** The places of the width that nobody has read. */
export function placesLeft(width: WidthPlaces): number[] {
  return WIDTH_PLACES.filter((place) => width[place] === undefined)
}

/** A length as it stands, without the tail of binary dust. */
export function mm(lengthMm: number): string {
  return String(Number(lengthMm.toFixed(5)))
}

/**
 * A full swing worked out of several readings, for a sentence: thousandths, rounded up, since no dial of the bench tells
 * more and a swing must not read smaller than it is.
 *
 * @example swingMm(0.12166) // '0.122'
 */
export function swingMm(tirMm: number): string {
  const BINARY_DUST = 1e-9
  return (Math.ceil(tirMm * 1000 - BINARY_DUST) / 1000).toFixed(3)
}
