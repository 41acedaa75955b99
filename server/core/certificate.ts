import type { PlacedLimit } from '#core/bench/limit-words.ts'
import type { CrankEnd, CrankThrow, WayOfHolding } from '#core/crank-shape.ts'
import type { GuardRule } from '#core/runout-verdict.ts'

/** A figure in mm and the step of the instrument that read it. */
export interface Figure {
  mm: number
  stepMm: number
}

/** A figure, or why there is none; either prints, the second as a dash with its reason beside. */
export type Figured = Figure | { notRead: string }

export const CERTIFICATE_VERDICTS = [
  'within',
  'in-the-doubt-band',
  'over',
  'over-ours-inside-makers',
  'over-ours-doubtful-by-makers',
  'under',
  'no-limit',
  'not-read',
] as const
export type CertificateVerdict = (typeof CERTIFICATE_VERDICTS)[number]

export type Whose = 'ours' | 'makers'

/** One end: the full swing of the dial in one turn. */
export interface RunoutRow {
  asReceived?: Figured
  final: Figured
  /** Of the final figure, k = 2; there where it was read. */
  giveOrTakeMm?: number
  /** Our limit for the place where the dial stood; absent where none was asked for. */
  houseLimitMm?: number
  /** The same as it was given, where that is another place than the dial's. */
  houseLimitGiven?: PlacedLimit
  /** The maker's, with the place it names and whether that is where the dial stood; as given, where it was carried there. */
  makerLimit?: { mm: number; place: string; samePlace: boolean; given?: PlacedLimit }
  verdict: CertificateVerdict
}

/** A figure that has to lie in a window, or under a limit where minMm is absent. */
export interface WindowRow {
  asReceived?: Figured
  final?: Figured
  giveOrTakeMm?: number
  allowed?: { minMm?: number; maxMm: number; whose: Whose }
  verdict: CertificateVerdict
}

/** Width over webs, read at 12, 3, 6 and 9 o'clock from the pin. */
export interface WidthRow extends Omit<WindowRow, 'final'> {
  final?: { placesMm: number[]; stepMm: number } | { notRead: string }
}

/** Somebody's own sign-in at the shop's own clock: YYYY-MM-DD and HH:MM in the shop's zone. */
export interface Stamp {
  by: string
  onDay: string
  at: string
}

/** Both ends read once more, from a fresh set-up. */
export interface AgainSet extends Stamp {
  left: Figured
  right: Figured
  /** True where the person had read the first set too (a shop of one). */
  samePerson: boolean
  /** The crank was at the temperature of the room. */
  cold: boolean
  temperatureC?: number
}

/** What makes the give-or-take of one end: its factor and the parts of its doubt, greatest first. */
export interface SealedWorth {
  k: number
  parts: { name: string; standardMm: number; share: number }[]
}

export interface SealedEnd extends CrankEnd {
  /** What the dial stood on, as the engine's sheet says it: "taper 1:5, keyway skipped". */
  says: string
}

/** One joint of a crank with several throws. */
export interface SealedJoint {
  /** As it is said: "Throw 1", "Centre 1–2". */
  name: string
  webMarks?: { left: string; right: string }
  /** The kit in it, where it has one of its own. */
  kit?: NonNullable<CertificateData['kit']>
  fit?: { left: Figured; right: Figured }
  pressing?: NonNullable<CertificateData['pressing']>
}

/** One throw with the rows that a crank with one throw has above. */
export interface SealedThrow extends SealedJoint {
  width: WidthRow
  sideClearance: WindowRow
  bigEndPlay: WindowRow
  /** What its two shafts swung before it was joined to the others. */
  alone?: { left: Figured; right: Figured }
}

/** Where a throw stands from throw 1, degrees. */
export interface PhaseRow {
  name: string
  asReceivedDeg?: number
  final: { deg: number } | { notRead: string }
  nominalDeg: number
  limitDeg: number
  giveOrTakeDeg: number
  verdict: CertificateVerdict
}

/**
 * Everything that a certificate says, sealed as it stands. It names no customer: tag, engine number and web marks name the
 * crank. What befalls the sheet later (replaced, void) is not in it and does not touch its seal. Dates YYYY-MM-DD, lengths mm.
 */
export interface CertificateData {
  /**
   * Sheets of form 1 have no `worth`: their give-or-take came from a table, and they are read as they were sealed. Form 3 is
   * of a crank with several throws: width, side clearance and play are those of each throw.
   */
  form: 'throwbook-certificate-1' | 'throwbook-certificate-2' | 'throwbook-certificate-3'
  number: string
  heading: 'certificate' | 'report'
  measuredOn: string
  issuedOn: string
  shop: { name: string; address: string }
  crank: {
    maker: string
    code: string
    cycle: '2T' | '4T'
    engineNumber?: string
    tag: string
    /** As punched on each web. */
    webMarks?: { left: string; right: string }
    welded: boolean
  }
  hours: { value: number; how: 'metered' | 'declared' } | { how: 'unknown' }
  /** How often each web has been pressed together, this job included; absent where the crank was not pressed on this job. */
  pressings?: { left?: number; right?: number }
  /** null where no kit was fitted. */
  kit: { maker?: string; model: string; lot: string; from: 'ours' | 'theirs' } | null
  fit?: { left: Figured; right: Figured }
  pressing?: { leftTonnes?: number; rightTonnes?: number; lubricant?: string }
  /** What else was done or seen, a clause each. */
  also: string[]
  passes: { onDay: string; what: string; reason: string; measuredBy?: string; customerToldOn: string | null }[]
  notRead: { what: string; why: string }[]
  setup: { held: WayOfHolding; left: SealedEnd; right: SealedEnd; temperatureC?: number }
  /** What the drawing needs of the engine's sheet; absent where the sheet lacks it, and then nothing is drawn. */
  shape?: { strokeMm: number; throws: CrankThrow[]; rimRadiusMm?: number }
  left: RunoutRow
  right: RunoutRow
  /** The budget behind the give-or-take of both ends, the rule of the verdicts, and that rule in words as it was sealed. */
  worth?: { coverage: number; rule: GuardRule; statement: string; warm: boolean; left?: SealedWorth; right?: SealedWorth }
  /** Width, side clearance and play: of a crank with one throw. */
  width?: WidthRow
  sideClearance?: WindowRow
  bigEndPlay?: WindowRow
  /** How a crank with several throws is made up, by the sheet of its engine. */
  build?: { phaseDeg: number[]; centre: 'pressed' | 'integral'; trapped: string[] }
  throws?: SealedThrow[]
  /** The pressed shafts between the throws. */
  centres?: SealedJoint[]
  /** Full swing of the dial between the throws. */
  middle?: ({ name: string } & WindowRow)[]
  phase?: PhaseRow[]
  /** Further places, said in words. */
  further: ({ what: string } & WindowRow)[]
  again?: AgainSet
  third?: AgainSet
  instruments: { name: string; checkedOn: string | null; overdue: boolean }[]
  built: Stamp[]
  signed: Stamp
  notDone: string[]
  /** For whoever fits it, and for its first hours; one text or two. */
  fitting: string
  runningIn?: string
  promise: string
  /** The sheet that this one replaces, and why. */
  replaces?: { number: string; reason: string }
  /** Where the sheet can be looked up; its QR. */
  pageUrl: string
  checkCode: string
  /** Head of the book's chain of changes when the sheet was issued. */
  bookHead?: string
}

/** What befell a sheet after it was sealed. */
export interface CertificateStanding {
  replacedBy?: { number: string; onDay: string }
  void?: { onDay: string; reason: string }
}

/** Whether a figure was read. */
export function wasRead<Read extends object>(figured: Read | { notRead: string } | undefined): figured is Read {
  return figured !== undefined && !('notRead' in figured)
}
