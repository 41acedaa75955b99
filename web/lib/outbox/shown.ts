import { ownVersion } from '#web/lib/book-version.ts'
import { outbox } from '#web/lib/outbox/outbox.ts'
import type { OutboxRecord } from '#web/lib/outbox/record.ts'

/** The hand of what the book does not have yet, as the screens name it: no name of a person lies on the tablet. */
export const BY_YOU = 'you'

/** This hand's own records that wait and that no form is still waiting for, oldest first; of one job where it is said. */
function waiting(jobId: string | undefined): OutboxRecord[] {
  const box = outbox()
  const who = box?.who()
  if (box === undefined || who === undefined) return []
  return box
    .records()
    .filter(
      (record) =>
        record.personId === who.id &&
        record.state === 'waiting' &&
        !box.isWatched(record.key) &&
        (jobId === undefined || record.jobId === jobId),
    )
}

/** What waits to go to this address, as it is shown until the book has it; what another version of this page made is not known here. */
export function waitingShown<Shown>(address: RegExp, jobId?: string): Shown[] {
  return waiting(jobId).flatMap(({ route, version, shown }) =>
    address.test(route) && version === ownVersion() && shown !== null ? [shown as Shown] : [],
  )
}

/** The rows of the book, with those behind them that only the tablet has. */
export function withWaiting<Row extends { id: string }>(rows: readonly Row[], shown: readonly Row[]): Row[] {
  const known = new Set(rows.map((row) => row.id))
  return [...rows, ...shown.filter((row) => !known.has(row.id))]
}

export function handId(): string {
  return outbox()?.who()?.id ?? ''
}
