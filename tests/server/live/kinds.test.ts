import { readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import { hears, LIVE_KINDS } from '#contract/live.ts'
import { OF_A_JOB } from '#server/features/live/store.ts'
import { startApp } from '#tests/support/app.ts'

const features = path.resolve(import.meta.dirname, '../../../server/features')
const NOTE = /\.note\((?:[^()]|\([^()]*\))*?,\s*'([a-z_]+)',/g

/** Kinds of things that commands write into the audit chain, as their source says. */
const noted = new Set(
  readdirSync(features, { recursive: true, encoding: 'utf8' })
    .filter((file) => file.endsWith('.ts'))
    .flatMap((file) => [...readFileSync(path.join(features, file), 'utf8').matchAll(NOTE)].map((found) => found[1] ?? '')),
)

test('every kind that is noted has a row that says who hears of it', () => {
  expect(noted.size).toBeGreaterThan(15)
  for (const kind of ['job', 'measurement', 'customer', 'setting', 'box']) expect(noted).toContain(kind)
  expect([...noted].filter((kind) => LIVE_KINDS[kind] === undefined)).toEqual([])
})

test('a kind that nobody gave a row is heard by the owner alone', () => {
  expect((['counter', 'bench', 'owner'] as const).map((role) => hears(role, 'something new'))).toEqual([false, false, true])
  expect(hears('bench', 'customer')).toBe(false)
})

test('every kind whose table names a job is told with it', async () => {
  const it = await startApp()
  const { rows } = await it.db.pool.query<{ name: string }>(
    `SELECT table_name AS name FROM information_schema.columns WHERE table_schema = 'public' AND column_name IN ('id', 'job_id')
     GROUP BY table_name HAVING count(*) = 2`,
  )
  const named = rows.map((row) => row.name).filter((name) => LIVE_KINDS[name] !== undefined)
  expect([...OF_A_JOB].sort()).toEqual(named.sort())
})
