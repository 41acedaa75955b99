import { counted } from '#web/lib/format.ts'
import type { OutboxRecord } from '#web/lib/outbox/record.ts'

const DAY_MS = 24 * 3_600_000

export interface WaitingCount {
  waiting: number
  parked: number
  /** The oldest lies here for more than a day. */
  isOld: boolean
}

/** What of one person lies on this tablet. */
export function countOf(records: readonly OutboxRecord[], personId: string, nowMs: number): WaitingCount {
  const mine = records.filter((record) => record.personId === personId)
  return {
    waiting: mine.filter((record) => record.state === 'waiting').length,
    parked: mine.filter((record) => record.state === 'parked').length,
    isOld: mine.some((record) => nowMs - Date.parse(record.occurredAt) > DAY_MS),
  }
}

/** `Saved on this tablet, 3 waiting.` Nothing where nothing waits. */
export function waitingWords({ waiting, parked }: WaitingCount): string {
  const parts = [
    ...(waiting === 0 ? [] : [`Saved on this tablet, ${waiting} waiting.`]),
    ...(parked === 0 ? [] : [`${counted(parked, 'entry', 'entries')} the book did not take.`]),
  ]
  return parts.join(' ')
}

/** The records as a file that can be read anywhere, in case the tablet or the book is lost. */
export function asFile(records: readonly OutboxRecord[]): string {
  const rows = records.map(({ key, seq, jobId, what, route, body, occurredAt, state, lastError }) => ({
    seq,
    key,
    what,
    occurredAt,
    state,
    ...(jobId === undefined ? {} : { jobId }),
    ...(lastError === undefined ? {} : { refused: lastError.says }),
    method: 'POST',
    route,
    body,
  }))
  return `${JSON.stringify(rows, null, 2)}\n`
}
