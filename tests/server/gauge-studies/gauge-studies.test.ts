import { parse } from 'csv-parse/sync'
import { beforeAll, describe, expect, test } from 'vitest'
import type { AuditLine } from '#contract/audit.ts'
import type { GaugeStudy } from '#contract/gauge-studies.ts'
import { gaugeStudy } from '#contract/gauge-studies.ts'
import type { Instrument } from '#contract/instruments.ts'
import { type Agent, startApp } from '#tests/support/app.ts'
import vectors from '#tests/vectors/gauge.json' with { type: 'json' }

const it = await startApp()
const owner = await it.as('owner', { name: 'Ewa' })
const jonas = await it.as('bench', { name: 'Jonas' })
const marek = await it.as('bench', { name: 'Marek' })
const other = await it.as('bench')
const counter = await it.as('counter')
let dial: Instrument

beforeAll(async () => {
  dial = (await jonas.post('/api/instruments', { name: 'dial 4', kind: 'dial', stepMm: 0.001 }).expect(201)).body
})

async function start(more: object = {}): Promise<GaugeStudy> {
  const body = {
    name: 'dial 4 on two cranks',
    instrumentId: dial.id,
    what: 'full swing at the left end',
    toleranceMm: 0.02,
    parts: ['crank A', 'crank B'],
    people: [jonas.person.id, marek.person.id],
    rounds: 2,
    ...more,
  }
  return (await jonas.post('/api/gauge-studies', body).expect(201)).body
}

/** Reads what comes next, until it has read so often or all. */
async function readOn(by: Agent, id: string, mmOf: (at: { part: number; round: number }) => number, times = Number.POSITIVE_INFINITY) {
  let study = (await by.get(`/api/gauge-studies/${id}`).expect(200)).body as GaugeStudy
  for (let done = 0; done < times && study.next; done++) {
    it.clock.pass(1)
    study = (await by.post(`/api/gauge-studies/${id}/readings`, { ...study.next, mm: mmOf(study.next) }).expect(201)).body
  }
  return study
}

describe('a gauge study', () => {
  test('of the published readings, entered over the wire, comes to the published figures', async () => {
    // AIAG, Measurement Systems Analysis, 4th edition (2010), gauge study example: ten parts, three people, three times.
    const { data, expected, tolerance, isPooled } = vectors[0]!
    const people = [jonas, marek, owner]
    const study = await start({
      parts: data.map((_, index) => `part ${index + 1}`),
      people: people.map((one) => one.person.id),
      rounds: 3,
      toleranceMm: undefined,
    })
    expect(study).toMatchObject({ state: 'open', taken: 0, wanted: 90 })
    for (const [index, by] of people.entries()) await readOn(by, study.id, ({ part, round }) => data[part - 1]![index]![round - 1]!)
    const whole = (await other.get(`/api/gauge-studies/${study.id}`).expect(200)).body as GaugeStudy
    expect(whole).toMatchObject({ state: 'all-in', taken: 90, result: { verdict: 'usable' } })
    expect(whole.result?.answer?.method.name.includes('pooled')).toBe(isPooled)
    for (const [name, value] of Object.entries(expected)) {
      const got = whole.result?.answer?.[name as keyof typeof expected] as number
      expect(Math.abs(got - value), name).toBeLessThanOrEqual(tolerance)
    }
    expect(whole.result?.says[1]).toContain('4 steps')

    const file = await jonas.get(`/api/gauge-studies/${study.id}/readings.csv`).expect(200)
    const rows = parse(file.text, { bom: true, columns: true }) as Record<string, string>[]
    expect(rows).toHaveLength(90)
    expect(rows[0]).toEqual({ part: 'part 1', person: 'Jonas', round: '1', reading_mm: String(data[0]![0]![0]) })
  })

  test('shows nobody anybody’s readings until all are in, on no way in', async () => {
    const study = await start({ name: 'blind' })
    const secret = 0.01237
    await readOn(jonas, study.id, () => secret, 3)
    const ways = [`/api/gauge-studies/${study.id}`, '/api/gauge-studies', '/api/audit', `/api/audit?thing=instrument`]
    for (const by of [marek, owner, other])
      for (const way of ways) {
        const answer = await by.get(way)
        if (by === owner || !way.startsWith('/api/audit')) expect(answer.status, way).toBe(200)
        expect(answer.text, way).not.toContain(String(secret))
      }
    const refused = await owner.get(`/api/gauge-studies/${study.id}/readings.csv`).expect(409)
    expect(refused.text).not.toContain(String(secret))
    const chain = await it.db.pool.query("SELECT payload FROM audit_row WHERE entity = 'gauge_study' AND entity_id = $1", [study.id])
    expect(chain.rowCount).toBe(4)
    expect(JSON.stringify(chain.rows)).not.toContain(String(secret))

    // Of their own, too, only the last one typed: what this part read before stays out of sight.
    const own = (await jonas.get(`/api/gauge-studies/${study.id}`).expect(200)).body as GaugeStudy
    expect(own.result).toBeUndefined()
    expect(JSON.stringify(own).split(String(secret))).toHaveLength(2)
    expect(own.last).toMatchObject({ mm: secret })
    expect(own.people.map((one) => [one.name, one.taken, one.wanted])).toEqual([
      ['Jonas', 3, 4],
      ['Marek', 0, 4],
    ])

    await readOn(jonas, study.id, () => 0.013)
    const waiting = (await jonas.get(`/api/gauge-studies/${study.id}`).expect(200)).body as GaugeStudy
    expect(waiting).toMatchObject({ state: 'open', next: null })
    await readOn(marek, study.id, ({ part }) => 0.01 + part / 1000)
    const all = (await owner.get(`/api/gauge-studies/${study.id}`).expect(200)).body as GaugeStudy
    expect(gaugeStudy.parse(all)).toEqual(all)
    expect(all.result?.readings.filter((one) => one.mm === secret)).toHaveLength(3)
    expect(all.closedAt).toBe(it.clock.now.toISOString())
  })

  test('takes the parts in each person’s own order, and no other', async () => {
    const study = await start({ parts: ['A', 'B', 'C'] })
    const first = (await jonas.get(`/api/gauge-studies/${study.id}`).expect(200)).body as GaugeStudy
    const wrong = { part: first.next!.part === 3 ? 1 : first.next!.part + 1, round: 1, mm: 0.01 }
    const refused = await jonas.post(`/api/gauge-studies/${study.id}/readings`, wrong).expect(409)
    expect(refused.body.detail).toBe(`${study.parts[first.next!.part - 1]} comes next, in round 1.`)
    await other.post(`/api/gauge-studies/${study.id}/readings`, { ...first.next, mm: 0.01 }).expect(403)
    await jonas.post(`/api/gauge-studies/${study.id}/readings`, { part: 1, round: 1 }).expect(400)
    await counter.post(`/api/gauge-studies/${study.id}/readings`, { ...first.next, mm: 0.01 }).expect(403)
    await it
      .nobody()
      .post(`/api/gauge-studies/${study.id}/readings`, { ...first.next, mm: 0.01 })
      .expect(401)
    const seen = (await other.get(`/api/gauge-studies/${study.id}`).expect(200)).body
    expect('next' in seen).toBe(false)
  })

  test('a reading that was mistyped is struck out by whoever typed it, and read again', async () => {
    const study = await start()
    const wrong = await readOn(jonas, study.id, () => 1.2, 1)
    const address = `/api/gauge-readings/${wrong.last!.id}/strike`
    await jonas.post(address, {}).expect(400)
    await marek.post(address, { because: 'not mine' }).expect(403)
    await counter.post(address, { because: 'x' }).expect(403)
    await it.nobody().post(address, { because: 'x' }).expect(401)
    const back = (await jonas.post(address, { because: 'the comma was missing' }).expect(200)).body as GaugeStudy
    expect(back.next).toEqual({ part: wrong.last!.part, round: wrong.last!.round })
    expect(back.taken).toBe(0)
    await jonas.post(address, { because: 'again' }).expect(409)
    await readOn(jonas, study.id, () => 0.012)
    await readOn(marek, study.id, () => 0.011)
    const late = (await jonas.get(`/api/gauge-studies/${study.id}`)).body as GaugeStudy
    expect(late.result?.readings.map((one) => one.mm)).not.toContain(1.2)
    await expect(it.db.pool.query('UPDATE gauge_reading SET mm = 0 WHERE study_id = $1', [study.id])).rejects.toThrow(
      /permission denied|never changed/,
    )
  })

  test('that cannot be worked out says why', async () => {
    const study = await start()
    await readOn(jonas, study.id, () => 0.01)
    const last = await readOn(marek, study.id, () => 0.01)
    expect(last.result).toEqual({
      readings: expect.any(Array),
      says: ['All readings are the same; the gauge may be too coarse to tell the parts apart.'],
    })
  })

  test('is given up by whoever started it or the owner, and then never shows its readings', async () => {
    const study = await start({ name: 'not finished' })
    await readOn(jonas, study.id, () => 0.01234, 2)
    const address = `/api/gauge-studies/${study.id}/give-up`
    await jonas.post(address, {}).expect(400)
    await marek.post(address, { because: 'x' }).expect(403)
    await counter.post(address, { because: 'x' }).expect(403)
    await it.nobody().post(address, { because: 'x' }).expect(401)
    const up = await owner.post(address, { because: 'crank B went home' }).expect(200)
    expect(up.body).toMatchObject({ state: 'given-up', closedBecause: 'crank B went home' })
    expect(up.text).not.toContain('0.01234')
    await jonas.post(address, { because: 'again' }).expect(409)
    await jonas.post(`/api/gauge-studies/${study.id}/readings`, { part: 1, round: 2, mm: 0.01 }).expect(409)
    await owner.get(`/api/gauge-studies/${study.id}/readings.csv`).expect(409)
  })

  test.each([
    ['/parts/1', { parts: ['A', 'A'] }],
    ['/people/1', { people: [jonas.person.id, jonas.person.id] }],
    ['/people', { people: [jonas.person.id, counter.person.id] }],
    ['/instrumentId', { instrumentId: '01930000-0000-7000-8000-00000000dead' }],
    ['/rounds', { rounds: 1 }],
    ['/parts', { parts: ['A'] }],
    ['/name', { name: undefined }],
  ])('is not started with a fault at %s', async (pointer, more) => {
    const body = {
      name: 'x',
      instrumentId: dial.id,
      what: 'width',
      parts: ['A', 'B'],
      people: [jonas.person.id, marek.person.id],
      rounds: 2,
      ...more,
    }
    const refused = await jonas.post('/api/gauge-studies', body).expect(400)
    expect(refused.body.errors.map((one: { pointer: string }) => one.pointer)).toEqual([pointer])
  })

  test('a reading is called by its part and round in the audit, and its figure is not told', async () => {
    const study = await start()
    const { next } = study
    await readOn(jonas, study.id, () => 0.0437, 1)
    const { rows } = (await owner.get(`/api/audit?action=${encodeURIComponent('read gauge study')}`).expect(200)).body as {
      rows: AuditLine[]
    }
    expect(rows[0]?.about.says).toBe(study.name)
    expect(rows[0]?.changes.find((one) => one.field === 'reading')?.after).toBe(`part ${next?.part}, round 1`)
    expect(JSON.stringify(rows[0])).not.toContain('0.0437')
  })

  test('is not for the counter, nor for the signed out; the list is paged, newest first', async () => {
    for (const way of ['/api/gauge-studies', `/api/gauge-studies/${(await start()).id}`]) {
      await counter.get(way).expect(403)
      await it.nobody().get(way).expect(401)
    }
    await counter.post('/api/gauge-studies', {}).expect(403)
    await it.nobody().post('/api/gauge-studies', {}).expect(401)
    it.clock.pass(1)
    const newest = await start({ name: 'the newest' })
    const page = (await jonas.get('/api/gauge-studies?limit=1').expect(200)).body
    expect(page.rows.map((one: GaugeStudy) => one.id)).toEqual([newest.id])
    const rest = (await jonas.get(`/api/gauge-studies?after=${page.next}`).expect(200)).body
    expect(rest.rows.map((one: GaugeStudy) => one.id)).not.toContain(newest.id)
    expect(rest.rows.length).toBeGreaterThan(3)
    await jonas.get('/api/gauge-studies?after=x').expect(400)
    await jonas.get('/api/gauge-studies/01930000-0000-7000-8000-00000000dead').expect(404)
  })
})
