import { describe, expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'
import { handsOf } from '#tests/support/bench-factories.ts'
import { addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)
const naming = { maker: 'Ardenlow', part: 'R449-4X-K1', lot: 'A-2417', whose: 'ours' }

describe('kits', () => {
  test('are added once, and listed by engine and by words of maker, part or lot', async () => {
    const engine = await addEngine(it)
    const made = await h.counter.post('/api/kits', { maker: 'Stellmarch', part: 'F124-K-K2', engineId: engine.id }).expect(201)
    expect(made.body).toEqual({ id: expect.any(String), maker: 'Stellmarch', part: 'F124-K-K2', engineId: engine.id, lots: [] })
    const twice = await h.bench.post('/api/kits', { maker: 'Stellmarch', part: 'F124-K-K2' })
    expect(twice.body.errors).toEqual([expect.objectContaining({ pointer: '/part', code: 'taken' })])
    await h.bench.post('/api/kits', { maker: 'Stellmarch' }).expect(400)
    const lost = await h.bench.post('/api/kits', { maker: 'Stellmarch', part: 'X', engineId: '01930000-0000-7000-8000-00000000dead' })
    expect(lost.body.errors[0].pointer).toBe('/engineId')
    await it.nobody().get('/api/kits').expect(401)
    const job = await bookJob(it)
    await h.bench.post(`/api/jobs/${job.id}/kit`, naming).expect(201)
    const listed = async (query: string) =>
      (await h.counter.get(`/api/kits${query}`).expect(200)).body.map((kit: { part: string }) => kit.part)
    expect(await listed('')).toEqual(['R449-4X-K1', 'F124-K-K2'])
    expect(await listed(`?engineId=${engine.id}`)).toEqual(['F124-K-K2'])
    expect(await listed('?q=a-24')).toEqual(['R449-4X-K1'])
    expect(await listed('?q=stell')).toEqual(['F124-K-K2'])
    expect(await listed('?q=%25')).toEqual([])
  })
})

describe('naming the kit of a job', () => {
  test('adds what is new, ends the wait for it, and counts the crank with its lot', async () => {
    const job = await bookJob(it)
    await h.counter.post(`/api/jobs/${job.id}/waits`, { what: 'kit', note: 'from Ardenlow' }).expect(201)
    const named = await h.counter.post(`/api/jobs/${job.id}/kit`, { ...naming, lot: 'A-2501' }).expect(201)
    expect(named.body).toEqual({ ...naming, lot: 'A-2501' })
    expect((await h.counter.get(`/api/jobs/${job.id}`).expect(200)).body.waiting).toEqual([])
    const other = await bookJob(it)
    await h.bench.post(`/api/jobs/${other.id}/kit`, { ...naming, lot: 'A-2501', whose: 'theirs' }).expect(201)
    const [kit] = (await h.counter.get('/api/kits?q=A-2501').expect(200)).body
    expect(kit.lots.find((lot: { lot: string }) => lot.lot === 'A-2501')).toMatchObject({ fitted: 2 })
    const events = await h.bench.get(`/api/jobs/${job.id}/events`).expect(200)
    expect(events.body.rows[0].says).toBe('Kit: Ardenlow R449-4X-K1, lot A-2501, ours. It waits for the kit no more.')
  })

  test('again strikes the earlier one out', async () => {
    const job = await bookJob(it)
    await h.bench.post(`/api/jobs/${job.id}/kit`, { ...naming, lot: 'A-2601' }).expect(201)
    await h.bench.post(`/api/jobs/${job.id}/kit`, { ...naming, lot: 'A-2602' }).expect(201)
    const bench = (await h.bench.get(`/api/jobs/${job.id}/measurements`).expect(200)).body
    expect(bench.kit).toEqual({ ...naming, lot: 'A-2602' })
    const rows = await it.db.pool.query(
      'SELECT l.lot, f.struck_because FROM kit_fitted f JOIN kit_lot l ON l.id = f.kit_lot_id WHERE f.job_id = $1 ORDER BY l.lot',
      [job.id],
    )
    expect(rows.rows).toEqual([
      { lot: 'A-2601', struck_because: 'Another kit was named.' },
      { lot: 'A-2602', struck_because: null },
    ])
    const [kit] = (await h.counter.get('/api/kits?q=A-2601').expect(200)).body
    expect(kit.lots.find((lot: { lot: string }) => lot.lot === 'A-2601')).toMatchObject({ fitted: 0 })
  })

  test('of one lot on twenty jobs at once makes one model and one lot', async () => {
    const jobs = await Promise.all(Array.from({ length: 20 }, () => bookJob(it)))
    const answers = await Promise.all(
      jobs.map((job) => h.bench.post(`/api/jobs/${job.id}/kit`, { ...naming, part: 'NEW-K1', lot: 'A-3000' })),
    )
    expect(answers.map((answer) => answer.status)).toEqual(answers.map(() => 201))
    const [kit, ...others] = (await h.counter.get('/api/kits?q=NEW-K1').expect(200)).body
    expect(others).toEqual([])
    expect(kit.lots).toEqual([{ id: expect.any(String), lot: 'A-3000', fitted: 20 }])
  })

  test('is refused with a field missing, of a job that is not there, or closed', async () => {
    const job = await bookJob(it)
    await h.bench.post(`/api/jobs/${job.id}/kit`, { ...naming, lot: undefined }).expect(400)
    await h.bench.post('/api/jobs/01930000-0000-7000-8000-00000000dead/kit', naming).expect(404)
    await it.nobody().post(`/api/jobs/${job.id}/kit`, naming).expect(401)
    await h.counter.post(`/api/jobs/${job.id}/end`, { end: 'given-back', reason: 'sold' }).expect(200)
    await h.bench.post(`/api/jobs/${job.id}/kit`, naming).expect(409)
  })
})
