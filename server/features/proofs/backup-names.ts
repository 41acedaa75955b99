/** Names of backups in their folder, and which of the night's ones go when newer ones are there. */

const NIGHTS_KEPT = 7
const MONTHS_KEPT = 12

/** `throwbook-book-2026-11-25T0210Z.tbk`; those of the night say so, and only those are ever thrown away. */
export function backupName(book: string, at: Date, night: boolean): string {
  return `throwbook-${book}-${at.toISOString().slice(0, 16).replace(':', '')}Z${night ? '-night' : ''}.tbk`
}

const NIGHT = /^throwbook-(.+)-(\d{4})-(\d{2})-\d{2}T\d{4}Z-night\.tbk$/

/**
 * The night's backups of one book that go: all but the last seven, the first of each month for a year, and the last one
 * that held when it was put back.
 */
export function toDrop(names: readonly string[], book: string, held: ReadonlySet<string>, now: Date): string[] {
  const nights = names.filter((name) => NIGHT.exec(name)?.[1] === book).sort()
  const kept = new Set(nights.slice(-NIGHTS_KEPT))
  const lastHeld = nights.findLast((name) => held.has(name))
  if (lastHeld !== undefined) kept.add(lastHeld)
  const months = new Set<string>()
  const monthsNow = now.getUTCFullYear() * 12 + now.getUTCMonth()
  for (const name of nights) {
    const [, , year, month] = NIGHT.exec(name) ?? []
    const key = `${year}-${month}`
    const age = monthsNow - (Number(year) * 12 + Number(month) - 1)
    if (age < MONTHS_KEPT && !months.has(key)) kept.add(name)
    months.add(key)
  }
  return nights.filter((name) => !kept.has(name))
}
