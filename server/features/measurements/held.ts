import type { JobRecord } from '#core/bench/job-record.ts'
import type { EngineSheet } from '#core/bench/limits-at-dial.ts'
import type { CrankBuild, Joint } from '#core/crank-build.ts'
import type { GuardRule } from '#core/runout-verdict.ts'
import type { JobKind, JobState } from '#core/steps.ts'
import type { KitOfJob } from '#server/features/kits/store.ts'
import type { KeptPressing, KeptWeld } from '#server/features/pressings/store.ts'
import type { KeptReadings } from '#server/features/readings/store.ts'
import type { KeptMove } from '#server/features/truing/store.ts'

/** Everything that the bench knows of one job: as the gates ask for it, and as the wire shows it when nothing is hidden. */
export interface JobBench {
  id: string
  tag: string
  kind: JobKind
  state: JobState
  crankId: string
  engineId: string
  sheet: EngineSheet
  /** Time zone of the shop. */
  zone: string
  /** By which rule an end is within its limit. */
  guardRule: GuardRule
  record: JobRecord
  sets: KeptReadings[]
  pressings: KeptPressing[]
  welds: KeptWeld[]
  moves: KeptMove[]
  /** The one for all throws. */
  kit: KitOfJob | null
  /** Those of single throws. */
  kits: Partial<Record<Joint, KitOfJob>>
  /** How the crank is put together; null: one throw with one rod. */
  build: CrankBuild | null
  /** The last look at the parts between the webs. */
  trapped: { ticked: string[]; at: string; by: string } | null
  /** When the present stretch of truing began: the last time it was called together, or else pressed apart, or else booked. */
  truingSince: string
  /** Passes given since the last step back. */
  passes: { code: string; joint?: Joint | undefined; reason: string; at: string }[]
  /** When it was signed, given back or scrapped: what was read before that may still come in. Null while it is worked on. */
  shutAt: string | null
  /** Where it stood before it was given back or scrapped; null where it was not. */
  endedFrom: JobState | null
}
