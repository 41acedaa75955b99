import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { makeOutbox } from '#web/lib/outbox/outbox.ts'
import { OUTBOX_SCHEMA, type OutboxNew, type OutboxRecord, outboxRecord } from '#web/lib/outbox/record.ts'
import type { OutboxStore } from '#web/lib/outbox/store.ts'

const JONAS = '0198f3a0-0000-7000-8000-000000000001'

function memory(): OutboxStore & { records: OutboxRecord[] } {
  const store = {
    records: [] as OutboxRecord[],
    add: async (record: OutboxNew) => {
      const kept = { ...record, seq: store.records.length + 1 }
      store.records.push(kept)
      return kept
    },
    all: async () => structuredClone(store.records),
    put: async (record: OutboxRecord) => {
      store.records = store.records.map((one) => (one.seq === record.seq ? record : one))
    },
    remove: async (seq: number) => {
      store.records = store.records.filter((one) => one.seq !== seq)
    },
  }
  return store
}

const RECORD: OutboxNew = {
  key: 'key-00000001',
  personId: JONAS,
  lane: 'j',
  jobId: 'j',
  what: 'width over webs, 4 readings',
  method: 'POST',
  route: '/api/jobs/j/measurements',
  body: { id: 'm' },
  shown: { id: 'm' },
  // So old that the session is asked for before it goes out.
  occurredAt: '2026-11-24T08:00:00.000Z',
  tries: 1,
  notBefore: 0,
  state: 'waiting',
  schema: OUTBOX_SCHEMA,
}

/** What the book answers to the session and to the set, of the version that it is of. */
function bookOf(version: string, answers: { session: unknown; set: unknown }): void {
  vi.stubGlobal('fetch', async (address: string) => {
    const body = address === '/api/session' ? answers.session : answers.set
    return new Response(typeof body === 'string' ? body : JSON.stringify(body), { headers: { 'book-version': version } })
  })
}

beforeEach(() => vi.stubEnv('BOOK_VERSION', 'of-monday'))
afterEach(() => {
  vi.unstubAllGlobals()
  vi.unstubAllEnvs()
})

async function outcomeOf(answers: { version: string; session: unknown; set: unknown }): Promise<{ left: number; heard: unknown[] }> {
  bookOf(answers.version, answers)
  const store = memory()
  const box = makeOutbox(store)
  const heard: unknown[] = []
  await store.add(RECORD)
  box.watch(RECORD.key, (outcome) => heard.push(outcome.kind === 'taken' ? outcome.body : outcome.kind))
  box.setWho({ id: JONAS, role: 'bench' })
  await box.sendNow()
  return { left: store.records.length, heard }
}

test('what waits goes out to a book of this version, and its answer is heard', async () => {
  expect(await outcomeOf({ version: 'of-monday', session: { id: JONAS }, set: { id: 'm' } })).toEqual({ left: 0, heard: [{ id: 'm' }] })
})

test('a book of another version takes it too; what that answered is not handed on', async () => {
  expect(await outcomeOf({ version: 'of-friday', session: { id: JONAS }, set: { id: 'm' } })).toEqual({ left: 0, heard: [undefined] })
})

test('of whatever version, it goes out under nobody else’s name', async () => {
  const another = { version: 'of-friday', session: { id: 'somebody else' }, set: { id: 'm' } }
  expect((await outcomeOf(another)).left).toBe(1)
  expect((await outcomeOf({ ...another, session: {} })).left).toBe(1)
})

test('a page of the Wi-Fi takes nothing', async () => {
  const wiFi = { version: 'of-monday', session: { id: JONAS }, set: '<html>Welcome</html>' }
  expect(await outcomeOf(wiFi)).toEqual({ left: 1, heard: ['later'] })
})

test('what is no record is left lying, and one of before the versions still goes out', () => {
  const kept: OutboxRecord = { ...RECORD, seq: 1 }
  expect(outboxRecord(kept)).toBe(true)
  expect(outboxRecord({ ...kept, version: 'of-monday', lastError: { says: 'No.', at: 'now' } })).toBe(true)
  expect(outboxRecord({ ...kept, state: 'lost' })).toBe(false)
  expect(outboxRecord({ ...kept, route: undefined })).toBe(false)
})
