import supertest from 'supertest'
import { describe, expect, test } from 'vitest'
import { FIELD_ERRORS_MOST, problem } from '#contract/errors.ts'
import { SUMS_BODY_BYTES, SURVIVAL_BODY_BYTES } from '#core/limits.ts'
import { startApp } from '#tests/support/app.ts'

const it = await startApp()
const counter = await it.as('counter')
const bench = await it.as('bench')
const owner = await it.as('owner')

/** A body that is sent just as it is written. */
const raw = (address: string, body: string, type = 'application/json') =>
  supertest(it.app.server)
    .post(address)
    .set('sec-fetch-site', 'same-origin')
    .set('cookie', bench.cookie)
    .set('content-type', type)
    .send(body)

const READINGS = [1, 2, 3].flatMap((part) =>
  ['A', 'B'].flatMap((person) => [0, 0.1].map((again) => ({ part, person, value: part + again }))),
)
const LIVES = [6, 6, 6, 7, 10, 13, 16, 22, 23].map((at) => ({ at, failed: true, group: '6-MP' }))
const CONTROL = [1, 2, 3, 5, 8].map((at) => ({ at, failed: true, group: 'control' }))
const TRUING = {
  strokeMm: 60,
  supportLeftMm: 40,
  supportRightMm: 40,
  dialLeftMm: 40,
  dialRightMm: 40,
  left: { tirMm: 0.1, highAtDeg: 90 },
  right: { tirMm: 0.1, highAtDeg: 270 },
}

interface Case {
  sum: string
  body: object
  answer: object
  /** A body out of shape, and the field that is named. */
  wrong: object
  pointer: string
  /** A body with which the sum cannot be done, and why. */
  cannot?: object
  reason?: string
}

const CASES: Case[] = [
  {
    sum: 'truing',
    body: TRUING,
    answer: { verdict: 'swing' },
    wrong: { ...TRUING, strokeMm: 5 },
    pointer: '/strokeMm',
    cannot: { ...TRUING, left: { readings: [] } },
    reason: 'too-few-points',
  },
  {
    sum: 'width',
    body: {
      webLeftMm: 17,
      webRightMm: 17,
      rodWidthMm: 18,
      washersMm: [1, 1],
      clearance: { minMm: 0.4, maxMm: 0.6 },
      width: { minMm: 50, maxMm: 60 },
    },
    answer: { stackMm: 54, possible: true },
    wrong: {},
    pointer: '/washersMm',
  },
  {
    sum: 'fit',
    body: { pinMm: [22.07], boreMm: [22], engagementMm: 18 },
    answer: { verdict: 'go' },
    wrong: { pinMm: [22], boreMm: [], engagementMm: 18 },
    pointer: '/boreMm',
  },
  {
    sum: 'learning',
    body: { points: [1, 2, 4].map((n) => ({ n, hours: 8 / n })) },
    answer: { predictions: [] },
    wrong: { points: [{ n: 0, hours: 5 }] },
    pointer: '/points/0/n',
    cannot: { points: [{ n: 1, hours: 5 }] },
    reason: 'too-few-points',
  },
  {
    sum: 'doubt',
    body: { parts: [{ name: 'dial', shape: 'u-shaped', value: Math.SQRT2 }], k: 2, measured: 1, limit: 4 },
    answer: { standard: 1, degreesOfFreedom: null, expanded: 2, verdict: 'within' },
    wrong: { parts: [{ name: 'dial', shape: 'round', value: 1 }] },
    pointer: '/parts/0/shape',
    cannot: { parts: [] },
    reason: 'too-few-points',
  },
  {
    sum: 'survival',
    body: { items: [...LIVES, ...CONTROL] },
    answer: {
      groups: [
        { group: '6-MP', count: 9, median: 10 },
        { group: 'control', median: 3 },
      ],
      logRank: { degreesOfFreedom: 1 },
    },
    wrong: {
      items: [
        { at: 4, failed: true },
        { at: -4, failed: true },
      ],
    },
    pointer: '/items/1/at',
    cannot: { items: [{ at: 4, failed: false }] },
    reason: 'all-censored',
  },
  {
    sum: 'rate',
    body: { failures: 0, total: 20 },
    answer: { rate: 0, wilson: { low: 0 }, exact: { low: 0 } },
    wrong: { failures: 3, total: 2 },
    pointer: '/failures',
    cannot: { failures: 0, total: 0 },
    reason: 'too-few-points',
  },
  {
    sum: 'compare',
    body: { a: { failures: 3, total: 4 }, b: { failures: 1, total: 4 } },
    answer: { oddsRatio: 9 },
    wrong: { a: { failures: 3, total: 4 }, b: { failures: 1 } },
    pointer: '/b/total',
    cannot: { a: { failures: 0, total: 0 }, b: { failures: 1, total: 4 } },
    reason: 'too-few-points',
  },
  {
    sum: 'chart',
    body: { values: [5, 5, 5], upperLimit: 9 },
    answer: { centre: 5, sigma: 0, outside: [] },
    wrong: { values: [1, 'two'] },
    pointer: '/values/1',
    cannot: { values: [1] },
    reason: 'too-few-points',
  },
  {
    sum: 'gauge',
    body: { readings: READINGS },
    answer: { interaction: 0, distinctSteps: 23 },
    wrong: { readings: READINGS, tolerance: 0 },
    pointer: '/tolerance',
    cannot: { readings: READINGS.slice(1) },
    reason: 'not-balanced',
  },
  {
    sum: 'odd-one-out',
    body: { values: [1, 2, 3, 4, 40] },
    answer: { median: 3, mad: 1, flagged: [4] },
    wrong: { values: [1], threshold: -1 },
    pointer: '/threshold',
    cannot: { values: [4, 4, 4, 9] },
    reason: 'no-spread',
  },
]

describe.each(CASES)('POST /api/sums/$sum', ({ sum, body, answer, wrong, pointer }) => {
  const address = `/api/sums/${sum}`

  test('answers everybody who is signed in, and keeps nothing', async () => {
    const kept = async () => (await it.db.pool.query<{ count: string }>('SELECT count(*) FROM audit_row')).rows[0]!.count
    const before = await kept()
    for (const somebody of [counter, bench, owner]) {
      const found = await somebody.post(address, body)
      expect(found.status, JSON.stringify(found.body)).toBe(200)
      expect(found.body).toMatchObject({ ...answer, method: { name: expect.any(String), version: '1' } })
    }
    expect(await kept()).toBe(before)
  })

  test('needs no Idempotency-Key, since it acts on nothing', async () => {
    expect((await bench.post(address, body).unset('idempotency-key')).status).toBe(200)
  })

  test('a body out of shape: 400 that names the field', async () => {
    const found = await bench.post(address, wrong)
    expect(found.status).toBe(400)
    expect(found.headers['content-type']).toContain('application/problem+json')
    expect(found.body.type).toBe('/problems/validation')
    expect(found.body.errors.map((error: { pointer: string }) => error.pointer)).toContain(pointer)
  })

  test('bodies that are none: 400', async () => {
    for (const odd of ['[]', 'null', '5', '"text"', '{', '', '{"__proto__":{"a":1}}', '{"colour":"blue"}', '{"values":[1e999]}']) {
      const found = await raw(address, odd)
      expect(found.status, odd).toBe(400)
      expect(found.body.type).toBe('/problems/validation')
    }
    expect((await raw(address, 'x', 'text/plain')).status).toBe(415)
  })

  test('signed out: 401', async () => {
    const found = await it.nobody().post(address, body)
    expect(found.status).toBe(401)
    expect(found.body.type).toBe('/problems/signed-out')
  })
})

describe.each(CASES.filter(({ cannot }) => cannot !== undefined))('POST /api/sums/$sum', ({ sum, cannot, reason }) => {
  test('what cannot be done: 422 with the reason and a sentence', async () => {
    const found = await bench.post(`/api/sums/${sum}`, cannot)
    expect(found.status).toBe(422)
    expect(found.body).toMatchObject({ type: '/problems/cannot-be-worked-out', reason })
    expect(found.body.detail).toMatch(/^[A-Z].*\.$/)
  })
})

describe('size of a body', () => {
  const padded = (bytes: number) => `{"values":[1,2,3]${' '.repeat(bytes - 18)}}`

  test('256 KiB for a sum, and not a byte more', async () => {
    const chart = (bytes: number) => raw('/api/sums/chart', padded(bytes))
    expect((await chart(SUMS_BODY_BYTES)).status).toBe(200)
    const found = await chart(SUMS_BODY_BYTES + 1)
    expect(found.status).toBe(413)
    expect(found.body.type).toBe('/problems/too-large')
  })

  test('survival takes a hundred thousand lives within 4 MiB', async () => {
    const items = Array.from({ length: 100_000 }, (_, index) => ({ at: 1 + ((index * 7919) % 99_991), failed: index % 2 === 0 }))
    const found = await bench.post('/api/sums/survival', { items })
    expect(found.status).toBe(200)
    expect(found.body.groups[0]).toMatchObject({ group: 'all', count: 100_000, failures: 50_000 })
    const more = await bench.post('/api/sums/survival', { items: [...items, { at: 1, failed: true }] })
    expect(more.status).toBe(400)
    expect(more.body.errors).toEqual([expect.objectContaining({ pointer: '/items' })])
  })

  test.each([
    ['of a wrong kind', { at: 1, failed: 'yes' }, 'failed'],
    ['that the sum does not take', { at: 0, failed: true }, 'at'],
  ])('of a hundred thousand lives %s the first fifty are named, and how many more there are', async (_, life, field) => {
    const found = await bench.post('/api/sums/survival', { items: Array.from({ length: 100_000 }, () => life) })
    expect(found.status).toBe(400)
    expect(problem.parse(found.body).errors?.map(({ pointer }) => pointer)).toEqual(
      Array.from({ length: FIELD_ERRORS_MOST }, (_, index) => `/items/${index}/${field}`),
    )
    expect(found.body.detail).toBe('100000 fields need another look: the first 50 are listed, and there are 99950 more.')
  })

  test('survival refuses more than 4 MiB, and a list of millions is told so before its items are looked at', async () => {
    const send = (body: string) => raw('/api/sums/survival', body)
    expect((await send(`{"items":[]${' '.repeat(SURVIVAL_BODY_BYTES - 11)}}`)).status).toBe(413)
    const millions = `{"items":[${new Array(1_300_000).fill('{}').join(',')}]}`
    const found = await send(millions)
    expect(found.status).toBe(400)
    expect(found.body.errors).toHaveLength(1)
  })
})
