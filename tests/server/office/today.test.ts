import { beforeAll, describe, expect, test } from 'vitest'
import type { OfficeToday } from '#contract/office-today.ts'
import { startApp } from '#tests/support/app.ts'
import { addEngine } from '#tests/support/factories.ts'
import { addHours, type PastJob, pastJob } from '#tests/support/office-factories.ts'

/** Tuesday 24 November 2026, 09:00 UTC, in a shop where it is ten o’clock. */
const it = await startApp()
const owner = await it.as('owner', { name: 'Ewa' })
const jonas = await it.as('bench', { name: 'Jonas' })
const settings = (await owner.get('/api/settings')).body
const { version, ...rest } = settings
await owner.put('/api/settings', { ...rest, zone: 'Europe/Berlin', benchHoursWeek: 32 }, version).expect(200)

const read = async (by = owner) => (await by.get('/api/office').expect(200)).body as OfficeToday
const tagsOf = async (figure: string) => {
  const { body } = await owner.get(`/api/office/cranks?${figure}`).expect(200)
  return { n: body.n as number, tags: (body.rows as { tag: string }[]).map((row) => row.tag).sort() }
}
const sorted = (jobs: readonly PastJob[]) => jobs.map((job) => job.tag).sort()

describe('what stands in the shop', () => {
  let late: PastJob
  let again: PastJob
  let today: PastJob
  let sunday: PastJob
  let ready: PastJob
  let unpaid: PastJob
  let yes: PastJob

  beforeAll(async () => {
    const engine = await addEngine(it, { maker: 'Kvarnby', code: 'K249' })
    const engineId = engine.id
    // Three that took 2, 3 and 7 hours say what the next of this engine takes: 3.
    for (const benchHours of [2, 3, 7])
      await pastJob(it, { engineId, bookedAt: '2026-10-05T08:00:00Z', leftAt: '2026-10-09T08:00:00Z', benchHours })
    late = await pastJob(it, {
      engineId,
      state: 'apart',
      bookedAt: '2026-11-02T09:00:00Z',
      stepAt: '2026-11-06T09:00:00Z',
      promisedOn: '2026-11-20',
      waits: [{ what: 'kit', since: '2026-11-08T23:30:00Z', note: 'pin on order', dueOn: '2026-11-26' }],
    })
    again = await pastJob(it, {
      engineId,
      state: 'together',
      bookedAt: '2026-11-02T09:00:00Z',
      stepAt: '2026-11-23T09:00:00Z',
      promisedOn: '2026-11-23',
      holderId: jonas.person.id,
      benchHours: 1,
    })
    await it.db.pool.query(
      `INSERT INTO pressing (id, job_id, crank_id, direction, side, peak_tonnes, person_id, occurred_at, recorded_at)
       SELECT gen_random_uuid(), $1, $2, 'apart', 'right', 5, $3, t, t FROM unnest($4::timestamptz[]) t`,
      [again.id, again.crankId, jonas.person.id, ['2026-11-10T09:00:00Z', '2026-11-17T09:00:00Z']],
    )
    // Booked, so that nothing is clocked on it: it asks for all of the 3 hours.
    today = await pastJob(it, { engineId, state: 'measured', bookedAt: '2026-11-16T09:00:00Z', promisedOn: '2026-11-24' })
    sunday = await pastJob(it, { kind: 'true-only', state: 'agreed', bookedAt: '2026-11-16T09:00:00Z', promisedOn: '2026-11-29' })
    await pastJob(it, { state: 'booked', bookedAt: '2026-11-16T09:00:00Z', promisedOn: '2026-11-30' })
    ready = await pastJob(it, {
      state: 'signed',
      bookedAt: '2026-09-01T09:00:00Z',
      stepAt: '2026-10-08T09:00:00Z',
      promisedOn: '2026-09-30',
      price: { total: 26_800, tax: 4_467 },
      paid: { deposit: 5_000 },
    })
    await pastJob(it, {
      state: 'signed',
      bookedAt: '2026-11-01T09:00:00Z',
      stepAt: '2026-11-20T09:00:00Z',
      price: { total: 9_900, tax: 0 },
      paid: { payment: 9_900 },
    })
    yes = await pastJob(it, {
      state: 'measured',
      bookedAt: '2026-11-16T09:00:00Z',
      waits: [{ what: 'yes', since: '2026-11-20T09:00:00Z' }],
      paid: { deposit: 3_000, back: 1_000 },
    })
    unpaid = await pastJob(it, {
      bookedAt: '2026-09-01T09:00:00Z',
      leftAt: '2026-10-24T12:00:00Z',
      price: { total: 20_000, tax: 0 },
      paid: { payment: 15_000 },
    })
    // Thirty days ago to the day: not more than thirty.
    await pastJob(it, { bookedAt: '2026-09-01T09:00:00Z', leftAt: '2026-10-25T12:00:00Z', price: { total: 20_000, tax: 0 } })
    await addHours(it, late.id, 1.5, '2026-11-23T08:00:00Z')
  })

  test('late: a promise before today and not signed, with why; a promise for today is not late, nor is one that is ready', async () => {
    const { late: figure } = await read()
    expect(figure.n).toBe(2)
    expect(figure.rows.map((row) => [row.tag, row.daysLate, row.reasons])).toEqual([
      [
        late.tag,
        4,
        ['waiting for kit (pin on order), since Mon 9 Nov, due Thu 26 Nov', 'apart since Fri 6 Nov, to press together, nobody has it'],
      ],
      [again.tag, 1, ['right web pressed apart twice', 'together since Mon 23 Nov, to true, Jonas has it']],
    ])
    expect(figure.rule).toContain('Promise before today')
    expect(await tagsOf(figure.cranks!)).toEqual({ n: 2, tags: sorted([late, again]) })
  })

  test('a promise for today is late from the first minute of tomorrow in the zone of the shop, not before', async () => {
    const now = it.clock.now
    it.clock.now = new Date('2026-11-24T22:59:00Z')
    const evening = await it.as('owner')
    expect((await read(evening)).late.rows.map((row) => row.tag)).not.toContain(today.tag)
    it.clock.now = new Date('2026-11-24T23:00:00Z')
    const { late: figure, today: day } = await read(evening)
    expect(day).toBe('2026-11-25')
    expect(figure.rows.map((row) => row.tag)).toContain(today.tag)
    it.clock.now = now
  })

  test('promised this week against the bench hours left of it', async () => {
    const { promised } = await read()
    expect([promised.from, promised.to]).toEqual(['2026-11-23', '2026-11-29'])
    // again: 3 less 1 clocked; today: 3; the true-only one: the shop has none of its kind, so the aim of 1.8.
    expect(promised.rows.map((row) => [row.tag, row.expectedHours, row.leftHours, row.basis])).toEqual([
      [again.tag, 3, 2, 'engine'],
      [today.tag, 3, 3, 'engine'],
      [sunday.tag, 1.8, 1.8, 'aim'],
    ])
    expect([promised.n, promised.hours]).toEqual([3, 6.8])
    // late: promised before this week, 3 less 1.5 clocked.
    expect(promised.lateHours).toBe(1.5)
    // Tuesday: four fifths of 32 are left at most, and 1.5 hours are clocked since Monday.
    expect([promised.weekHours, promised.clockedHours, promised.freeHours, promised.fits]).toEqual([32, 1.5, 25.6, true])
    expect(await tagsOf(promised.cranks!)).toEqual({ n: 3, tags: sorted([again, today, sunday]) })
  })

  test('waiting, by what, since when', async () => {
    const { waiting } = await read()
    expect(waiting.n).toBe(2)
    expect(waiting.of.map(({ what, n, oldestDays }) => [what, n, oldestDays])).toEqual([
      ['kit', 1, 15],
      ['yes', 1, 4],
    ])
    expect(waiting.rows.map((row) => [row.tag, row.what, row.days, row.overdue])).toEqual([
      [late.tag, 'kit', 15, false],
      [yes.tag, 'yes', 4, false],
    ])
    expect(await tagsOf(waiting.of[1]!.cranks)).toEqual({ n: 1, tags: [yes.tag] })
    expect((await tagsOf(waiting.cranks!)).n).toBe(2)
  })

  test('ready and not fetched, with the money', async () => {
    const { ready: figure, money } = await read()
    expect([figure.n, figure.owesMinor, figure.oldestDays]).toEqual([2, 21_800, 47])
    expect(figure.rows[0]).toMatchObject({ tag: ready.tag, days: 47, owesMinor: 21_800, says: 'ready since Thu 8 Oct' })
    expect(figure.rows[1]).toMatchObject({ days: 4, owesMinor: 0 })
    expect(money.doneNotCollected).toMatchObject({ n: 1, minor: 21_800 })
    expect(await tagsOf(money.doneNotCollected.cranks!)).toEqual({ n: 1, tags: [ready.tag] })
    // 5,000 on the one that is ready, 3,000 less 1,000 given back on another.
    expect(money.deposits).toMatchObject({ n: 2, minor: 7_000 })
    expect(await tagsOf(money.deposits.cranks!)).toEqual({ n: 2, tags: sorted([ready, yes]) })
    expect(money.unpaid).toMatchObject({ n: 1, minor: 5_000 })
    expect(await tagsOf(money.unpaid.cranks!)).toEqual({ n: 1, tags: [unpaid.tag] })
  })

  test('in hand: what is in the house and nothing else', async () => {
    const { inHand } = await read()
    expect(inHand.n).toBe(8)
    expect((await tagsOf(inHand.cranks!)).n).toBe(8)
  })
})

describe('instruments and the proof of the backup', () => {
  test('a check that is due within a week, and one that was due', async () => {
    const add = (name: string, dueOn?: string) =>
      owner.post('/api/instruments', { name, kind: 'dial', stepMm: 0.01, ...(dueOn ? { dueOn } : {}) })
    await add('dial 3', '2026-11-27')
    await add('dial 4', '2026-11-23')
    await add('dial 5', '2026-12-01')
    await add('dial 6', '2026-12-02')
    await add('dial 7')
    const { instruments } = await read()
    expect(instruments.rows.map(({ says, overdue }) => [says, overdue])).toEqual([
      ['Dial 4 was due for its check on Mon 23 Nov', true],
      ['Dial 3 is due for its check on Fri 27 Nov', false],
      ['Dial 5 is due for its check on Tue 1 Dec', false],
    ])
    expect(instruments.n).toBe(3)
  })

  const drill = (at: string, held: boolean, says: string | null = null) =>
    it.db.pool.query(`INSERT INTO proof (id, kind, started_at, ended_at, held, says) VALUES (gen_random_uuid(), 'drill', $1, $1, $2, $3)`, [
      at,
      held,
      says,
    ])

  test('never, then fresh, then older than 48 hours, then a trial that did not hold', async () => {
    expect((await read()).proof).toMatchObject({
      says: 'Book never proven restorable',
      warning: 'No backup was ever restored and looked at.',
    })
    // A backup that was only written proves nothing.
    await it.db.pool.query(`INSERT INTO proof (id, kind, started_at, ended_at, held) VALUES (gen_random_uuid(), 'backup', $1, $1, true)`, [
      it.clock.now,
    ])
    expect((await read()).proof.at).toBeUndefined()
    await drill('2026-11-22T09:00:00Z', true)
    const fresh = (await read()).proof
    expect(fresh).toMatchObject({ at: '2026-11-22T09:00:00.000Z', hours: 48, says: 'Book last proven restorable: Sun 22 Nov, 10:00' })
    expect(fresh.warning).toBeUndefined()
    it.clock.pass(1)
    expect((await read()).proof.warning).toBe('The last proof is more than 48 hours old.')
    await drill('2026-11-24T01:10:00Z', false, 'two rows fewer')
    expect((await read()).proof.warning).toContain('The last trial, Tue 24 Nov, 02:10, did not hold: two rows fewer.')
  })
})

test('an empty book has lines of nothing, each with its rule', async () => {
  const fresh = await startApp()
  const boss = await fresh.as('owner')
  const { body } = await boss.get('/api/office').expect(200)
  for (const name of ['late', 'promised', 'waiting', 'ready', 'inHand'] as const) {
    expect(body[name].n).toBe(0)
    expect(body[name].rule.length).toBeGreaterThan(20)
  }
})
