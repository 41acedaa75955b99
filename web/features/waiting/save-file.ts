import { asFile } from '#web/features/waiting/waiting-words.ts'
import type { OutboxRecord } from '#web/lib/outbox/record.ts'

/** Hands the records to the hand as a file of this tablet. */
export function saveFile(records: readonly OutboxRecord[]): void {
  const url = URL.createObjectURL(new Blob([asFile(records)], { type: 'application/json' }))
  const link = document.createElement('a')
  link.href = url
  link.download = `waiting-${new Date().toISOString().slice(0, 10)}.json`
  link.click()
  setTimeout(() => URL.revokeObjectURL(url), 10_000)
}
