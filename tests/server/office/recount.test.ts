import { describe, expect, test } from 'vitest'
import { type Random, seededRandom } from '#core/numeric/random.ts'
import { PLAIN_SUMS } from '#server/features/office/counted.ts'
import { startApp } from '#tests/support/app.ts'
import { addEngine } from '#tests/support/factories.ts'
import { addHours, addSecondSet, fitLot, hearOf, type PastJob, pastJob, reportBack, strikeOut } from '#tests/support/office-factories.ts'

/**
 * The sums that are kept against a recount, over histories made by chance: booked, gone, taken back, struck out, corrected,
 * another kit, another engine, another zone.
 */
const it = await startApp()
const owner = await it.as('owner')
const query = async (text: string, values: unknown[] = []) => (await it.db.pool.query<Record<string, unknown>>(text, values)).rows

const SUMS = `SELECT figure, "by", stretch, key, "at", n::int AS n, hits::int AS hits, amount::float8 AS amount, minor::float8 AS minor FROM office_sum WHERE n <> 0`
const ORDER = ' ORDER BY 1, 2, 3, 4, 5'
const ROWS = 'SELECT to_jsonb(f) AS row FROM office_job f ORDER BY f.number'

async function kept(): Promise<{ sums: unknown[]; rows: unknown[] }> {
  await owner.get('/api/office/flow').expect(200)
  return { sums: await query(SUMS + ORDER), rows: await query(ROWS) }
}

async function countedAnew(): Promise<{ sums: unknown[]; rows: unknown[] }> {
  await query('DELETE FROM office_sum')
  await query('DELETE FROM office_job')
  await query('INSERT INTO office_stale (job_id) SELECT id FROM job ON CONFLICT DO NOTHING')
  return kept()
}

interface Book {
  chance: Random
  jobs: PastJob[]
  engines: string[]
  people: string[]
  clocks: string[]
}

const pick = <Item>(chance: Random, list: readonly Item[]): Item => list[Math.floor(chance() * list.length)]!
const dayIn = (chance: Random) => new Date(Date.UTC(2025, 9, 1) + Math.floor(chance() * 420 * 86_400_000)).toISOString()

const ACTS: Readonly<Record<string, (book: Book, job: PastJob) => Promise<unknown>>> = {
  book: async (book) => book.jobs.push(await anyJob(book)),
  gone: (book, job) => leaves(book, job, 'gone'),
  'given back': (book, job) => leaves(book, job, 'given-back'),
  'step back': async (_book, job) => {
    await query(
      `UPDATE job_step SET undone_at = now() WHERE job_id = $1 AND undone_at IS NULL AND step IN ('gone', 'given-back', 'trued')`,
      [job.id],
    )
    await query(`UPDATE job SET state = 'together', gone_at = NULL WHERE id = $1`, [job.id])
  },
  trued: async ({ chance, people }, job) => {
    await query(`UPDATE job_step SET undone_at = now() WHERE job_id = $1 AND undone_at IS NULL AND step = 'trued'`, [job.id])
    await query(`INSERT INTO job_step (id, job_id, step, person_id, at) VALUES (gen_random_uuid(), $1, 'trued', $2, $3)`, [
      job.id,
      pick(chance, people),
      dayIn(chance),
    ])
  },
  'second set': ({ chance }, job) => addSecondSet(it, job.id, { left: pick(chance, [0.01, 0.02, 0.03]), right: 0.01, at: dayIn(chance) }),
  'set struck out': (_book, job) => struck('measurement', job),
  back: async ({ chance }, job) => {
    if ((await query('SELECT 1 FROM comeback WHERE job_id = $1 AND struck_at IS NULL', [job.id])).length > 0) return
    const hours = pick(chance, [{}, { hours: 0 }, { hours: Math.round(chance() * 8000) / 100 }])
    await reportBack(it, job.id, {
      day: dayIn(chance).slice(0, 10),
      ...hours,
      ...pick(chance, [{}, { cause: 'kit' }, { cause: 'lubrication' }]),
    })
  },
  'cause decided': (_book, job) =>
    query(`UPDATE comeback SET cause = 'workmanship', whose = 'ours' WHERE job_id = $1 AND struck_at IS NULL`, [job.id]),
  'report struck out': (_book, job) => struck('comeback', job),
  heard: ({ chance }, job) => hearOf(it, job.id, { day: dayIn(chance).slice(0, 10), hours: Math.round(chance() * 9000) / 100 }),
  'call struck out': (_book, job) => struck('follow_up', job),
  'another kit': async ({ chance }, job) => {
    await struck('kit_fitted', job)
    await fitLot(it, job.id, pick(chance, ['A-1', 'A-2', 'S-0936']))
  },
  'hours clocked': async (book, job) =>
    book.clocks.push(await addHours(it, job.id, Math.round(book.chance() * 500) / 100, dayIn(book.chance))),
  'hours put right': async ({ chance, clocks }) => {
    if (clocks.length > 0)
      await query(`UPDATE clock_entry SET stopped_at = started_at + interval '90 minutes' WHERE id = $1`, [pick(chance, clocks)])
  },
  price: (_book, job) =>
    query(
      `INSERT INTO quote (id, job_id, version, total_minor, tax_minor, text, made_by_id, made_at, yes_by, yes_how, yes_at, yes_entered_by)
       SELECT gen_random_uuid(), $1, 1 + count(*), 20000 + 100 * count(*), 3000, 'Rebuild', $2, now(), 'A', 'by phone', now(), $2 FROM quote WHERE job_id = $1`,
      [job.id, owner.person.id],
    ),
  paid: (_book, job) =>
    query(
      `INSERT INTO payment (id, job_id, amount_minor, how, what, person_id, at) VALUES (gen_random_uuid(), $1, 5000, 'cash', 'payment', $2, now())`,
      [job.id, owner.person.id],
    ),
  'other engine': ({ chance, engines }, job) =>
    query('UPDATE crank SET engine_id = $2 WHERE id = $1', [job.crankId, pick(chance, engines)]),
  'other customer': async (_book, job) => query('UPDATE job SET customer_id = customer_id WHERE id = $1', [job.id]),
  'the crank again': async (book, job) =>
    book.jobs.push(await pastJob(it, { crankId: job.crankId, engineId: job.engineId, bookedAt: dayIn(book.chance) })),
}

async function struck(table: Parameters<typeof strikeOut>[1], job: PastJob): Promise<void> {
  const phase = table === 'measurement' ? ` AND phase = 'second'` : ''
  const [row] = await query(`SELECT id FROM ${table} WHERE job_id = $1 AND struck_at IS NULL${phase} LIMIT 1`, [job.id])
  if (row !== undefined) await strikeOut(it, table, String(row.id))
}

async function leaves({ chance }: Book, job: PastJob, end: string): Promise<void> {
  const [open] = await query(`SELECT 1 FROM job WHERE id = $1 AND state NOT IN ('gone', 'given-back')`, [job.id])
  if (open === undefined) return
  const at = dayIn(chance)
  await query('INSERT INTO job_step (id, job_id, step, person_id, at) VALUES (gen_random_uuid(), $1, $2, $3, $4)', [
    job.id,
    end,
    owner.person.id,
    at,
  ])
  await query('UPDATE job SET state = $2, gone_at = $3 WHERE id = $1', [job.id, end, end === 'gone' ? at : null])
}

function anyJob({ chance, engines, people }: Book): Promise<PastJob> {
  return pastJob(it, {
    kind: pick(chance, ['rebuild', 'rebuild', 'rebuild', 'true-only', 'check-and-report']),
    engineId: pick(chance, engines),
    bookedAt: dayIn(chance),
    truedBy: pick(chance, people),
    state: 'trued',
    stepAt: dayIn(chance),
    ...(chance() < 0.7 ? { lot: pick(chance, ['A-1', 'A-2', 'S-0936']) } : {}),
  })
}

describe('the sums that are kept', () => {
  test('are those of a recount, however the book came to be as it is', async () => {
    const chance = seededRandom(20_261_124)
    const engines = [(await addEngine(it)).id, (await addEngine(it)).id]
    const people = [(await it.as('bench')).person.id, (await it.as('bench')).person.id]
    const book: Book = { chance, jobs: [], engines, people, clocks: [] }
    for (let index = 0; index < 40; index++) book.jobs.push(await anyJob(book))
    // Going home is what most figures begin with.
    const names = [...Object.keys(ACTS), 'gone', 'gone', 'gone']
    for (let round = 0; round < 12; round++) {
      for (let act = 0; act < 25; act++) await ACTS[pick(chance, names)]!(book, pick(chance, book.jobs))
      // Sums and rows follow change by change; the plain statement counts the rows, and counting anew makes the rows.
      const followed = await kept()
      expect(followed.sums).toEqual(await query(PLAIN_SUMS + ORDER))
      expect(await countedAnew()).toEqual(followed)
    }
    expect((await kept()).sums.length).toBeGreaterThan(150)
  })

  test('are of the zone of the shop, and counted anew when it moves', async () => {
    const before = await kept()
    const { version, ...settings } = (await owner.get('/api/settings')).body
    await owner.put('/api/settings', { ...settings, zone: 'Pacific/Kiritimati' }, version).expect(200)
    const moved = await kept()
    expect(moved.rows).not.toEqual(before.rows)
    expect(moved.sums).toEqual(await query(PLAIN_SUMS + ORDER))
    expect(await countedAnew()).toEqual(moved)
  })

  test('a plain count of the book itself, without any of the office’s tables, agrees', async () => {
    const [zone] = await query('SELECT zone FROM office_zone')
    const sources = await query(
      `SELECT l.lot, count(*)::int AS n, count(*) FILTER (WHERE b.day <= ((j.gone_at AT TIME ZONE $1)::date + interval '12 months')::date)::int AS back
       FROM job j JOIN kit_fitted f ON f.job_id = j.id AND f.struck_at IS NULL JOIN kit_lot l ON l.id = f.kit_lot_id
       LEFT JOIN comeback b ON b.job_id = j.id AND b.struck_at IS NULL
       WHERE j.state = 'gone' AND (j.gone_at AT TIME ZONE $1)::date BETWEEN '2025-10-01' AND '2026-12-31' GROUP BY 1 ORDER BY 1`,
      [zone!.zone],
    )
    const { body } = await owner.get('/api/office/comebacks?by=lot&from=2025-10-01&to=2026-12-31').expect(200)
    const told = (body.rows as { key: string | null; name: string; n: number; back: number }[])
      .filter((row) => row.key !== null)
      .map(({ name, n, back }) => ({ lot: name.replace(/.*lot /, ''), n, back }))
      .sort((one, other) => (one.lot < other.lot ? -1 : 1))
    expect(told).toEqual(sources)
    expect(told.length).toBe(3)
  })

  test('twenty readers at once, while the book is written in, agree in the end', async () => {
    const jobs = await Promise.all(Array.from({ length: 10 }, () => pastJob(it, { bookedAt: '2026-11-20T09:00:00Z' })))
    await Promise.all([
      ...Array.from({ length: 20 }, () => owner.get('/api/office/flow').expect(200)),
      ...jobs.map((job) => addHours(it, job.id, 1, '2026-11-20T09:00:00Z')),
      ...jobs.map((job) => fitLot(it, job.id, 'A-1')),
    ])
    const followed = await kept()
    expect(followed.sums).toEqual(await query(PLAIN_SUMS + ORDER))
    expect(await countedAnew()).toEqual(followed)
    expect(await query('SELECT 1 FROM office_stale')).toEqual([])
  })
})
