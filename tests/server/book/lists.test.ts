import { describe, expect, test } from 'vitest'
import type { Booking, JobRow } from '#contract/jobs.ts'
import { startApp } from '#tests/support/app.ts'
import { addCustomer, addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench', { name: 'Marek' })
const sheet = await addEngine(it, { code: 'R449-4X' })
const customer = await addCustomer(it, { name: 'Hollis, A.' })

async function book(promisedOn?: string, more: Partial<Booking> = {}) {
  return bookJob(it, { engineId: sheet.id, customer: { id: customer.id }, ...(promisedOn === undefined ? {} : { promisedOn }), ...more })
}

async function rowsOf(list: string, agent = counter): Promise<JobRow[]> {
  return (await agent.get(`/api/jobs?list=${list}`).expect(200)).body.rows
}

async function tagsOf(list: string, agent = counter): Promise<string[]> {
  return (await rowsOf(list, agent)).map((row) => row.tag)
}

/** A day goes by: nothing can be promised for yesterday, so the promise is moved under it. */
async function promiseWas(promisedOn: string, ...ids: string[]) {
  await it.db.pool.query('UPDATE job SET promised_on = $1 WHERE id = ANY($2)', [promisedOn, ids])
}

/** Steps are another slice's; the book only reads where a job stands. */
async function standsAt(id: string, state: string) {
  await it.db.pool.query('UPDATE job SET state = $2 WHERE id = $1', [id, state])
  await it.db.pool.query('INSERT INTO job_step (id, job_id, step, person_id, at) VALUES (gen_random_uuid(), $1, $2, $3, $4)', [
    id,
    state,
    bench.person.id,
    it.clock.now,
  ])
}

async function waitsFor(id: string, what: string) {
  await counter.post(`/api/jobs/${id}/waits`, { what }).expect(201)
}

test('an empty book answers an empty list, no counts, and today in the shop’s zone', async () => {
  const answer = await counter.get('/api/jobs').expect(200)
  expect(answer.body).toEqual({
    rows: [],
    next: null,
    today: '2026-11-24',
    counts: { house: 0, late: 0, waitingKit: 0, waitingYes: 0, ready: 0 },
  })
})

describe('the lists', () => {
  test('hold what they say, by promise with those without one last, and count it', async () => {
    const soon = await book('2026-11-25')
    const never = await book()
    const late = await book('2026-11-24', { place: 'rack B', depositMinor: 6000, depositHow: 'cash' })
    const lateSigned = await book('2026-11-24')
    const sameDay = await book('2026-11-25')
    const gone = await book('2026-11-24')
    const back = await book('2026-11-24')
    await promiseWas('2026-11-23', late.id, lateSigned.id, gone.id, back.id)
    await standsAt(lateSigned.id, 'signed')
    await standsAt(gone.id, 'gone')
    await standsAt(back.id, 'given-back')
    await waitsFor(soon.id, 'kit')
    await counter.post(`/api/jobs/${never.id}/quotes`, { totalMinor: 26_800, text: 'rebuild' }).expect(201)

    expect(await tagsOf('house')).toEqual([late.tag, lateSigned.tag, soon.tag, sameDay.tag, never.tag])
    expect(await tagsOf('late')).toEqual([late.tag])
    expect(await tagsOf('waiting-kit')).toEqual([soon.tag])
    expect(await tagsOf('waiting-yes')).toEqual([never.tag])
    expect(await tagsOf('ready')).toEqual([lateSigned.tag])
    expect(await tagsOf('gone')).toEqual([back.tag, gone.tag])
    expect(await tagsOf('all')).toEqual([back.tag, gone.tag, sameDay.tag, lateSigned.tag, late.tag, never.tag, soon.tag])
    const page = (await counter.get('/api/jobs').expect(200)).body
    expect(page.counts).toEqual({ house: 5, late: 1, waitingKit: 1, waitingYes: 1, ready: 1 })
    expect(page.today).toBe('2026-11-24')

    const [first] = page.rows
    expect(first).toEqual({
      id: late.id,
      tag: late.tag,
      kind: 'rebuild',
      state: 'booked',
      whose: 'Hollis, A.',
      engine: 'Ruskhammar R449-4X',
      waiting: [],
      promisedOn: '2026-11-23',
      late: true,
      daysLate: 1,
      toldLate: false,
      place: 'rack B',
      deposit: 6000,
      bookedAt: '2026-11-24T09:00:00.000Z',
      comeback: false,
    })
    const byTag = (tag: string) => page.rows.find((row: JobRow) => row.tag === tag)
    expect(byTag(lateSigned.tag)).toMatchObject({ late: false, readySince: '2026-11-24T09:00:00.000Z' })
    expect(byTag(never.tag)).toMatchObject({ asked: 26_800, askedOn: '2026-11-24T09:00:00.000Z', waiting: [{ what: 'yes' }] })
    expect(byTag(soon.tag)).toMatchObject({ waiting: [{ what: 'kit', since: '2026-11-24T09:00:00.000Z' }] })
  })

  test('show the bench the same cranks without names and money', async () => {
    for (const list of ['house', 'late', 'ready', 'all']) expect(await tagsOf(list, bench)).toEqual(await tagsOf(list))
    const rows = await rowsOf('all', bench)
    for (const row of rows) for (const field of ['whose', 'owes', 'deposit', 'asked', 'askedOn']) expect(field in row).toBe(false)
    expect(rows.find((row) => row.place === 'rack B')).toMatchObject({ engine: 'Ruskhammar R449-4X', late: true })
  })

  test('the bench’s own list holds what the hand can do now', async () => {
    const held: [state: string, waits: string[], kind: Booking['kind'], isOn: boolean][] = [
      ['booked', [], 'rebuild', true],
      ['booked', ['kit', 'yes'], 'rebuild', true],
      ['booked', ['outside'], 'rebuild', false],
      ['measured', [], 'rebuild', false],
      ['measured', [], 'check-and-report', true],
      ['agreed', ['kit'], 'rebuild', true],
      ['agreed', ['yes'], 'rebuild', false],
      ['apart', ['kit'], 'rebuild', false],
      ['apart', [], 'rebuild', true],
      ['trued', [], 'weld-only', true],
      ['signed', [], 'rebuild', false],
      ['gone', [], 'rebuild', false],
    ]
    for (const [state, waits, kind, isOn] of held) {
      const job = await book(undefined, { kind })
      for (const what of waits) await waitsFor(job.id, what)
      if (state !== 'booked') await standsAt(job.id, state)
      expect([state, waits, kind, (await tagsOf('bench', bench)).includes(job.tag)]).toEqual([state, waits, kind, isOn])
    }
  })

  test.each(['house', 'all', 'bench'])('%s comes page by page, each crank once, also with the same promise', async (list) => {
    const whole = await tagsOf(list)
    const seen: string[] = []
    let next: string | null = null
    do {
      const page: { rows: JobRow[]; next: string | null } = (
        await counter.get(`/api/jobs?list=${list}&limit=3${next === null ? '' : `&after=${encodeURIComponent(next)}`}`).expect(200)
      ).body
      expect(page.rows.length).toBeLessThanOrEqual(3)
      seen.push(...page.rows.map((row) => row.tag))
      next = page.next
    } while (next !== null)
    expect(seen).toEqual(whole)
  })

  test.each([
    'list=nothing',
    'after=abc',
    'list=all&after=abc',
    'list=all&after=-',
    'after=2026-99-99%20x',
    'after=2026-11-24',
    'limit=1000',
    'x=1',
  ])('?%s is refused', async (query) => {
    const answer = await counter.get(`/api/jobs?${query}`)
    expect([answer.status, answer.body.type]).toEqual([400, '/problems/validation'])
  })

  test('are for those who are signed in', async () => {
    await it.nobody().get('/api/jobs').expect(401)
  })
})
