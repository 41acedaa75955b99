/** The twin that the service is timed against answers the same bodies and writes the same rows, so that it is a fair one. */
import { randomUUID } from 'node:crypto'
import { afterAll, describe, expect, inject, test } from 'vitest'
import { auditRows } from '#server/features/audit/store.ts'
import { verifyChain } from '#server/features/audit/verify.ts'
import { fillBook } from '#tests/speed/books.ts'
import { bookingOf, casesOf, runoutSet } from '#tests/speed/cases.ts'
import { ON_THE_FLOOR } from '#tests/speed/fill.ts'
import type { Asked } from '#tests/speed/load.ts'
import { PEOPLE } from '#tests/speed/people.ts'
import { buildTwin } from '#tests/speed/twin.ts'
import { startApp } from '#tests/support/app.ts'

const JOBS = 140
const it = await startApp()
const filling = { jobs: JOBS, years: 1, now: it.clock.now, people: PEOPLE, passwordHash: 'no password fits this' }
await fillBook(it.url, inject('roles'), filling)
const { cookie } = await it.as('owner')
const twin = buildTwin({ pool: it.db.pool, clock: () => it.clock.now })
afterAll(() => twin.close())

async function send(side: { inject: typeof twin.inject }, { method, path, body, key }: Asked): Promise<{ status: number; body: unknown }> {
  const answer = await side.inject({
    method,
    url: path,
    headers: { cookie, 'sec-fetch-site': 'same-origin', ...(key === undefined ? {} : { 'idempotency-key': key }) },
    ...(body === undefined ? {} : { payload: body }),
  })
  return { status: answer.statusCode, body: answer.json() }
}

const IDS = /[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12}/g

/** Without what every row has of its own: ids and the running number. */
function alike(body: unknown): unknown {
  return JSON.parse(
    JSON.stringify(body)
      .replace(IDS, 'id')
      .replace(/\d+-[A-Z]"/g, 'tag"'),
  )
}

async function rowCounts(): Promise<Record<string, number>> {
  const { rows: tables } = await it.db.pool.query<{ name: string }>(
    `SELECT table_name AS name FROM information_schema.tables WHERE table_schema = 'public' AND table_name <> '_prisma_migrations' ORDER BY 1`,
  )
  const counts = tables.map(({ name }) => `(SELECT count(*)::int FROM ${name}) AS ${name}`)
  return (await it.db.pool.query<Record<string, number>>(`SELECT ${counts.join(', ')}`)).rows[0]!
}

async function addedBy(work: () => Promise<unknown>): Promise<Record<string, number>> {
  const before = await rowCounts()
  await work()
  const after = await rowCounts()
  return Object.fromEntries(
    Object.entries(after).flatMap(([table, count]) => (count === before[table] ? [] : [[table, count - before[table]!]])),
  )
}

describe('the book that the speed is measured in', () => {
  test('has its floor, every step on it, and what went home behind it', async () => {
    const { rows } = await it.db.pool.query<{ state: string; n: number }>('SELECT state, count(*)::int AS n FROM job GROUP BY state')
    const counted = Object.fromEntries(rows.map(({ state, n }) => [state, n]))
    const { gone = 0, 'given-back': back = 0, ...floor } = counted
    expect(gone + back).toBe(JOBS - ON_THE_FLOOR)
    expect(Object.keys(floor).sort()).toEqual(['agreed', 'apart', 'booked', 'measured', 'signed', 'together', 'trued'])
  })

  test('is one that the service reads in every figure, with its sums in step', async () => {
    const owner = await it.as('owner')
    for (const path of ['first-check', 'comebacks', 'comebacks?by=lot', 'running', 'earning']) {
      const { status } = await owner.get(`/api/office/${path}`)
      expect({ path, status }).toEqual({ path, status: 200 })
    }
    const { body } = await owner.get('/api/office/running')
    expect(body.n).toBeGreaterThan(0)
  })
})

describe('the twin', () => {
  const reads = casesOf(JOBS).filter(({ kind }) => kind === 'read')
  test.each(reads.map(({ name, ask }) => [name, ask] as const))('answers what the service answers: %s', async (_name, ask) => {
    for (let n = 0; n < 12; n++) {
      const asked = ask(n)
      const service = await send(it.app, asked)
      expect(service.status).toBe(200)
      expect(await send(twin, asked)).toEqual(service)
    }
  })

  test('finds something wherever the measurement searches', async () => {
    const find = reads.find(({ name }) => name === 'find')!
    for (let n = 0; n < 40; n++) {
      const { body } = await send(it.app, find.ask(n))
      expect({ asked: find.ask(n).path, rows: (body as { rows: unknown[] }).rows.length }).toMatchObject({ rows: expect.any(Number) })
      expect((body as { rows: unknown[] }).rows.length).toBeGreaterThan(0)
    }
  })

  test('writes the rows of the service and answers its bodies, and both stand in one audit chain', async () => {
    const booking = (): Asked => ({ method: 'POST', path: '/api/jobs', body: bookingOf(7), key: randomUUID() })
    const booked: { status: number; body: unknown }[] = []
    const service = await addedBy(async () => booked.push(await send(it.app, booking())))
    const bare = await addedBy(async () => booked.push(await send(twin, booking())))
    expect(booked.map(({ status }) => status)).toEqual([201, 201])
    expect(alike(booked[1]!.body)).toEqual(alike(booked[0]!.body))
    expect(bare).toEqual(service)
    expect(service).toMatchObject({ job: 1, customer: 1, crank: 1, job_step: 1, job_event: 1, payment: 1, audit_row: 2, idempotency: 1 })

    const [first, second] = booked.map(({ body }) => (body as { id: string }).id)
    const runout = (id: string | undefined): Asked => ({
      method: 'POST',
      path: `/api/jobs/${id}/measurements`,
      body: runoutSet(),
      key: randomUUID(),
    })
    const taken: { status: number; body: unknown }[] = []
    const serviceSet = await addedBy(async () => taken.push(await send(it.app, runout(first))))
    const bareSet = await addedBy(async () => taken.push(await send(twin, runout(second))))
    expect(taken.map(({ status }) => status)).toEqual([201, 201])
    expect(alike(taken[1]!.body)).toEqual(alike(taken[0]!.body))
    expect(bareSet).toEqual(serviceSet)
    expect(serviceSet).toMatchObject({ measurement: 1, measurement_value: 18, job_event: 1, audit_row: 1, idempotency: 1 })

    const { fault, rows } = await verifyChain(auditRows(it.db.pool))
    expect(fault).toBeNull()
    expect(rows).toBeGreaterThan(JOBS)
  })

  test('gives a repeat the stored answer and writes nothing', async () => {
    const asked: Asked = { method: 'POST', path: '/api/jobs', body: bookingOf(8), key: randomUUID() }
    const once = await send(twin, asked)
    expect(await addedBy(async () => expect(await send(twin, asked)).toEqual(once))).toEqual({})
  })
})
