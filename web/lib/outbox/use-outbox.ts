import { useSyncExternalStore } from 'react'
import { outbox } from '#web/lib/outbox/outbox.ts'
import type { OutboxRecord } from '#web/lib/outbox/record.ts'

const NONE: readonly OutboxRecord[] = []
const nothing = () => () => undefined

/** Everything that lies on this tablet and not in the book, whoever it belongs to. */
export function useOutbox(): readonly OutboxRecord[] {
  const box = outbox()
  return useSyncExternalStore(box?.subscribe ?? nothing, () => box?.records() ?? NONE)
}

/** Whether this act, by the id that it carries, is on the tablet and not yet in the book. */
export function useIsWaiting(id: string | undefined): boolean {
  const records = useOutbox()
  return id !== undefined && records.some((record) => idOf(record) === id)
}

export function idOf(record: OutboxRecord): string | undefined {
  const { body } = record
  return typeof body === 'object' && body !== null && 'id' in body && typeof body.id === 'string' ? body.id : undefined
}
