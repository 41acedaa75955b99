import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { job, jobPage } from '#contract/jobs.ts'
import type { PersonLearning } from '#contract/learning.ts'
import { bench, type RunoutFigures, type RunoutSetup } from '#contract/measurements.ts'
import { JOB_KINDS, STEPS } from '#core/steps.ts'
import { truing } from '#core/truing.ts'
import { isOpen } from '#seed/days.ts'
import { seedDemo } from '#seed/demo.ts'
import { HANDS } from '#seed/people.ts'
import { auditRows } from '#server/features/audit/store.ts'
import { verifyChain } from '#server/features/audit/verify.ts'
import { markDemo } from '#server/features/settings/store.ts'
import { perform } from '#server/plugins/act.ts'
import { type Agent, FIRST_DAY, startApp, type TestApp } from '#tests/support/app.ts'

const FILLING_MS = 180_000

const it = await startApp()
const again = await startApp()
const real = await startApp()
const files = mkdtempSync(path.join(tmpdir(), 'throwbook-demo-'))
afterAll(() => rmSync(files, { recursive: true, force: true }))

const said: string[] = []
const fill = (app: TestApp, say: (line: string) => void = () => {}) => seedDemo({ db: app.db, files, now: FIRST_DAY, say })

async function rows<Row extends object>(app: TestApp, text: string): Promise<Row[]> {
  return (await app.db.pool.query<Row>(text)).rows
}

let owner: Agent
beforeAll(async () => {
  await Promise.all([fill(it, (line) => said.push(line)), fill(again)])
  owner = await it.as('owner')
}, FILLING_MS)

describe('the demo shop', () => {
  test('has about sixty jobs of every kind, and one or more at every step today', async () => {
    const jobs = await rows<{ kind: string; state: string }>(it, 'SELECT kind, state FROM job')
    expect(jobs.length).toBeGreaterThanOrEqual(55)
    expect(new Set(jobs.map(({ state }) => state))).toEqual(new Set([...STEPS, 'given-back', 'scrapped']))
    expect(new Set(jobs.map(({ kind }) => kind))).toEqual(new Set(JOB_KINDS))
  })

  test('shows them in the lists of the counter: late, waiting, ready to go home', async () => {
    const page = jobPage.parse((await owner.get('/api/jobs?list=house').expect(200)).body)
    expect(page.counts).toEqual({ house: page.rows.length, late: 2, waitingKit: 3, waitingYes: 1, ready: 4 })
    const onTheBench = page.rows.find(({ tag }) => tag === '318-V')
    expect(onTheBench).toMatchObject({ state: 'together', engine: 'Ruskhammar R449-4X', whose: 'Hollis, A.', holder: 'Jonas' })
    expect(page.rows.filter(({ comeback }) => comeback)).toHaveLength(1)
    expect(page.rows.filter(({ late, toldLate }) => late && toldLate)).toHaveLength(1)
  })

  test('answers every open job, and what was measured on it, in the shape of the contract', async () => {
    const open = await rows<{ id: string }>(it, "SELECT id FROM job WHERE state NOT IN ('gone', 'given-back', 'scrapped')")
    expect(open.length).toBeGreaterThan(14)
    for (const { id } of open) {
      expect(job.safeParse((await owner.get(`/api/jobs/${id}`).expect(200)).body).error).toBeUndefined()
      expect(bench.safeParse((await owner.get(`/api/jobs/${id}/measurements`).expect(200)).body).error).toBeUndefined()
    }
  })

  test('has what a shop has seen: a pass, a struck-out set, a reading left out, a correction, a step back, a comeback, a weld', async () => {
    const [seen] = await rows<Record<string, number>>(
      it,
      `SELECT (SELECT count(*)::int FROM job_pass p JOIN job j ON j.id = p.job_id WHERE j.tag = '318-V' AND p.code = 'fit-right-below-shop-floor') AS pass,
        (SELECT count(*)::int FROM measurement WHERE struck_at IS NOT NULL) AS struck,
        (SELECT count(*)::int FROM measurement WHERE not_read_because IS NOT NULL) AS unread,
        (SELECT count(*)::int FROM pressing WHERE not_read_because IS NOT NULL) AS gauge,
        (SELECT count(*)::int FROM certificate WHERE replaces_id IS NOT NULL) AS corrected,
        (SELECT count(*)::int FROM job_step WHERE undone_at IS NOT NULL) AS back,
        (SELECT count(*)::int FROM job WHERE comeback_of_id IS NOT NULL) AS comeback,
        (SELECT count(*)::int FROM weld) AS weld,
        (SELECT count(*)::int FROM kit_fitted f JOIN kit_lot l ON l.id = f.kit_lot_id WHERE l.lot = 'S-0936') AS bad_lot`,
    )
    expect(seen).toMatchObject({ pass: 1, struck: 1, unread: 1, gauge: 1, corrected: 1, back: 1, comeback: 1, weld: 1, bad_lot: 4 })
  })

  test('says how far it is while it is filled', () => {
    expect(said.length).toBeGreaterThan(5)
    expect(said.at(-1)).toContain('is filled')
  })
})

describe('figures of the demo shop', () => {
  interface StoredSet {
    setup: RunoutSetup
    figures: RunoutFigures
    stroke: number
    values: { place: string; at: number; mm: number }[]
  }

  test('are what the truing sum gives for the readings beside them', async () => {
    const sets = await rows<StoredSet>(
      it,
      `SELECT m.setup, m.figures, f.value::float8 AS stroke,
         (SELECT json_agg(json_build_object('place', v.place, 'at', v.at_deg, 'mm', v.mm) ORDER BY v.seq) FROM measurement_value v
          WHERE v.measurement_id = m.id) AS values
       FROM measurement m JOIN job j ON j.id = m.job_id JOIN crank k ON k.id = j.crank_id
       JOIN engine_figure f ON f.engine_id = k.engine_id AND f.name = 'strokeMm' WHERE m.kind = 'runout'`,
    )
    expect(sets.length).toBeGreaterThan(400)
    for (const { setup, figures, stroke, values } of sets) {
      const turn = (side: string) => ({
        readings: values.filter(({ place }) => place.startsWith(side)).map(({ at, mm }) => ({ clockDeg: at, mm })),
      })
      const { supportLeftMm, supportRightMm, dialLeftMm, dialRightMm } = setup
      const answer = truing({
        strokeMm: stroke,
        supportLeftMm,
        supportRightMm,
        dialLeftMm,
        dialRightMm,
        left: turn('left'),
        right: turn('right'),
      })
      if (!answer.ok) throw new Error(answer.detail)
      const { left, right, faults } = answer.value
      expect({ left: figures.left, right: figures.right, faults: figures.sum?.faults }).toEqual({ left, right, faults })
      expect(figures.closes.agree || values.some(({ mm }) => mm === 0.06)).toBe(true)
    }
  })

  test('let the learner’s line hold the rate that his hours were drawn with', async () => {
    const own = (await owner.get(`/api/people/${HANDS.jonas.id}/learning`).expect(200)).body as PersonLearning
    expect(own.points.filter(({ hollow }) => hollow === undefined).length).toBeGreaterThan(20)
    const { low, high } = own.line!.power.exponentInterval
    // 82 % for each doubling, by the handbook of the trade; the interval of the sum is 95 %.
    expect(Math.log2(0.82)).toBeGreaterThan(low)
    expect(Math.log2(0.82)).toBeLessThan(high)
    // Moves a crank fall from about 14 to about 8, as geometric means.
    expect(own.ready.movesFirstTen).toBeGreaterThan(10)
    expect(own.ready.movesLastTen).toBeLessThan(own.ready.movesFirstTen!)
    expect(own.ready.truingShareLastTen).toBeLessThan(own.ready.truingShareFirstTen!)
  })

  test('are worked in shop hours, by one hand on one crank at a time', async () => {
    const worked = await rows<{ at: Date }>(
      it,
      `SELECT occurred_at AS at FROM measurement UNION ALL SELECT occurred_at FROM truing_move UNION ALL SELECT occurred_at FROM pressing
       UNION ALL SELECT started_at FROM clock_entry UNION ALL SELECT booked_at FROM job`,
    )
    expect(worked.filter(({ at }) => !isOpen(at.getTime()))).toEqual([])
    const [both] = await rows<{ count: number }>(
      it,
      `SELECT count(*)::int AS count FROM clock_entry a JOIN clock_entry b ON a.person_id = b.person_id AND a.id < b.id
       WHERE a.started_at < coalesce(b.stopped_at, 'infinity') AND b.started_at < coalesce(a.stopped_at, 'infinity')`,
    )
    expect(both?.count).toBe(0)
    const clocks = await rows<{ name: string; how: string | null }>(
      it,
      `SELECT p.name, c.stopped_how AS how FROM clock_entry c JOIN person p ON p.id = c.person_id
       WHERE c.stopped_at IS NULL OR c.stopped_how = 'closing-time' ORDER BY p.name`,
    )
    expect(clocks).toEqual([
      { name: 'Ewa', how: 'closing-time' },
      { name: 'Jonas', how: null },
    ])
  })

  test('press within what the measured fit foretells, but for the one web that was low', async () => {
    const jobs = await rows<{ id: string; tag: string }>(it, 'SELECT DISTINCT j.id, j.tag FROM job j JOIN pressing p ON p.job_id = j.id')
    const outside: string[] = []
    for (const { id, tag } of jobs) {
      const { pressings } = bench.parse((await owner.get(`/api/jobs/${id}/measurements`).expect(200)).body)
      for (const { side, direction, peakTonnes, foretold } of pressings) {
        if (peakTonnes === undefined || foretold === undefined) continue
        // The gauge is read to a tenth of a tonne.
        if (peakTonnes < foretold.lowTonnes - 0.05 || peakTonnes > foretold.highTonnes + 0.05) outside.push(`${tag} ${side} ${direction}`)
      }
    }
    expect(outside).toEqual(['318-V right apart'])
  })
})

describe('papers of the demo shop', () => {
  test('are sealed after a second reading by somebody else, every one of them', async () => {
    const sheets = await rows<{ number: number; seconds: number }>(
      it,
      `SELECT c.number, (SELECT count(*)::int FROM measurement s WHERE s.job_id = c.job_id AND s.kind = 'runout' AND s.phase = 'second'
         AND s.struck_at IS NULL AND s.not_read_because IS NULL AND s.recorded_at < c.issued_at
         AND NOT EXISTS (SELECT 1 FROM measurement f WHERE f.job_id = c.job_id AND f.kind = 'runout' AND f.phase = 'built'
           AND f.struck_at IS NULL AND f.person_id = s.person_id)) AS seconds
       FROM certificate c ORDER BY c.number`,
    )
    expect(sheets.length).toBeGreaterThan(40)
    expect(sheets.filter(({ seconds }) => seconds === 0)).toEqual([])
    expect(sheets.map(({ number }) => number)).toEqual(sheets.map((_, index) => index + 1))
  })

  test('are the same again from the same seed and the same day, down to the last seal and the head of the audit chain', async () => {
    const seals = 'SELECT c.number, c.seal_value, c.check_code, j.tag FROM certificate c JOIN job j ON j.id = c.job_id ORDER BY c.number'
    expect(await rows(again, seals)).toEqual(await rows(it, seals))
    const tags = 'SELECT id, tag, state FROM job ORDER BY number'
    expect(await rows(again, tags)).toEqual(await rows(it, tags))
    const heads = await Promise.all([it, again].map(async ({ db }) => verifyChain(auditRows(db.pool))))
    expect(heads[0]!.fault).toBeNull()
    expect(heads[0]!.rows).toBeGreaterThan(2000)
    expect(heads[1]).toEqual(heads[0])
  })
})

describe('filling', () => {
  test('is done once: a filled book is left as it is', async () => {
    const [before] = await rows<{ count: number }>(again, 'SELECT count(*)::int AS count FROM audit_row')
    await fill(again)
    expect(await rows(again, 'SELECT count(*)::int AS count FROM audit_row')).toEqual([before])
  })

  test('refuses a book with somebody’s real work, and one that was filled half way', async () => {
    const { person } = await real.as('owner')
    await expect(fill(real)).rejects.toMatchObject({ name: 'BookTrouble', message: expect.stringContaining('real work') })
    await perform(real.db, { by: person, now: FIRST_DAY }, (act) => markDemo(act.tx))
    await expect(fill(real)).rejects.toMatchObject({ name: 'BookTrouble', message: expect.stringContaining(path.dirname(files)) })
    expect(await rows(real, 'SELECT id FROM job')).toEqual([])
  })
})
