import { randomUUID } from 'node:crypto'
import { Validator } from '@seriousme/openapi-schema-validator'
import { describe, expect, test } from 'vitest'
import { PROBLEM_STATUS, PROBLEM_TITLES, PROBLEM_TYPES } from '#contract/problem-types.ts'
import { FIRST_SETTINGS } from '#contract/settings.ts'
import { startApp } from '#tests/support/app.ts'

const it = await startApp()
const owner = await it.as('owner')
const nobody = it.nobody()
const person = (signIn: string) => ({ signIn, name: 'Somebody', role: 'bench', password: 'a long password' })
const count = async () => (await it.db.pool.query<{ count: string }>('SELECT count(*) FROM person')).rows[0]?.count

describe('problem documents (RFC 9457)', () => {
  test('the closed list has a status and a title for each', () => {
    expect(Object.keys(PROBLEM_STATUS).sort()).toEqual([...PROBLEM_TYPES].sort())
    expect(Object.keys(PROBLEM_TITLES).sort()).toEqual([...PROBLEM_TYPES].sort())
  })

  test.each([
    ['an unknown address', () => nobody.get('/api/nothing-here'), 404, 'not-found'],
    ['a body that is no JSON', () => nobody.post('/api/session').set('content-type', 'application/json').send('{'), 400, 'validation'],
    ['a form', () => nobody.post('/api/session').type('form').send('name=x'), 415, 'unsupported-media'],
    ['plain text', () => nobody.post('/api/session').type('text/plain').send('x'), 415, 'unsupported-media'],
    [
      'a prototype in the body',
      () => nobody.post('/api/session').set('content-type', 'application/json').send('{"__proto__":{"role":"owner"}}'),
      400,
      'validation',
    ],
    ['too large a body', () => nobody.post('/api/session', { name: 'x', password: 'y'.repeat(300_000) }), 413, 'too-large'],
    ['an address that is not well formed', () => nobody.get('/api/people/%c0'), 400, 'validation'],
    ['an unknown field', () => owner.post('/api/people', { ...person('unknown'), version: 7 }), 400, 'validation'],
    ['a NUL in a text', () => owner.post('/api/people', { ...person('nul'), name: 'a\u0000b' }), 400, 'validation'],
    ['half a surrogate pair', () => owner.post('/api/people', { ...person('half'), name: 'a\ud800b' }), 400, 'validation'],
  ])('%s', async (_what, send, status, type) => {
    const answer = await send()
    expect(answer.status).toBe(status)
    expect(answer.headers['content-type']).toContain('application/problem+json')
    expect(answer.body).toMatchObject({ type: `/problems/${type}`, status, title: PROBLEM_TITLES[type as keyof typeof PROBLEM_TITLES] })
  })

  test('names each field at fault by JSON Pointer and says how to mend it', async () => {
    const answer = await owner.post('/api/people', { signIn: 'X', name: '', role: 'boss', password: 'short' })
    const pointers = (answer.body.errors as { pointer: string; detail: string }[]).map((error) => error.pointer)
    expect(pointers.sort()).toEqual(['/name', '/password', '/role', '/signIn'])
    for (const error of answer.body.errors) expect(error.detail.length).toBeGreaterThan(5)
  })
})

describe('Idempotency-Key', () => {
  test('is required on a POST that acts', async () => {
    const answer = await owner.post('/api/people', person('keyless')).unset('idempotency-key')
    expect(answer.body.type).toBe('/problems/idempotency-key-missing')
  })

  test('the same request twenty times at once has one effect', async () => {
    const before = Number(await count())
    const key = randomUUID()
    const answers = await Promise.all(Array.from({ length: 20 }, () => owner.post('/api/people', person('twenty'), key)))
    expect(Number(await count())).toBe(before + 1)
    expect(answers.filter((answer) => answer.status === 201 && answer.headers.replayed === undefined)).toHaveLength(1)
    for (const answer of answers) expect([201, 409]).toContain(answer.status)
    const again = await owner.post('/api/people', person('twenty'), key)
    expect(again.status).toBe(201)
    expect(again.headers.replayed).toBe('yes')
    const first = answers.find((answer) => answer.status === 201)
    expect(again.body).toEqual(first?.body)
  })

  test('another body under the same key is refused, and another person’s key is another key', async () => {
    const key = randomUUID()
    await owner.post('/api/people', person('first'), key).expect(201)
    expect((await owner.post('/api/people', person('second'), key)).body.type).toBe('/problems/idempotency-mismatch')
    const other = await it.as('owner')
    await other.post('/api/people', person('second'), key).expect(201)
  })

  test('what was refused is not stored: the same key may bring the mended request', async () => {
    const key = randomUUID()
    await owner.post('/api/people', person('first'), key).expect(400)
    await owner.post('/api/people', person('third'), key).expect(201)
  })

  test('a PATCH whose answer was lost is answered again, though its version has passed', async () => {
    const made = (await owner.post('/api/people', person('lost')).expect(201)).body as { id: string; version: number }
    const key = randomUUID()
    const send = () => owner.patch(`/api/people/${made.id}`, { name: 'Renamed' }, made.version).set('idempotency-key', key)
    const first = await send()
    const second = await send()
    expect([first.status, second.status]).toEqual([200, 200])
    expect(second.headers.replayed).toBe('yes')
    expect(second.body).toEqual(first.body)
    expect((await owner.patch(`/api/people/${made.id}`, { name: 'Renamed' }, made.version)).status).toBe(412)
  })
})

describe('versions', () => {
  test('a change without If-Match is refused, a stale one is 412 with the version that stands and nothing lost', async () => {
    const { version, ...now } = (await owner.get('/api/settings')).body
    expect((await owner.put('/api/settings', FIRST_SETTINGS)).body.type).toBe('/problems/precondition-required')
    const saved = await owner.put('/api/settings', { ...now, shopName: 'Kettle Row' }, version)
    expect(saved.headers.etag).toBe(`"${version + 1}"`)
    const stale = await owner.put('/api/settings', { ...now, shopName: 'Other' }, version)
    expect(stale.body).toMatchObject({ type: '/problems/stale-version', version: version + 1 })
    expect((await owner.get('/api/settings')).body.shopName).toBe('Kettle Row')
    const weak = await owner.put('/api/settings', { ...now, shopName: 'Third' }).set('if-match', `W/"${version + 1}"`)
    expect(weak.status).toBe(200)
    expect((await owner.put('/api/settings', now).set('if-match', '*')).status).toBe(400)
  })
})

describe('other sites', () => {
  test.each([
    ['cross-site', { 'sec-fetch-site': 'cross-site' }, 403],
    ['same-site', { 'sec-fetch-site': 'same-site' }, 403],
    ['no word of where it comes from', {}, 403],
    ['a foreign origin', { origin: 'https://elsewhere.example' }, 403],
    ['own pages', { 'sec-fetch-site': 'same-origin' }, 401],
  ])('%s', async (_what, headers: Record<string, string>, status) => {
    const request = nobody.post('/api/session', { name: 'x', password: 'y' }).unset('sec-fetch-site')
    for (const [name, value] of Object.entries(headers)) request.set(name, value)
    expect((await request).status).toBe(status)
  })

  test('answers carry the headers of the house, and a person has a rate of their own', async () => {
    const answer = await owner.get('/api/people')
    expect(answer.headers).toMatchObject({
      'x-content-type-options': 'nosniff',
      'referrer-policy': 'no-referrer',
      'cache-control': 'no-store',
      'x-ratelimit-limit': '200',
    })
    expect(answer.headers['content-security-policy']).toContain("frame-ancestors 'none'")
    // Straight into the app, in batches: on a busy machine one batch may spread over two windows of a second.
    const send = () => it.app.inject({ method: 'GET', url: '/api/session', headers: { cookie: owner.cookie } })
    let refused: Awaited<ReturnType<typeof send>>[] = []
    for (let batch = 0; batch < 10 && refused.length === 0; batch++)
      refused = (await Promise.all(Array.from({ length: 600 }, send))).filter((one) => one.statusCode === 429)
    expect(refused.length).toBeGreaterThan(0)
    expect(refused[0]?.json()).toMatchObject({ type: '/problems/rate-limited' })
    const colleague = await it.as('bench')
    expect((await colleague.get('/api/session')).status).toBe(200)
  })
})

describe('OpenAPI', () => {
  test('is a valid 3.1 document in which every field says what it is', async () => {
    const document = (await nobody.get('/api/openapi.json')).body
    const report = await new Validator().validate(structuredClone(document))
    expect(report.errors ?? []).toEqual([])
    expect(document.openapi).toBe('3.1.0')
    const mute = [...fieldsOf(document)].filter(({ schema }) => !described(schema)).map(({ at }) => at)
    expect(mute).toEqual([])
  })
})

interface Schema {
  description?: string
  properties?: Record<string, Schema>
  items?: Schema
  anyOf?: Schema[]
  const?: unknown
  [key: string]: unknown
}

const described = (schema: Schema): boolean =>
  schema.description !== undefined || (schema.anyOf?.some(described) ?? false) || schema.const !== undefined

function* fieldsOf(node: unknown, at = ''): Generator<{ at: string; schema: Schema }> {
  if (node === null || typeof node !== 'object') return
  const { properties } = node as Schema
  if (properties !== undefined && (node as Schema).type === 'object')
    for (const [name, schema] of Object.entries(properties)) yield { at: `${at}/${name}`, schema }
  for (const [name, inner] of Object.entries(node)) yield* fieldsOf(inner, `${at}/${name}`)
}
