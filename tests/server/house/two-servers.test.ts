import { randomUUID } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import pg from 'pg'
import { afterAll, beforeAll, describe, expect, inject, test, vi } from 'vitest'
import type { Job } from '#contract/jobs.ts'
import { nextTagNumber } from '#core/tag.ts'
import { type Agent, startApp } from '#tests/support/app.ts'
import { handsOf, secondReading, truedRebuild } from '#tests/support/bench-factories.ts'
import { bookingOf, bookJob } from '#tests/support/factories.ts'
import { hearLive } from '#tests/support/live-stream.ts'
import { type ServerProcess, startServer } from '#tests/support/server-process.ts'
import { ask, type Told } from '#tests/support/small-proxy.ts'

const folder = mkdtempSync(path.join(tmpdir(), 'throwbook-two-'))
const started: ServerProcess[] = []
afterAll(async () => {
  await Promise.all(started.filter((server) => server.running()).map((server) => server.stop('SIGKILL')))
  rmSync(folder, { recursive: true, force: true })
})

/** Two processes at once on one database, each with a data folder of its own, with one folder of photos and papers. */
async function startTwo(databaseUrl: string, files: string): Promise<[ServerProcess, ServerProcess]> {
  const [one, two] = await Promise.all(
    ['one', 'two'].map((name) =>
      startServer({ DATABASE_URL: databaseUrl, DATA_DIR: path.join(folder, randomUUID(), name), FILES_URL: files }),
    ),
  )
  started.push(one!, two!)
  return [one!, two!]
}

async function query<Row extends pg.QueryResultRow>(url: string, text: string): Promise<Row[]> {
  const client = new pg.Client({ connectionString: url })
  await client.connect()
  const { rows } = await client.query<Row>(text)
  await client.end()
  return rows
}

/** What a person does at one of the servers. */
function at(server: ServerProcess, cookie: string) {
  const headers = { cookie, 'sec-fetch-site': 'same-origin' }
  return {
    get: (address: string) => ask(`${server.address}${address}`, { headers }),
    post: (address: string, body: object = {}, key: string = randomUUID()): Promise<Told> =>
      ask(`${server.address}${address}`, { method: 'POST', headers: { ...headers, 'idempotency-key': key }, body }),
  }
}

describe('two servers that start at once on an empty database (U6)', () => {
  // Two processes are started and stopped, on a machine that does other things too.
  test('one brings the book up to date, the other waits; both serve it, and its one owner', { timeout: 90_000 }, async () => {
    const name = `two_${randomUUID().replaceAll('-', '')}`
    const cluster = inject('clusterUrl')
    await query(cluster, `CREATE DATABASE ${name}`)
    const url = cluster.replace(/\/[^/]*$/, `/${name}`)
    const two = await startTwo(url, path.join(folder, 'empty-files'))
    expect(two.filter((server) => server.said().includes('The book was brought to'))).toHaveLength(1)
    for (const server of two) expect((await ask(`${server.address}/api/ready`)).body).toEqual({ ok: true })

    // Each start prints a code; the last one printed holds, at either server.
    await vi.waitFor(() => expect(two.every((server) => server.said().includes('one-time code'))).toBe(true), 5_000)
    const codes = two.map((server) => /one-time code: ([0-9A-F]{12})/.exec(server.said())?.[1] ?? '')
    const make = (code: string, signIn: string) =>
      ask(`${two[0].address}/api/set-up`, {
        method: 'POST',
        headers: { 'sec-fetch-site': 'same-origin' },
        body: { code, shop: 'Kettle Row', name: 'Ewa', signIn, password: 'a few long words' },
      })
    const made = await make(codes[0] ?? '', 'ewa')
    const other = await make(codes[1] ?? '', 'ewa2')
    expect([made.status, other.status].filter((status) => status === 200)).toHaveLength(1)
    const cookie = [...made.cookies, ...other.cookies][0]?.split(';')[0] ?? ''
    for (const server of two) expect((await at(server, cookie).get('/api/session')).status).toBe(200)

    expect(await Promise.all(two.map((server) => server.stop()))).toEqual([0, 0])
    await query(cluster, `DROP DATABASE ${name} WITH (FORCE)`)
  })
})

describe('two servers on one book', async () => {
  const it = await startApp({ realTime: true })
  const hands = await handsOf(it)
  const { counter, bench, second, owner } = hands
  let one: ServerProcess
  let two: ServerProcess
  beforeAll(async () => {
    ;[one, two] = await startTwo(it.url, it.app.files)
  })
  const both = (who: Agent) => [at(one, who.cookie), at(two, who.cookie)] as const

  test('a change at one is told at the other within a second', async () => {
    const job = await bookJob(it)
    const ears = await hearLive(two.address, { cookie: bench.cookie })
    await ears.until((said) => said.event === 'here')
    expect((await at(one, owner.cookie).post(`/api/jobs/${job.id}/notes`, { says: 'looked at' })).status).toBe(201)
    await ears.until((said) => said.data.jobId === job.id, 1_000)
    ears.close()
  })

  test('a stream that moves to the other server goes on where it left off', async () => {
    const job = await bookJob(it)
    const first = await hearLive(one.address, { cookie: owner.cookie })
    const here = await first.until((said) => said.event === 'here')
    first.close()
    const notes = ['one', 'two', 'three']
    for (const says of notes) await at(one, owner.cookie).post(`/api/jobs/${job.id}/notes`, { says })
    const next = await hearLive(two.address, { cookie: owner.cookie, lastEventId: here.id ?? 0 })
    await next.until((said) => said.id === (here.id ?? 0) + notes.length)
    expect(next.heard.filter((said) => said.event === 'message')).toHaveLength(notes.length)
    next.close()
  })

  test('the same key at both at once has one effect and one answer', async () => {
    const job = await bookJob(it)
    const key = randomUUID()
    const says = 'once, whichever hears it'
    const send = () => both(owner).map((server) => server.post(`/api/jobs/${job.id}/notes`, { says }, key))
    const answers = await Promise.all([...send(), ...send(), ...send()])
    for (const { status } of answers) expect([201, 409]).toContain(status)
    // One after the other: of two repeats at the same time one may be told that the other is not finished.
    const again = []
    for (const server of both(owner)) again.push(await server.post(`/api/jobs/${job.id}/notes`, { says }, key))
    expect(again.map((answer) => [answer.status, answer.headers.replayed])).toEqual([
      [201, 'yes'],
      [201, 'yes'],
    ])
    expect(again[0]?.body).toEqual(again[1]?.body)
    expect(await query(it.url, `SELECT 1 FROM job_event WHERE job_id = '${job.id}' AND says = '${says}'`)).toHaveLength(1)
  })

  test('wrong passwords count across both', async () => {
    await owner.post('/api/people', { signIn: 'hana', name: 'Hana', role: 'counter', password: 'copper hammer and lead' }).expect(201)
    const wrong = (server: ServerProcess) =>
      ask(`${server.address}/api/session`, {
        method: 'POST',
        headers: { 'sec-fetch-site': 'same-origin' },
        body: { name: 'hana', password: 'something else' },
      })
    for (let n = 0; n < 10; n++) expect((await wrong(n % 2 === 0 ? one : two)).status).toBe(401)
    expect([(await wrong(one)).status, (await wrong(two)).status]).toEqual([429, 429])
  })

  test('tags follow each other without a gap, whichever server books in', async () => {
    const [{ last }] = (await query<{ last: number }>(it.url, 'SELECT max(number)::int AS last FROM job')) as [{ last: number }]
    const bookings = []
    for (let n = 0; n < 16; n++) bookings.push(await bookingOf(it))
    const answers = await Promise.all(bookings.map((booking, n) => both(counter)[n % 2]?.post('/api/jobs', booking)))
    expect(answers.map((answer) => answer?.status)).toEqual(bookings.map(() => 201))
    const expected: number[] = []
    for (let number = last; expected.length < bookings.length; expected.push(number)) number = nextTagNumber(number)
    const rows = await query<{ number: number }>(it.url, `SELECT number::int FROM job WHERE number > ${last} ORDER BY number`)
    expect(rows.map((row) => row.number)).toEqual(expected)
  })

  test('sheets are numbered without a gap, whichever server signs', async () => {
    const dial = (await owner.get('/api/instruments')).body.find((each: { id: string }) => each.id === hands.dial.id)
    await owner.patch(`/api/instruments/${dial.id}`, { dueOn: '2099-01-01' }, dial.version).expect(200)
    const jobs: Job[] = []
    for (let n = 0; n < 4; n++) {
      const job = await truedRebuild(hands)
      await secondReading(hands, job)
      jobs.push(job)
    }
    const sign = (job: Job, n: number) => both(second)[n % 2]?.post(`/api/jobs/${job.id}/certificates`)
    const answers = await Promise.all(jobs.map(sign))
    expect(answers.map((answer) => answer?.status)).toEqual(jobs.map(() => 201))
    const rows = await query<{ number: string }>(it.url, 'SELECT number FROM certificate ORDER BY number')
    const running = rows.map((row) => Number(/(\d+)\D*$/.exec(row.number)?.[1])).sort((a, b) => a - b)
    expect(running).toEqual(running.map((_, place) => place + 1))
    expect(running).toHaveLength(jobs.length)
  })

  test('a queued piece of background work runs once', async () => {
    // Each run deletes old keys with one statement, whether or not there are any; the trigger counts the statements.
    await query(
      it.url,
      `CREATE TABLE runs (server int NOT NULL); GRANT INSERT ON runs TO throwbook_app;
       CREATE FUNCTION count_run() RETURNS trigger LANGUAGE plpgsql AS $$ BEGIN INSERT INTO runs VALUES (pg_backend_pid()); RETURN NULL; END $$;
       CREATE TRIGGER count_run AFTER DELETE ON idempotency FOR EACH STATEMENT EXECUTE FUNCTION count_run()`,
    )
    const queued = 20
    await query(it.url, `SELECT graphile_worker.add_job('forget-old-keys', job_key := 'once-' || n) FROM generate_series(1, ${queued}) n`)
    const waiting = async () => (await query(it.url, 'SELECT 1 FROM graphile_worker._private_jobs')).length
    await vi.waitFor(async () => expect(await waiting()).toBe(0), { timeout: 20_000, interval: 100 })
    expect(await query(it.url, 'SELECT 1 FROM runs')).toHaveLength(queued)
  })

  test('one killed outright leaves the other serving, with everything that was acknowledged', async () => {
    const job = await bookJob(it)
    let next = 0
    const acknowledged: number[] = []
    const write = async (server: ServerProcess) => {
      for (let n = next++; n < 60; n = next++) {
        const answer = await at(server, owner.cookie)
          .post(`/api/jobs/${job.id}/notes`, { says: `note ${n}` })
          .catch(() => undefined)
        if (answer?.status === 201) acknowledged.push(n)
        if (answer === undefined && !server.running()) return
        if (n === 20) await one.stop('SIGKILL')
      }
    }
    await Promise.all([write(one), write(one), write(two), write(two)])
    expect(one.running()).toBe(false)
    expect(acknowledged.length).toBeGreaterThan(40)
    const kept = await query<{ says: string }>(it.url, `SELECT says FROM job_event WHERE job_id = '${job.id}' AND says LIKE 'note %'`)
    const saved = kept.map((row) => Number(row.says.slice(5)))
    expect(acknowledged.filter((n) => !saved.includes(n))).toEqual([])
    expect(new Set(saved).size).toBe(saved.length)
    expect((await at(two, bench.cookie).get('/api/session')).status).toBe(200)
    expect((await ask(`${two.address}/api/ready`)).body).toEqual({ ok: true })
    expect(await two.stop()).toBe(0)
  })
})
