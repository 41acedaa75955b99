import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'
import { addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench', { name: 'Marek' })
const owner = await it.as('owner', { name: 'Ewa' })
const sheet = await addEngine(it)

/** A job with money, a word to the customer and a box with the owner's word: everything that the bench may not see. */
const job = await bookJob(it, {
  engineId: sheet.id,
  customer: { name: 'Secret Name', phone: '0161 496 7777', mail: 'secret@mail.example', address: 'Secret Lane 1' },
  promisedOn: '2026-12-01',
  feeYesBy: 'Secret Name',
  feeYesHow: 'by phone',
  depositMinor: 7701,
  depositHow: 'card',
  cameWith: [{ what: 'keys', count: 2 }],
})
await counter.post(`/api/jobs/${job.id}/quotes`, { totalMinor: 7702, text: 'secret text' }).expect(201)
await counter.post(`/api/jobs/${job.id}/yes`, { quoteVersion: 1, by: 'Secret Name', how: 'by mail' }).expect(201)
await counter.post(`/api/jobs/${job.id}/payments`, { amountMinor: 1, what: 'payment', how: 'cash' }).expect(201)
await counter.post(`/api/jobs/${job.id}/told`, { says: 'secret words, 7703', how: 'by text' }).expect(201)
await owner.put(`/api/jobs/${job.id}/box`, { items: [{ what: 'keys', came: 2, back: 2 }], ownersWord: 'secret reason' }, 0).expect(200)

/** The customer was told then; the route would write it at the time of the clock. */
async function toldAt(jobId: string, at: string) {
  await it.db.pool.query(
    `INSERT INTO job_event (id, job_id, kind, says, occurred_at, recorded_at, data)
     VALUES (gen_random_uuid(), $1, 'told', 'The customer was told, by phone.', $2, $2, '{"told": "soon", "how": "by phone"}')`,
    [jobId, at],
  )
}

describe('the page of a job', () => {
  test('shows the counter and the owner all of it', async () => {
    const page = (await counter.get(`/api/jobs/${job.id}`).expect(200)).body
    expect(page).toMatchObject({
      customer: { name: 'Secret Name', owes: 0 },
      owes: 0,
      deposit: 7701,
      feeYesBy: 'Secret Name',
      quotes: [{ version: 1, totalMinor: 7702, madeBy: 'Hana', yes: { by: 'Secret Name', how: 'by mail', enteredBy: 'Hana' } }],
      payments: [{ amountMinor: 7701 }, { amountMinor: 1 }],
      lastTold: { says: 'secret words, 7703', how: 'by text' },
      box: { items: [{ what: 'keys', came: 2, back: 2 }], ownersWord: 'secret reason', checkedBy: 'Ewa', version: 1 },
      steps: [{ step: 'booked', by: 'Maker' }],
      passes: [],
    })
    expect((await owner.get(`/api/jobs/${job.id}`)).body).toEqual(page)
  })

  test('tells the bench no name, no phone, no address and no price, wherever they might stand', async () => {
    const answers = await Promise.all(
      ['', '/events?limit=200', '/photos'].map((part) => bench.get(`/api/jobs/${job.id}${part}`).expect(200)),
    )
    answers.push(await bench.get('/api/jobs?list=all').expect(200), await bench.get(`/api/find?q=${job.tag}`).expect(200))
    for (const answer of answers) {
      expect(answer.text).not.toMatch(/secret/i)
      expect(answer.text).not.toMatch(/496 ?7777|77\.0[123]|770[123]/)
    }
    const page = answers[0]!.body
    for (const field of ['customer', 'owes', 'deposit', 'quotes', 'payments', 'feeYesBy', 'feeYesHow', 'lastTold'])
      expect([field, field in page]).toEqual([field, false])
    expect(page).toMatchObject({ tag: job.tag, promisedOn: '2026-12-01', box: { items: [{ what: 'keys' }] } })
  })

  test('counts the pressings of its webs over all jobs, those struck out not', async () => {
    const press = (jobId: string, side: string, more: { direction?: string; struck?: boolean } = {}) =>
      it.db.pool.query(
        `INSERT INTO pressing (id, job_id, crank_id, direction, side, peak_tonnes, person_id, occurred_at, recorded_at, struck_at, struck_because)
         VALUES (gen_random_uuid(), $1, $2, $3, $4, 5, $5, now(), now(), $6, $7)`,
        [
          jobId,
          job.crank.id,
          more.direction ?? 'together',
          side,
          bench.person.id,
          more.struck ? new Date() : null,
          more.struck ? 'slip' : null,
        ],
      )
    await press(job.id, 'left')
    await press(job.id, 'left')
    await press(job.id, 'right')
    await press(job.id, 'right', { struck: true })
    await press(job.id, 'right', { direction: 'apart' })
    expect((await bench.get(`/api/jobs/${job.id}`)).body.crank.pressedHere).toEqual({ left: 2, right: 1 })
  })

  test('leaves out steps that were taken back', async () => {
    const own = await bookJob(it, { engineId: sheet.id })
    const reach = (step: string, at: string, undone: string | null) =>
      it.db.pool.query('INSERT INTO job_step (id, job_id, step, person_id, at, undone_at) VALUES (gen_random_uuid(), $1, $2, $3, $4, $5)', [
        own.id,
        step,
        bench.person.id,
        at,
        undone,
      ])
    await reach('measured', '2026-11-24T09:10:00Z', '2026-11-24T09:20:00Z')
    await reach('measured', '2026-11-24T09:30:00.250Z', null)
    const { steps } = (await bench.get(`/api/jobs/${own.id}`)).body
    expect(steps.map((one: { step: string; at: string }) => [one.step, one.at])).toEqual([
      ['booked', '2026-11-24T09:00:00.000Z'],
      ['measured', '2026-11-24T09:30:00.250Z'],
    ])
  })

  test('is late from the day after the promise in the shop’s zone, and told late only once told since', async () => {
    const own = await bookJob(it, { engineId: sheet.id, promisedOn: '2026-11-24' })
    const page = async () => (await counter.get(`/api/jobs/${own.id}`)).body
    await owner.put('/api/settings', { ...(await settings()), zone: 'Pacific/Kiritimati' }, await settingsVersion()).expect(200)
    // 09:00 in UTC is 23:00 of the same day fourteen hours ahead; an hour later the next day has begun there.
    expect(await page()).toMatchObject({ late: false, toldLate: false })
    await toldAt(own.id, '2026-11-24T09:30:00Z')
    it.clock.pass(60)
    expect(await page()).toMatchObject({ late: true, daysLate: 1, toldLate: false })
    await toldAt(own.id, '2026-11-24T10:00:00Z')
    expect(await page()).toMatchObject({ late: true, toldLate: true })
    const [row] = (await counter.get('/api/jobs?list=late')).body.rows
    expect(row).toMatchObject({ tag: own.tag, late: true, daysLate: 1, toldLate: true })
    expect((await counter.get('/api/jobs')).body.today).toBe('2026-11-25')
  })

  test('is there for those who are signed in, where there is one', async () => {
    await it.nobody().get(`/api/jobs/${job.id}`).expect(401)
    await bench.get(`/api/jobs/${randomUUID()}`).expect(404)
    await bench.get('/api/jobs/318-V').expect(400)
  })
})

async function settings(): Promise<object> {
  const { version: _version, ...rest } = (await owner.get('/api/settings').expect(200)).body
  return rest
}

async function settingsVersion(): Promise<number> {
  return (await owner.get('/api/settings').expect(200)).body.version
}
