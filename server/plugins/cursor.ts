/** Cursors of keyset-paged lists: short, checked, and no secret. */
import { LIMITS } from '#contract/primitives.ts'
import { fieldFault } from './errors.ts'

const UUID = /^[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i
const NUMBER = /^\d{1,15}$/

function foreign(): never {
  throw fieldFault('#/query/after', 'cursor', 'This cursor is not one that this list gave out. Start again without it.')
}

/** A cursor that is the id of the last row seen; null where the list starts at its beginning. */
export function idCursor(after: string | undefined): string | null {
  if (after === undefined) return null
  return UUID.test(after) ? after : foreign()
}

/** A cursor that is the running number of the last row seen. */
export function numberCursor(after: string | undefined): number | null {
  if (after === undefined) return null
  return NUMBER.test(after) ? Number(after) : foreign()
}

/** A cursor of a list by day, rows without a day last: the day or a dash, and the id. */
export function dayCursor(after: string | undefined): { day: string | null; id: string } | null {
  if (after === undefined) return null
  const [day, id] = after.split(' ')
  if (day === undefined || id === undefined || !UUID.test(id)) return foreign()
  if (day === '-') return { day: null, id }
  return /^\d{4}-\d{2}-\d{2}$/.test(day) && !Number.isNaN(Date.parse(`${day}T00:00:00Z`)) ? { day, id } : foreign()
}

export function dayCursorOf(row: { day: string | null; id: string }): string {
  return `${row.day ?? '-'} ${row.id}`
}

/** Cuts a page from rows of which one more than asked for was read, and says where the next one starts. */
export function pageFrom<Row>(
  rows: Row[],
  limit: number | undefined,
  cursorOf: (row: Row) => string,
): { rows: Row[]; next: string | null } {
  const most = pageLength(limit)
  const page = rows.slice(0, most)
  const last = page.at(-1)
  return { rows: page, next: rows.length > most && last !== undefined ? cursorOf(last) : null }
}

export function pageLength(limit: number | undefined): number {
  return limit ?? LIMITS.listPage
}
