/** When a thing at the bench was done: by the sender's clock, but never later than the book got it. */
export function doneAt(row: { occurredAt: Date; recordedAt: Date }): string {
  return new Date(Math.min(row.occurredAt.getTime(), row.recordedAt.getTime())).toISOString()
}

/** A row that a statement answers as JSON along with something else: its instants are text. */
export type JsonRow<Row> = {
  [Name in keyof Row]: Row[Name] extends Date ? string : Row[Name] extends Date | null ? string | null : Row[Name]
}
