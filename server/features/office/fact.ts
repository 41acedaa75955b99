/** What the figures of the office need of one job, decided by core from what the book holds of it. */
import type { RunoutFigures } from '#contract/runout-figures.ts'
import { comebackCounts } from '#core/comeback.ts'
import { trueAtFirstCheck } from '#core/readiness.ts'
import type { JobKind } from '#core/steps.ts'

/** Of one job as it stands in the book; days in the zone of the shop. */
export interface AsItStands {
  job_id: string
  number: number
  kind: JobKind
  engine_id: string
  lot_id: string | null
  trued_by: string | null
  booked_on: string
  out_on: string | null
  gone_on: string | null
  /** The first set of runout by the second person that stands. */
  second_on: string | null
  second: RunoutFigures | null
  back_on: string | null
  back_hours: number | null
  cause: string | null
  heard_hours: number | null
  /** The crank is in the house again, or has another kit since. */
  seen_again: boolean
  bench_seconds: number
  price_minor: number | null
  owes_minor: number | null
}

export type Fact = Omit<AsItStands, 'second_on' | 'second' | 'seen_again'> & {
  checked_on: string | null
  first_within: boolean | null
  came_back: boolean
  still_out: boolean
}

export function factOf({ second_on, second, seen_again, ...job }: AsItStands): Fact {
  const { kind, gone_on, back_on, back_hours, lot_id } = job
  const within = second === null || kind === 'check-and-report' ? null : trueAtFirstCheck(second)
  return {
    ...job,
    checked_on: within === null ? null : second_on,
    first_within: within,
    came_back: back_on !== null && comebackCounts({ goneOn: gone_on, day: back_on, hours: back_hours }).counts,
    still_out: gone_on !== null && lot_id !== null && back_on === null && !seen_again,
  }
}
