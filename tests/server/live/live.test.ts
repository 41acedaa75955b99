import net from 'node:net'
import pg from 'pg'
import { afterEach, describe, expect, test, vi } from 'vitest'
import { buildApp } from '#server/app.ts'
import { perform } from '#server/plugins/act.ts'
import { LIVE } from '#server/plugins/live.ts'
import { type Agent, startApp } from '#tests/support/app.ts'
import { handsOf, take } from '#tests/support/bench-factories.ts'
import { addCustomer, bookJob } from '#tests/support/factories.ts'
import { hearLive, type LiveEars } from '#tests/support/live-stream.ts'

const it = await startApp()
const address = await it.app.listen({ port: 0, host: '127.0.0.1' })
const hands = await handsOf(it)
const { counter, bench, owner } = hands

const open: LiveEars[] = []
async function hear(who: Agent, more: { lastEventId?: number; query?: string } = {}): Promise<LiveEars> {
  const ears = await hearLive(address, { cookie: who.cookie, ...more })
  open.push(ears)
  return ears
}
afterEach(() => {
  for (const ears of open.splice(0)) ears.close()
})

const head = async () => Number((await it.db.pool.query<{ seq: string }>('SELECT max(seq) AS seq FROM audit_row')).rows[0]?.seq)
const note = (jobId: string, says = 'looked at') => owner.post(`/api/jobs/${jobId}/notes`, { says }).expect(201)

describe('what is told', () => {
  test('opens with the last number there is, in the headers of a stream', async () => {
    const ears = await hear(owner)
    expect(ears.status).toBe(200)
    expect(ears.headers).toMatchObject({
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
      'x-accel-buffering': 'no',
      'x-content-type-options': 'nosniff',
    })
    const here = await ears.until((one) => one.event === 'here')
    expect(here).toEqual({ event: 'here', id: await head(), data: { seq: await head() } })
  })

  test('a change is told within a second by kind, id, job and number, and with nothing else in it', async () => {
    const job = await bookJob(it)
    const ears = await hear(counter)
    await ears.until((one) => one.event === 'here')
    const set = await take(hands, bench, job, {
      kind: 'width',
      phase: 'received',
      values: ['0', '90', '180', '270'].map((place) => ({ place, mm: 63.987 })),
    })
    const told = await ears.until((one) => one.data.entity === 'measurement', 1_000)
    expect(told).toEqual({
      event: 'message',
      id: await head(),
      data: { entity: 'measurement', id: set.id, jobId: job.id, seq: await head() },
    })
    expect(ears.text()).not.toContain('63.9')
  })

  test('the bench hears nothing of customers, the owner does', async () => {
    const [atBench, atOffice] = [await hear(bench), await hear(owner)]
    const customer = await addCustomer(it, { name: 'Hollis' })
    const job = await bookJob(it)
    await atOffice.until((one) => one.data.entity === 'customer' && one.data.id === customer.id)
    await atBench.until((one) => one.data.entity === 'job' && one.data.jobId === job.id)
    expect(atBench.heard.filter((one) => one.data.entity === 'customer')).toEqual([])
    expect(atBench.text() + atOffice.text()).not.toContain('Hollis')
  })

  test('each kind that belongs to a job says which', async () => {
    const job = await bookJob(it)
    const ears = await hear(bench)
    await ears.until((one) => one.event === 'here')
    await bench.post('/api/clock/start', { jobId: job.id, work: 'measuring' }).expect(201)
    await note(job.id)
    for (const kind of ['clock_entry', 'job']) expect((await ears.until((one) => one.data.entity === kind)).data.jobId, kind).toBe(job.id)
    await bench.post('/api/clock/stop', {}).expect(200)
  })
})

describe('coming back', () => {
  test('what was missed is told in order, by Last-Event-ID or by the address, and the header goes first', async () => {
    const job = await bookJob(it)
    const before = await head()
    for (const says of ['one', 'two', 'three']) await note(job.id, says)
    const numbers = [before + 1, before + 2, before + 3]
    for (const asked of [{ lastEventId: before }, { query: `?after=${before}` }, { lastEventId: before, query: '?after=1' }]) {
      const ears = await hear(owner, asked)
      await ears.until((one) => one.id === before + 3)
      expect(ears.heard.filter((one) => one.event === 'message').map((one) => one.id)).toEqual(numbers)
      expect(ears.heard[0]).toMatchObject({ event: 'here', id: undefined })
    }
  })

  test('a number that is not in the book yet, a pruned one and one too far back are told as “everything”', async () => {
    const beyond = await hear(owner, { lastEventId: (await head()) + 50 })
    expect(await beyond.until((one) => one.event === 'all')).toMatchObject({ id: await head() })
    await writeAudit(LIVE.missed + 1)
    const now = await head()
    await beyond.until((one) => (one.id ?? 0) >= now)
    const far = await hear(owner, { lastEventId: (await head()) - LIVE.missed - 1 })
    expect(await far.until((one) => one.event === 'all')).toMatchObject({ id: await head() })
    expect(far.heard.filter((one) => one.event === 'message')).toEqual([])
    const near = await hear(owner, { lastEventId: (await head()) - LIVE.missed })
    await near.until((one) => one.id === LIVE.missed + ((near.heard[1]?.id ?? 0) - 1))
    expect(near.heard.filter((one) => one.event === 'message')).toHaveLength(LIVE.missed)
    await asSuperuser(
      'SET session_replication_role = replica; ALTER TABLE audit_row DISABLE TRIGGER USER; DELETE FROM audit_row WHERE seq < 20',
    )
    const pruned = await hear(owner, { lastEventId: 5 })
    await pruned.until((one) => one.event === 'all')
  })

  test('of two acts that overlap none is missed: the numbers are in the order of the commits', async () => {
    const job = await bookJob(it)
    const before = await head()
    let finish = () => {}
    const mayFinish = new Promise<void>((resolve) => {
      finish = resolve
    })
    const slow = perform(it.db, { by: owner.person, now: it.clock.now }, async (act) => {
      await act.tx.$queryRaw`SELECT 1`
      await mayFinish
      act.note('write note', 'job', job.id, {})
    })
    const ears = await hear(owner, { lastEventId: before })
    await note(job.id, 'the quick one')
    await ears.until((one) => one.id === before + 1)
    finish()
    await slow
    await ears.until((one) => one.id === before + 2)
    expect(ears.heard.filter((one) => one.event === 'message').map((one) => one.id)).toEqual([before + 1, before + 2])
  })
})

describe('how a stream lives and ends', () => {
  test('a comment line and a beat every 15 s', async () => {
    vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] })
    try {
      const ears = await hear(owner)
      await ears.until((one) => one.event === 'here')
      vi.advanceTimersByTime(14_999)
      expect(ears.text()).not.toMatch(/^:/m)
      vi.advanceTimersByTime(1)
      await ears.until((one) => one.event === 'beat')
      expect(ears.text()).toMatch(/^: still here$/m)
      // Closed under the same timers that it was opened with.
      ears.close()
      await vi.waitFor(() => expect(it.app.live.count()).toBe(0))
    } finally {
      vi.useRealTimers()
    }
  })

  test('nobody signed in gets none; one browser may hold a dozen', async () => {
    expect((await hearLive(address, {})).status).toBe(401)
    const somebody = await it.as('bench')
    for (let n = 0; n < LIVE.streamsOfASession; n++) expect((await hear(somebody)).status).toBe(200)
    const refused = await hear(somebody)
    expect(refused.status).toBe(429)
    await refused.ended
    expect(JSON.parse(refused.text())).toMatchObject({ type: '/problems/rate-limited' })
    expect((await it.app.inject({ method: 'HEAD', url: '/api/live', headers: { cookie: owner.cookie } })).statusCode).toBe(404)
  })

  test('ends within 5 s of a sign-out, a bar, a change of role and an idle limit, and says why (A5)', async () => {
    const [out, barred, moved, idle, stays] = [
      await it.as('counter'),
      await it.as('bench'),
      await it.as('bench'),
      await it.as('bench'),
      await it.as('counter'),
    ]
    const streams = await Promise.all([out, barred, moved, idle, stays].map((who) => hear(who)))
    const began = Date.now()
    await out.delete('/api/session').expect(204)
    await it.db.prisma.person.update({ where: { id: barred.person.id }, data: { barredAt: it.clock.now } })
    await it.db.prisma.person.update({ where: { id: moved.person.id }, data: { role: 'counter' } })
    await it.db.prisma.session.updateMany({ where: { personId: idle.person.id }, data: { lastSeenAt: new Date(0) } })
    const ends = await Promise.all(streams.slice(0, 4).map((ears) => ears.until((one) => one.event === 'end')))
    await Promise.all(streams.slice(0, 4).map((ears) => ears.ended))
    expect(Date.now() - began).toBeLessThan(5_000)
    expect(ends.map((one) => one.data.why)).toEqual(['signed-out', 'signed-out', 'changed', 'signed-out'])
    expect(streams[4]?.heard.some((one) => one.event === 'end')).toBe(false)
  })

  test('one that is opened while the others are looked at is left alone', async () => {
    const [first, late] = [await it.as('bench'), await it.as('bench')]
    const query = it.db.pool.query.bind(it.db.pool) as (...given: unknown[]) => Promise<unknown>
    let looking = () => {}
    const looks = new Promise<void>((resolve) => {
      looking = resolve
    })
    let goOn = () => {}
    const mayGoOn = new Promise<void>((resolve) => {
      goOn = resolve
    })
    const slow = vi.spyOn(it.db.pool, 'query').mockImplementation((async (...given: unknown[]) => {
      const answer = await query(...given)
      if ((given[0] as { name?: string }).name !== 'live-sessions') return answer
      looking()
      await mayGoOn
      return answer
    }) as never)
    await hear(first)
    await looks
    const ears = await hear(late)
    await ears.until((one) => one.event === 'here')
    goOn()
    slow.mockRestore()
    await it.as('owner')
    await expect(ears.until((one) => one.event === 'end', 500)).rejects.toThrow('not heard')
  })

  test('is no use of the session, and neither is what a page asks by itself', async () => {
    const somebody = await it.as('bench')
    const seen = async () => (await it.db.prisma.session.findFirst({ where: { personId: somebody.person.id } }))?.lastSeenAt
    const first = await seen()
    it.clock.pass(2)
    const ears = await hear(somebody)
    await ears.until((one) => one.event === 'here')
    await somebody.get('/api/session').set('unattended', 'yes').expect(200)
    expect(await seen()).toEqual(first)
    await somebody.get('/api/session').expect(200)
    expect(await seen()).toEqual(it.clock.now)
  })

  test('is ended first when the server closes, and the server then closes at once (D8)', async () => {
    const other = await buildApp({ db: it.db, clock: () => it.clock.now, files: it.app.files })
    const there = await other.listen({ port: 0, host: '127.0.0.1' })
    const ears = await hearLive(there, { cookie: owner.cookie })
    await ears.until((one) => one.event === 'here')
    const began = Date.now()
    await other.close()
    await ears.ended
    expect(Date.now() - began).toBeLessThan(2_000)
    expect(ears.heard.at(-1)).toMatchObject({ event: 'end', data: { why: 'closing' } })
  })

  test('outlives a cut of its own database connection, which comes back', async () => {
    const ears = await hear(owner)
    await ears.until((one) => one.event === 'here')
    const listeners = async () =>
      (await asSuperuser("SELECT pid FROM pg_stat_activity WHERE query = 'LISTEN throwbook' AND datname = current_database()")).map((row) =>
        Number(row.pid),
      )
    const [pid] = await listeners()
    expect(await listeners()).toHaveLength(1)
    await asSuperuser(`SELECT pg_terminate_backend(${pid})`)
    const job = await bookJob(it)
    await ears.until((one) => one.data.jobId === job.id, 4_000)
    await vi.waitFor(async () => expect((await listeners()).filter((one) => one !== pid)).toHaveLength(1), 5_000)
    await note(job.id)
    await ears.until((one) => one.id !== undefined && one.data.jobId === job.id && one.id > (ears.heard[1]?.id ?? 0), 1_000)
  })

  test('whoever never reads is dropped, and the others hear on (L6)', async () => {
    const ears = await hear(owner)
    const deaf = net.connect(Number(new URL(address).port), '127.0.0.1')
    const cut = new Promise<void>((resolve) => {
      deaf.once('close', () => resolve())
      deaf.once('error', () => resolve())
    })
    deaf.write(`GET /api/live HTTP/1.1\r\nhost: x\r\ncookie: ${counter.cookie}\r\n\r\n`)
    deaf.pause()
    await vi.waitFor(() => expect(it.app.live.count()).toBe(2))
    // More than the buffers of the system between the two ends hold.
    for (let n = 0; n < 4; n++) await writeAudit(2_000, 3_000)
    await vi.waitFor(() => expect(it.app.live.count()).toBe(1), 10_000)
    deaf.resume()
    await cut
    const job = await bookJob(it)
    await ears.until((one) => one.data.jobId === job.id, 10_000)
  })
})

/** Rows of the chain that nobody did, as many as are needed; long ids make them heavy. */
async function writeAudit(rows: number, heavy = 1): Promise<void> {
  await it.db.pool.query(
    `SELECT count(audit_append(now(), NULL, 'test', 'job', repeat('x', $2::int), NULL, '{}')) FROM generate_series(1, $1::int)`,
    [rows, heavy],
  )
}

async function asSuperuser(statements: string): Promise<Record<string, unknown>[]> {
  const client = new pg.Client({ connectionString: it.url })
  await client.connect()
  const answer = await client.query<Record<string, unknown>>(statements)
  await client.end()
  return answer.rows ?? []
}
