import type { EngineSheet } from '#core/bench/limits-at-dial.ts'
import type { PressingDone } from '#core/bench/parting.ts'
import type { ReadingSet } from '#core/bench/reading-set.ts'
import type { CrankBuild, Joint } from '#core/crank-build.ts'
import type { QuoteYes } from '#core/gates/facts.ts'
import type { JobKind, JobState, WhyNow } from '#core/steps.ts'
import type { TruingAction } from '#core/truing-moves.ts'

/** What the book holds of one job, as plain values, as far as the gates ask. Lengths mm, instants RFC 3339 UTC. */
export interface JobRecord {
  kind: JobKind
  state: JobState
  whyNow: WhyNow
  oilHole: 'open' | 'masked' | 'none' | null
  /** All sets, pressings, moves and welds in the order in which they were written down, struck-out ones too. */
  sets: readonly ReadingSet[]
  pressings: readonly PressingDone[]
  moves: readonly { action: TruingAction; doneAt: string; joint?: Joint }[]
  welds: readonly { doneAt: string }[]
  kitLot: string | null
  /** Lots that are named for one throw alone; the others have the one of the crank. */
  kitLots?: Partial<Readonly<Record<Joint, string>>>
  sheet: EngineSheet
  /** How the crank is put together; absent or null: one throw. */
  build?: CrankBuild | null
  /** The last look at the parts that sit between the webs: those that were in. */
  trapped?: { at: string; ticked: readonly string[] } | null
  /** The last quote, and the last yes that was given, to whichever version. */
  quote: { version: number; yes: QuoteYes | null } | null
  /** Names of the instruments used on this job whose check is overdue. */
  overdueInstruments: readonly string[]
  /** What is in doubt of those used on this job, said: `dial 4 was dropped`. */
  doubtedInstruments: readonly string[]
  certificate: { madeAt: string } | null
  box: { isComplete: boolean; ownersWord: string | null } | null
  paid: boolean
  /** When it stood at the step before signed, now and earlier; until null: it still does. */
  awaitedSecond: readonly { from: string; until: string | null }[]
  settings: { samePersonMayCheck: boolean; scrapFloorFactor: number; houseLimitMm: number }
}
