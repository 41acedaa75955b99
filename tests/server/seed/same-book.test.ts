import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { seedDemo } from '#seed/demo.ts'
import { auditRows } from '#server/features/audit/store.ts'
import { verifyChain } from '#server/features/audit/verify.ts'
import { markDemo } from '#server/features/settings/store.ts'
import { perform } from '#server/plugins/act.ts'
import { FIRST_DAY, startApp, type TestApp } from '#tests/support/app.ts'
import { rows } from './recover.ts'

const FILLING_MS = 300_000
/** A book as small as it gets, with everything that is in the house today. */
const JOBS = 55

const one = await startApp()
const same = await startApp()
const other = await startApp()
const real = await startApp()
const files = mkdtempSync(path.join(tmpdir(), 'throwbook-demo-'))
afterAll(() => rmSync(files, { recursive: true, force: true }))

const fill = (app: TestApp, more: { seed?: number } = {}) =>
  seedDemo({ db: app.db, files, now: FIRST_DAY, say: () => {}, jobs: JOBS, ...more })

beforeAll(async () => {
  await fill(one)
  await fill(same)
  await fill(other, { seed: 319 })
}, FILLING_MS)

/** A digest of every table, row by row; but for the hash of a password, salted by chance of its own, and the number of a transaction. */
async function digests(app: TestApp): Promise<Record<string, string>> {
  const tables = await rows<{ name: string }>(
    app,
    `SELECT tablename AS name FROM pg_tables WHERE schemaname = 'public' AND tablename <> '_prisma_migrations' ORDER BY tablename`,
  )
  const digest: Record<string, string> = {}
  for (const { name } of tables) {
    const [found] = await rows<{ digest: string }>(
      app,
      `SELECT count(*) || ' ' || coalesce(md5(string_agg(row, '' ORDER BY row)), '') AS digest FROM (SELECT (to_jsonb(t) - 'password_hash' - 'tx')::text AS row FROM "${name}" t) r`,
    )
    digest[name] = found!.digest
  }
  return digest
}

describe('the demo book', () => {
  test('is the same again from the same seed and the same moment, down to every row of every table', async () => {
    const [first, second] = [await digests(one), await digests(same)]
    expect(second).toEqual(first)
    expect(Number(first.job!.split(' ')[0])).toBeGreaterThan(40)
    const [chain, again] = [await verifyChain(auditRows(one.db.pool)), await verifyChain(auditRows(same.db.pool))]
    expect(chain.fault).toBeNull()
    expect(again).toEqual(chain)
  })

  test('is another one from another seed', async () => {
    const [first, second] = [await digests(one), await digests(other)]
    for (const table of ['job', 'measurement', 'certificate', 'clock_entry']) expect(second[table], table).not.toBe(first[table])
  })

  test('is filled once: a filled book is left as it is', async () => {
    const before = await digests(one)
    await fill(one)
    expect(await digests(one)).toEqual(before)
  })

  test('goes on after its filling: the next line of a history comes after all that are there', async () => {
    const [last] = await rows<{ seq: string }>(one, 'SELECT max(seq) AS seq FROM job_event')
    const [next] = await rows<{ seq: string }>(one, `SELECT nextval(pg_get_serial_sequence('job_event', 'seq')) AS seq`)
    expect(Number(next!.seq)).toBe(Number(last!.seq) + 1)
  })

  test('is not put into a book with somebody’s real work, nor into one that was filled half way', async () => {
    const { person } = await real.as('owner')
    await expect(fill(real)).rejects.toMatchObject({ name: 'BookTrouble', message: expect.stringContaining('real work') })
    await perform(real.db, { by: person, now: FIRST_DAY }, (act) => markDemo(act.tx))
    await expect(fill(real)).rejects.toMatchObject({ name: 'BookTrouble', message: expect.stringContaining(path.dirname(files)) })
    expect(await rows(real, 'SELECT id FROM job')).toEqual([])
  })
})
