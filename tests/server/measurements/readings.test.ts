import { describe, expect, test } from 'vitest'
import type { Job } from '#contract/jobs.ts'
import { startApp } from '#tests/support/app.ts'
import { agree, handsOf, measureAsReceived, press, SET_UP, take, takeRunout, takeWidth, turnOf } from '#tests/support/bench-factories.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)

async function post(job: Job, body: object) {
  it.clock.pass(1)
  return h.bench.post(`/api/jobs/${job.id}/measurements`, body)
}

const width = { kind: 'width', phase: 'received', values: [{ place: '0', mm: 64 }] }

describe('a set of readings', () => {
  test('is kept as it was typed, with who read it and when by both clocks', async () => {
    const job = await bookJob(it)
    const answer = await post(job, {
      kind: 'play',
      phase: 'received',
      temperatureC: 21.5,
      note: 'rod at top',
      occurredAt: '2026-11-24T10:00:30+01:00',
      values: [{ place: 'up-down', mm: 0.02032, typed: '0,8 thou', unit: 'thou' }],
    })
    expect(answer.status).toBe(201)
    expect(answer.body).toMatchObject({
      kind: 'play',
      by: 'Jonas',
      byId: h.bench.person.id,
      occurredAt: '2026-11-24T09:00:30.000Z',
      recordedAt: it.clock.now.toISOString(),
      temperatureC: 21.5,
      note: 'rod at top',
      values: [{ place: 'up-down', mm: 0.02032, typed: '0,8 thou', unit: 'thou' }],
    })
    const read = await h.counter.get(`/api/jobs/${job.id}/measurements`).expect(200)
    expect(read.body).toEqual({ measurements: [answer.body], pressings: [], welds: [] })
    const events = await h.counter.get(`/api/jobs/${job.id}/events`).expect(200)
    expect(events.body.rows[0].says).toBe('Big-end play as received: read.')
  })

  test.each([
    ['a length that is not what was typed', [{ place: '0', mm: 64.1, typed: '64,01' }], '/values/0/mm', 'not-what-was-typed'],
    ['a thou taken for a millimetre', [{ place: '0', mm: 64, typed: '64 thou', unit: 'thou' }], '/values/0/mm', 'not-what-was-typed'],
    ['typed in another unit than said', [{ place: '0', mm: 0.0254, typed: '1 thou', unit: 'tenth' }], '/values/0/unit', 'other-unit'],
    ['two decimal marks', [{ place: '0', mm: 64, typed: '6.4,0' }], '/values/0/typed', 'second-mark'],
    ['no length at all', [{ place: '0', mm: 64, typed: 'about 64' }], '/values/0/typed', 'no-figure'],
    ['finer than the book keeps', [{ place: '0', mm: 64.000004 }], '/values/0/mm', 'too-fine'],
    ['less than nothing', [{ place: '0', mm: -64 }], '/values/0/mm', 'range'],
    [
      'one place twice',
      [
        { place: '0', mm: 64 },
        { place: '0', mm: 64.01 },
      ],
      '/values/1/place',
      'twice',
    ],
  ])('refuses %s, and names the field', async (_what, values, pointer, code) => {
    const answer = await post(await bookJob(it), { ...width, values })
    expect(answer.status).toBe(400)
    expect(answer.body.errors).toEqual(expect.arrayContaining([expect.objectContaining({ pointer, code })]))
  })

  test('half a tenth and a tenth are exact', async () => {
    const answer = await post(await bookJob(it), {
      kind: 'rod',
      phase: 'received',
      values: [
        { place: 'bend', mm: 0.00254, typed: '1 tenth', unit: 'tenth' },
        { place: 'twist', mm: 0.00127, typed: '0.5', unit: 'tenth' },
      ],
    })
    expect(answer.status).toBe(201)
    expect(answer.body.values.map((value: { mm: number }) => value.mm)).toEqual([0.00254, 0.00127])
  })

  test('is either read, or not read for a reason', async () => {
    const job = await bookJob(it)
    expect((await post(job, { ...width, values: [] })).status).toBe(400)
    expect((await post(job, { ...width, notReadBecause: 'the micrometer is away' })).status).toBe(400)
    const answer = await post(job, { ...width, values: [], notReadBecause: 'the micrometer is away' })
    expect(answer.status).toBe(201)
    expect(answer.body).toMatchObject({ values: [], notReadBecause: 'the micrometer is away' })
  })

  test('is refused with a field missing, a place of another kind, an instrument that is not there or no dial', async () => {
    const job = await bookJob(it)
    expect((await post(job, { kind: 'width', values: [{ place: '0', mm: 64 }] })).status).toBe(400)
    expect((await post(job, { ...width, values: [{ place: 'left', mm: 64 }] })).body.errors[0].pointer).toBe('/values/0/place')
    const unknown = await post(job, { ...width, instrumentId: '01930000-0000-7000-8000-00000000dead' })
    expect(unknown.body.errors).toEqual([expect.objectContaining({ pointer: '/instrumentId', code: 'unknown' })])
    const gauge = await h.owner.post('/api/instruments', { name: 'micrometer 2', kind: 'micrometer', stepMm: 0.01 }).expect(201)
    const noDial = await post(job, { kind: 'runout', phase: 'received', setup: SET_UP, instrumentId: gauge.body.id, values: turnOf({}) })
    expect(noDial.body.errors).toEqual([expect.objectContaining({ pointer: '/instrumentId', code: 'no-dial' })])
    await h.owner.patch(`/api/instruments/${gauge.body.id}`, { ended: true }, 1).expect(200)
    const ended = await post(job, { ...width, instrumentId: gauge.body.id })
    expect(ended.body.errors).toEqual([expect.objectContaining({ pointer: '/instrumentId', code: 'ended' })])
  })

  test('is the bench’s to take: not the counter’s, not a stranger’s', async () => {
    const job = await bookJob(it)
    await h.counter.post(`/api/jobs/${job.id}/measurements`, width).expect(403)
    await it.nobody().post(`/api/jobs/${job.id}/measurements`, width).expect(401)
    await it.nobody().get(`/api/jobs/${job.id}/measurements`).expect(401)
    await h.bench.post('/api/jobs/01930000-0000-7000-8000-00000000dead/measurements', width).expect(404)
    await h.bench.get('/api/jobs/01930000-0000-7000-8000-00000000dead/measurements').expect(404)
  })

  test('as received cannot be taken once the webs were moved, but one of before may still be written down', async () => {
    const job = await bookJob(it)
    await measureAsReceived(h, job)
    await agree(h, job)
    const before = it.clock.now.toISOString()
    await press(h, job, { direction: 'apart', side: 'left', peakTonnes: 9 })
    expect((await post(job, width)).status).toBe(409)
    expect((await post(job, { ...width, occurredAt: before })).status).toBe(201)
  })

  test('of a report is as received and nothing else', async () => {
    const job = await bookJob(it, { kind: 'check-and-report' })
    const answer = await post(job, { ...width, phase: 'built' })
    expect(answer.body.errors).toEqual([expect.objectContaining({ pointer: '/phase' })])
  })

  test('is taken no more of a job that is closed', async () => {
    const job = await bookJob(it)
    await h.counter.post(`/api/jobs/${job.id}/end`, { end: 'scrapped', reason: 'cracked' }).expect(200)
    expect((await post(job, width)).status).toBe(409)
  })
})

describe('striking out', () => {
  test('keeps the set with its reason, and the one before it stands again', async () => {
    const job = await bookJob(it)
    await takeRunout(h, h.bench, job, 'received', { swingMm: 0.1 })
    const first = await takeWidth(h, h.bench, job, 'received')
    const wrong = await take(h, h.bench, job, { kind: 'width', phase: 'received', values: [{ place: '0', mm: 46 }] })
    const gate = async () => (await h.bench.get(`/api/jobs/${job.id}/gate`).expect(200)).body.missing
    expect(await gate()).toHaveLength(1)
    it.clock.pass(1)
    const struck = await h.bench.post(`/api/measurements/${wrong.id}/strike`, { because: 'keyed 46 for 64' }).expect(200)
    expect(struck.body).toMatchObject({ id: wrong.id, values: wrong.values, struck: { by: 'Jonas', because: 'keyed 46 for 64' } })
    expect(await gate()).toEqual([])
    const { measurements } = (await h.bench.get(`/api/jobs/${job.id}/measurements`).expect(200)).body
    expect(measurements.map((set: { id: string }) => set.id)).toContain(wrong.id)
    expect(measurements.find((set: { id: string }) => set.id === first.id).struck).toBeUndefined()
    await h.bench.post(`/api/measurements/${wrong.id}/strike`, { because: 'again' }).expect(409)
    await h.bench.post(`/api/measurements/${wrong.id}/strike`, {}).expect(400)
    await h.counter.post(`/api/measurements/${first.id}/strike`, { because: 'no' }).expect(403)
    await h.bench.post('/api/measurements/01930000-0000-7000-8000-00000000dead/strike', { because: 'no' }).expect(404)
  })

  test('is all that the database lets anybody do to a set', async () => {
    const job = await bookJob(it)
    const set = await takeWidth(h, h.bench, job, 'received')
    await expect(it.db.pool.query("UPDATE measurement SET kind = 'play' WHERE id = $1", [set.id])).rejects.toThrow()
    await expect(it.db.pool.query('UPDATE measurement_value SET mm = 1 WHERE measurement_id = $1', [set.id])).rejects.toThrow()
    await expect(it.db.pool.query('DELETE FROM measurement WHERE id = $1', [set.id])).rejects.toThrow()
  })
})
