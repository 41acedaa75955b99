/** When a thing at the bench was done: by the sender's clock, but never later than the book got it. */
export function doneAt(row: { occurredAt: Date; recordedAt: Date }): string {
  return new Date(Math.min(row.occurredAt.getTime(), row.recordedAt.getTime())).toISOString()
}
