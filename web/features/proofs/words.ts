import type { Proof, Proofs } from '#contract/proofs.ts'
import { counted, dayAndTime, figure } from '#web/lib/format.ts'

/** `4.1 MB`, `312 kB`: powers of ten, as disks are sold. */
export function size(bytes: number): string {
  const [unit, name] = bytes >= 1e9 ? [1e9, 'GB'] : bytes >= 1e6 ? [1e6, 'MB'] : [1e3, 'kB']
  return `${figure(bytes / unit, bytes >= 1e6 ? 1 : 0)} ${name}`
}

/** `4 s`, `12 min`. */
export function lasted({ startedAt, endedAt }: Proof): string | undefined {
  if (endedAt === undefined) return undefined
  const seconds = Math.max(0, Math.round((Date.parse(endedAt) - Date.parse(startedAt)) / 1000))
  return seconds < 100 ? `${seconds} s` : `${Math.round(seconds / 60)} min`
}

/** What is wrong, where something is: that no backup was proved, or none for too long. */
export function warning({ lastHeld, overdue }: Proofs, zone: string, now: number): string | undefined {
  if (!overdue) return undefined
  if (lastHeld === null) return 'No backup of this book was ever put back for trial'
  const days = Math.floor((now - Date.parse(lastHeld.startedAt)) / 86_400_000)
  return `No backup has held for ${counted(days, 'day')}: the last was ${dayAndTime(lastHeld.startedAt, zone, now)}`
}
