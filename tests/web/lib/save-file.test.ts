import { afterEach, expect, test, vi } from 'vitest'
import { saveFile } from '#web/features/waiting/save-file.ts'
import type { OutboxRecord } from '#web/lib/outbox/record.ts'

afterEach(() => vi.restoreAllMocks())

test('what waits is saved as a file whole, a photo with it', async () => {
  const saved: Blob[] = []
  vi.spyOn(URL, 'createObjectURL').mockImplementation((blob) => {
    saved.push(blob as Blob)
    return 'blob:saved'
  })
  const photo = new Blob(['bore'], { type: 'image/jpeg' })
  const record = { seq: 1, key: 'k', what: 'photo', route: '/api/jobs/1/photos', body: { caption: 'left bore', photo } } as OutboxRecord
  await saveFile([record])
  const [row] = JSON.parse(await saved[0]!.text()) as { body: object }[]
  // RFC 2397: data:<type>;base64,<data>; "bore" in base64 is Ym9yZQ== (RFC 4648, by hand).
  expect(row?.body).toEqual({ caption: 'left bore', photo: 'data:image/jpeg;base64,Ym9yZQ==' })
})
