import { asFile } from '#web/features/waiting/waiting-words.ts'
import type { OutboxRecord } from '#web/lib/outbox/record.ts'

/** Hands the records to the hand as a file of this tablet, pictures as data: addresses (RFC 2397). */
export async function saveFile(records: readonly OutboxRecord[]): Promise<void> {
  const whole = await Promise.all(records.map(async (record) => ({ ...record, body: await withoutBlobs(record.body) })))
  const url = URL.createObjectURL(new Blob([asFile(whole)], { type: 'application/json' }))
  const link = document.createElement('a')
  link.href = url
  link.download = `waiting-${new Date().toISOString().slice(0, 10)}.json`
  link.click()
  setTimeout(() => URL.revokeObjectURL(url), 10_000)
}

async function withoutBlobs(body: unknown): Promise<unknown> {
  if (typeof body !== 'object' || body === null) return body
  const entries = Object.entries(body).map(async ([name, value]) => [name, value instanceof Blob ? await asAddress(value) : value])
  return Object.fromEntries(await Promise.all(entries))
}

function asAddress(file: Blob): Promise<unknown> {
  return new Promise((resolve, reject) => {
    const reader = new FileReader()
    reader.onload = () => resolve(reader.result)
    reader.onerror = () => reject(reader.error)
    reader.readAsDataURL(file)
  })
}
