import type { z } from 'zod'
import type { Measurement, strike } from '#contract/measurements.ts'
import type { Kept } from '#web/lib/outbox/post-kept.ts'
import { BY_YOU } from '#web/lib/outbox/shown.ts'
import type { Press } from '#web/lib/outbox/use-kept-act.ts'

/** What was struck out on this tablet, by its id, until the book has it too. */
export type StruckHere = { id: string } & Required<Pick<Measurement, 'struck'>>

const WORDS = { measurements: 'set struck out', pressings: 'pressing struck out' } as const

/** A set or a pressing struck out, through the outbox: behind whatever waits on the same crank, the set itself included. */
export function keptStrike(
  jobId: string,
  of: keyof typeof WORDS,
  id: string,
  given: z.infer<typeof strike>,
  { key, at }: Press,
): Kept<StruckHere> {
  const { occurredAt = at, because } = given
  return {
    path: `/api/${of}/${id}/strike`,
    body: { ...given, occurredAt },
    key,
    lane: jobId,
    jobId,
    what: WORDS[of],
    occurredAt,
    instead: { id, struck: { by: BY_YOU, at: occurredAt, because } },
  }
}

/** The rows with those struck out that were struck out here. */
export function withStruck<Row extends { id: string; struck?: StruckHere['struck'] }>(
  rows: readonly Row[],
  struck: readonly StruckHere[],
): Row[] {
  const here = new Map(struck.map((one) => [one.id, one.struck]))
  return rows.map((row) => {
    const now = here.get(row.id)
    return now === undefined || row.struck !== undefined ? row : { ...row, struck: now }
  })
}
