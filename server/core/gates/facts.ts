import type { Joint } from '#core/crank-build.ts'
import type { Side } from '#core/runout-verdict.ts'
import type { JobKind, WhyNow } from '#core/steps.ts'

/**
 * What the gates ask of a job, as plain values. A store assembles them from what was measured and kept: always the newest
 * that is not struck out. Lengths in mm, loads in tonnes, instants RFC 3339 in UTC. Every "at" is when the thing was done
 * at the bench, also where a corrected line was written later.
 */

/** A figure that was taken, and when. */
export interface Taken<Value> {
  read: true
  takenAt: string
  value: Value
}

/** A figure that somebody decided not to take, and why: the clause that follows "not read, because". */
export interface NotRead {
  read: false
  because: string
}

/** Taken, deliberately not taken, or (null) not there yet. */
export type Figure<Value> = Taken<Value> | NotRead | null

export const WIDTH_PLACES = [0, 90, 180, 270] as const
export type WidthPlace = (typeof WIDTH_PLACES)[number]

/** Width over webs by place, degrees from the pin. A place not read is not in it. */
export type WidthPlaces = Partial<Readonly<Record<WidthPlace, number>>>

/** A window that a figure has to stand in, both ends of it included. */
export interface Window {
  minMm: number
  maxMm: number
}

/** One end of the crank as last read for true. */
export interface EndSwing {
  tirMm: number
  /** The dial stood where, and the crank lay as, the limit says (isAtStatedPlace). */
  atStatedPlace: boolean
  /** The crank was at the temperature of the room. */
  cold: boolean
}

/** The fit of one web, as the sum of fits answers it. */
export interface PinFit {
  interferenceMm: number
  verdict: 'go' | 'below-shop-floor' | 'stop'
  /** The pin measured is the one of the new kit, not the old one that came out. */
  pinIsOfKit: boolean
}

export interface EndLimits {
  houseMm: number
  /** null where the maker gives none that can be compared at the place of the limit of the house. */
  makerMm: number | null
}

/** What the customer, or somebody in the customer’s name, agreed to. */
export interface QuoteYes {
  version: number
  by: string
  /** By link, at the counter, by phone: in the words of the book. */
  how: string
}

export interface Parting {
  at: string
  peakTonnes: Readonly<Record<Side, Figure<number>>>
  /** What a look at both bores showed; null while nobody has looked. After another half is put in: the look at that one. */
  look: { galling: boolean; crack: boolean } | null
  webMarks: string | null
}

/** The second reading, at the places of the first; readings at other places are not handed over. */
export interface SecondSet {
  takenAt: string
  byAnotherPerson: boolean
  /** The first reading stayed hidden until this set was in. */
  firstHidden: boolean
  tirMm: Readonly<Record<Side, Figure<number>>>
}

/** A third set, by either of the two persons, taken where the first two disagree. */
export interface ThirdSet {
  takenAt: string
  tirMm: Readonly<Record<Side, Figure<number>>>
}

/** What the gates ask of a crank with several throws beside the whole. Angles in degrees, lengths mm. */
export interface SeveralFacts {
  /** Each throw as if it were a crank of its own. */
  throws: readonly { joint: Joint; facts: JobFacts }[]
  /** Each pressed shaft between two throws. */
  centres: readonly { joint: Joint; parting: Parting | null }[]
  /** Where the throws after the first stand from it. */
  phase: readonly { joint: Joint; nominalDeg: number; read: Figure<number> }[]
  phaseLimitDeg: number
  /** Full swing of the dial between the throws. */
  middle: readonly { joint: Joint; read: Figure<number> }[]
  centreLimitMm: number
  /** Parts that sit between the webs and that nobody has ticked as in since it was last parted. */
  trappedLeft: readonly string[]
  /** When the newest of the readings of its joints was taken. */
  readAt: string | null
}

export interface JobFacts {
  kind: JobKind
  whyNow: WhyNow
  received: {
    width: Figure<WidthPlaces>
    /** Full swing of the dial as it came in. */
    runout: Readonly<Record<Side, Figure<number>>>
    bigEndPlay: Figure<number>
  }
  quote: { version: number; yes: QuoteYes | null } | null
  /** The last time it was pressed apart. */
  parting: Parting | null
  kitLot: string | null
  fit: Readonly<Record<Side, Figure<PinFit>>>
  fitFloors: { shopMm: number; scrapMm: number }
  /** none: this pin has no oil hole. null: nobody has looked. */
  oilHole: 'open' | 'masked' | 'none' | null
  /** The crank as it stands: its newest readings since those as received. */
  asItStands: {
    width: Figure<WidthPlaces>
    sideClearance: Figure<number>
    runout: Readonly<Record<Side, Figure<EndSwing>>>
  }
  /** null where the sheet of the engine has none. */
  windows: { width: Window | null; sideClearance: Window | null }
  limits: Readonly<Record<Side, EndLimits | null>>
  lastPressingAt: string | null
  /** The last blow, wedge or squeeze. */
  lastMoveAt: string | null
  weldedAt: string | null
  secondSet: SecondSet | null
  thirdSet: ThirdSet | null
  /** Of one full swing of the dial at each end. */
  giveOrTakeMm: Readonly<Record<Side, number>>
  /** Names of the instruments used on this job whose check is overdue. */
  overdueInstruments: readonly string[]
  /** What is in doubt of those used on this job, said: `dial 4 was dropped`. */
  doubtedInstruments: readonly string[]
  /** The standing certificate, or for a report the Report of runout; not one that is void or replaced. */
  certificate: { madeAt: string } | null
  boxListChecked: boolean
  paid: boolean
  /** Why the owner lets it go unpaid, in the owner’s own words. */
  ownersWord: string | null
  settings: { samePersonMayCheck: boolean }
  /** Absent where the crank has one throw. */
  several?: SeveralFacts
}
