import { describe, expect, test } from 'vitest'
import { OUTBOX_SCHEMA, type OutboxNew, type OutboxRecord } from '#web/lib/outbox/record.ts'
import { makeSender, type Outcome } from '#web/lib/outbox/sender.ts'
import type { OutboxStore } from '#web/lib/outbox/store.ts'
import { BACK_OFF, backOffMs, type Verdict, verdictOf } from '#web/lib/outbox/verdict.ts'
import { NotUnderstood, problemFrom, TookTooLong, Unreachable } from '#web/lib/problem.ts'

const JONAS = '0198f3a0-0000-7000-8000-000000000001'
const ANA = '0198f3a0-0000-7000-8000-000000000002'
const START = Date.parse('2026-11-24T09:00:00Z')

/** A tablet's storage without its disk. */
function memory(): OutboxStore & { records: OutboxRecord[] } {
  let next = 1
  const store = {
    records: [] as OutboxRecord[],
    async add(record: OutboxNew) {
      const kept = { ...record, seq: next++ }
      store.records.push(kept)
      return kept
    },
    async all() {
      return structuredClone(store.records)
    },
    async put(record: OutboxRecord) {
      store.records = store.records.map((one) => (one.seq === record.seq ? record : one))
    },
    async remove(seq: number) {
      store.records = store.records.filter((one) => one.seq !== seq)
    },
  }
  return store
}

function record(over: Partial<OutboxNew> = {}): OutboxNew {
  const key = over.key ?? `key-${Math.random()}`
  return {
    key,
    personId: JONAS,
    lane: 'job-1',
    jobId: 'job-1',
    what: 'width over webs, 4 readings',
    method: 'POST',
    route: '/api/jobs/job-1/measurements',
    body: { id: key },
    shown: null,
    occurredAt: '2026-11-24T08:00:00.000Z',
    tries: 0,
    notBefore: 0,
    state: 'waiting',
    schema: OUTBOX_SCHEMA,
    ...over,
  }
}

interface Bench {
  store: ReturnType<typeof memory>
  sent: string[]
  outcomes: Outcome[]
  signIns: number
  nowMs: number
  who: string | undefined
  session: string | undefined
  drain(hurry?: boolean): Promise<void>
  nextAt(): Promise<number | undefined>
}

function benchWith(answer: (record: OutboxRecord) => Verdict | Promise<Verdict>): Bench {
  const store = memory()
  const lanes = new Map<string, Promise<void>>()
  const bench: Bench = {
    store,
    sent: [],
    outcomes: [],
    signIns: 0,
    nowMs: START,
    who: JONAS,
    session: JONAS,
    drain: (hurry = false) => sender.drain({ hurry }),
    nextAt: () => sender.nextAt(),
  }
  const sender = makeSender({
    store,
    async attempt(one) {
      bench.sent.push(one.key)
      return answer(one)
    },
    oneAtATime(lane, work) {
      const next = (lanes.get(lane) ?? Promise.resolve()).then(work)
      lanes.set(lane, next)
      return next
    },
    now: () => bench.nowMs,
    random: () => 0,
    personId: () => bench.who,
    isStill: async (id) => id === bench.session,
    onOutcome: (outcome) => bench.outcomes.push(outcome),
    onSignedOut: () => {
      bench.signIns += 1
    },
  })
  return bench
}

const taken: Verdict = { kind: 'taken', body: {} }
const away: Verdict = { kind: 'later', error: { says: 'away', at: '' }, afterMs: undefined }

describe('sending', () => {
  test('what was written first goes first, and a failure holds back what comes after it in its lane alone', async () => {
    let down = true
    const bench = benchWith((one) => (one.key === 'a1' && down ? away : taken))
    for (const key of ['a1', 'a2', 'a3']) await bench.store.add(record({ key }))
    for (const key of ['b1', 'b2']) await bench.store.add(record({ key, lane: 'job-2' }))
    await bench.drain()
    expect(bench.sent.filter((key) => key.startsWith('a'))).toEqual(['a1'])
    expect(bench.sent.filter((key) => key.startsWith('b'))).toEqual(['b1', 'b2'])
    down = false
    bench.nowMs += BACK_OFF.firstMs
    await bench.drain()
    expect(bench.sent.filter((key) => key.startsWith('a'))).toEqual(['a1', 'a1', 'a2', 'a3'])
    expect(bench.store.records).toEqual([])
  })

  test('put off is put off, unless there is hurry', async () => {
    let down = true
    const bench = benchWith(() => (down ? away : taken))
    await bench.store.add(record({ key: 'a' }))
    await bench.drain()
    await bench.drain()
    expect(bench.sent).toEqual(['a'])
    expect(await bench.nextAt()).toBe(START + BACK_OFF.firstMs / 2)
    down = false
    await bench.drain(true)
    expect(bench.sent).toEqual(['a', 'a'])
    expect(await bench.nextAt()).toBeUndefined()
  })

  test('a clock that was set back keeps nothing for ever', async () => {
    const bench = benchWith(() => taken)
    await bench.store.add(record({ notBefore: START + 10 * BACK_OFF.mostMs }))
    await bench.drain()
    expect(bench.store.records).toEqual([])
  })

  test('what the book refuses is parked with why, and the next goes on', async () => {
    const refused: Verdict = { kind: 'refused', error: { status: 409, says: 'It is not agreed.', at: '' }, problem: new Error('no') }
    const bench = benchWith((one) => (one.key === 'a' ? refused : taken))
    await bench.store.add(record({ key: 'a' }))
    await bench.store.add(record({ key: 'b' }))
    await bench.drain()
    expect(bench.store.records.map(({ key, state, lastError }) => [key, state, lastError?.says])).toEqual([
      ['a', 'parked', 'It is not agreed.'],
    ])
    await bench.drain(true)
    expect(bench.sent).toEqual(['a', 'b'])
  })

  test('it is parked before anybody is told, so that a tab closed in between loses nothing', async () => {
    const refused: Verdict = { kind: 'refused', error: { says: 'no', at: '' }, problem: undefined }
    const order: string[] = []
    const store = memory()
    const put = store.put
    store.put = async (one) => {
      await put(one)
      order.push(one.state)
    }
    await store.add(record({ key: 'a' }))
    await makeSender({
      store,
      attempt: async () => refused,
      oneAtATime: (_lane, work) => work(),
      now: () => START,
      random: () => 0,
      personId: () => JONAS,
      isStill: async () => true,
      onOutcome: () => order.push('told'),
      onSignedOut: () => order.push('signed out'),
    }).drain()
    expect(order).toEqual(['parked', 'told'])
  })

  test('a session that ended asks for the sign-in and keeps everything', async () => {
    const bench = benchWith(() => ({ kind: 'signed-out', error: { status: 401, says: 'signed out', at: '' } }))
    await bench.store.add(record({ key: 'a' }))
    await bench.store.add(record({ key: 'b' }))
    await bench.drain()
    expect([bench.signIns, bench.sent, bench.store.records.map((one) => one.state)]).toEqual([1, ['a'], ['waiting', 'waiting']])
  })

  test('nothing goes out under another name: neither by who is at the screen nor by whose the session is', async () => {
    const bench = benchWith(() => taken)
    await bench.store.add(record({ key: 'of-jonas' }))
    await bench.store.add(record({ key: 'of-ana', personId: ANA }))
    bench.who = undefined
    await bench.drain(true)
    bench.who = ANA
    bench.session = JONAS
    await bench.drain(true)
    expect(bench.sent).toEqual([])
    bench.session = ANA
    await bench.drain(true)
    expect(bench.sent).toEqual(['of-ana'])
    expect(bench.store.records.map((one) => one.key)).toEqual(['of-jonas'])
  })

  test('a record of a newer page is left for a page that knows it', async () => {
    const bench = benchWith(() => taken)
    await bench.store.add(record({ schema: OUTBOX_SCHEMA + 1 }))
    await bench.drain(true)
    expect(bench.sent).toEqual([])
    expect(bench.store.records).toHaveLength(1)
  })
})

describe('what a try came to', () => {
  const of = (status: number, type: string, retryAfter?: number) =>
    verdictOf(problemFrom(status, { type: `/problems/${type}`, title: type, status, detail: 'Why.' }, retryAfter), 'now').kind

  test('only what the book itself refused is parked (table of the outbox, common practice)', () => {
    expect(verdictOf(new Unreachable('x'), 'now').kind).toBe('later')
    expect(verdictOf(new TookTooLong('x'), 'now').kind).toBe('later')
    // A page of the Wi-Fi's own answers 200 with something that is no answer of the book.
    expect(verdictOf(new NotUnderstood('x'), 'now').kind).toBe('later')
    expect(of(409, 'idempotency-in-progress')).toBe('later')
    expect(of(429, 'rate-limited', 3)).toBe('later')
    expect(of(500, 'internal')).toBe('later')
    expect(of(503, 'overloaded')).toBe('later')
    expect(of(401, 'signed-out')).toBe('signed-out')
    for (const [status, type] of [
      [400, 'validation'],
      [403, 'forbidden'],
      [404, 'not-found'],
      [409, 'gate-not-met'],
      [409, 'conflict-state'],
      [412, 'stale-version'],
      [422, 'idempotency-mismatch'],
    ] as const)
      expect(of(status, type), type).toBe('refused')
  })

  test('the wait doubles from a second to a minute, each in its upper half', () => {
    expect([1, 2, 3, 7, 8, 100].map((tries) => backOffMs(tries, 1))).toEqual([1_000, 2_000, 4_000, 60_000, 60_000, 60_000])
    expect([1, 2, 100].map((tries) => backOffMs(tries, 0))).toEqual([500, 1_000, 30_000])
    expect(() => backOffMs(0, 0)).toThrow(RangeError)
  })
})
