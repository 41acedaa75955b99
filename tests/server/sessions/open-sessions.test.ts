import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import type { OpenSession } from '#contract/sessions.ts'
import { startApp } from '#tests/support/app.ts'

const it = await startApp()
const owner = await it.as('owner', { name: 'Ewa' })
const counter = await it.as('counter')
const nobody = it.nobody()

const { id: jonas } = (await owner.post('/api/people', { signIn: 'jonas', name: 'Jonas', role: 'bench', password: 'three plain words' }))
  .body

async function signIn(extra = ''): Promise<string> {
  const answer = await nobody.post('/api/session', { name: 'jonas', password: 'three plain words' }).set('cookie', extra).expect(200)
  return /throwbook=[^;]+/.exec(String(answer.headers['set-cookie']))?.[0] ?? ''
}
const seen = async (cookie: string) => (await nobody.get('/api/session').set('cookie', cookie)).status
const listed = async (cookie: string): Promise<OpenSession[]> =>
  (await nobody.get('/api/people/me/sessions').set('cookie', cookie).expect(200)).body
const theirs = async (): Promise<OpenSession[]> => (await owner.get(`/api/people/${jonas}/sessions`).expect(200)).body

describe('where somebody is signed in', () => {
  test('says device, when it began, was last seen and ends; the one that asks is marked; nothing of the token shows', async () => {
    const enrolled = await owner.post('/api/devices', { name: 'bench 1' }).expect(201)
    const tablet = /throwbook-tablet=[^;]+/.exec(String(enrolled.headers['set-cookie']))?.[0] ?? ''
    const onTablet = await signIn(tablet)
    it.clock.pass(30)
    const here = await signIn()
    const [first, second] = await listed(here)
    expect(first).toMatchObject({ here: true, byPin: false, startedAt: '2026-11-24T09:30:00.000Z', lastSeenAt: '2026-11-24T09:30:00.000Z' })
    // 240 minutes idle, 12 hours at most: the first settings of a book.
    expect([first?.endsAt, first?.endsLatestAt]).toEqual(['2026-11-24T13:30:00.000Z', '2026-11-24T21:30:00.000Z'])
    expect(first).not.toHaveProperty('device')
    expect(second).toMatchObject({ here: false, device: 'bench 1', startedAt: '2026-11-24T09:00:00.000Z' })
    const { rows } = await it.db.pool.query("SELECT encode(id_hash, 'hex') AS hash FROM session WHERE person_id = $1", [jonas])
    for (const row of rows) expect(JSON.stringify([first, second])).not.toContain(row.hash.slice(0, 16))
    expect((await theirs()).map((one) => [one.id, one.here])).toEqual([
      [first?.id, false],
      [second?.id, false],
    ])
    expect(await seen(onTablet)).toBe(200)
  })

  test('idle and ended ones are not listed', async () => {
    const before = (await theirs()).length
    const idle = await signIn()
    expect(await theirs()).toHaveLength(before + 1)
    it.clock.pass(200)
    for (const agent of [owner, counter]) await agent.get('/api/session').expect(200)
    it.clock.pass(41)
    expect(await theirs()).toEqual([])
    expect(await seen(idle)).toBe(401)
  })

  test('everybody sees their own, the owner everybody’s', async () => {
    await counter.get('/api/people/me/sessions').expect(200)
    await counter.get(`/api/people/${jonas}/sessions`).expect(403)
    await nobody.get('/api/people/me/sessions').expect(401)
    await nobody.get(`/api/people/${jonas}/sessions`).expect(401)
    await owner.get(`/api/people/${randomUUID()}/sessions`).expect(404)
  })
})

describe('ending them', () => {
  test('one of one’s own; another person’s is not there', async () => {
    const [here, other] = [await signIn(), await signIn()]
    const mine = await listed(here)
    const there = mine.find((one) => !one.here)?.id
    const end = (cookie: string, name: string | undefined) => nobody.post(`/api/people/me/sessions/${name}/end`).set('cookie', cookie)
    await counter.post(`/api/people/me/sessions/${there}/end`).expect(404)
    expect(await seen(other)).toBe(200)
    expect((await end(here, there).expect(200)).body).toEqual({ ended: 1 })
    expect([await seen(here), await seen(other)]).toEqual([200, 401])
    await end(here, there).expect(404)
    await end(here, 'not-a-name').expect(400)
    await nobody.post(`/api/people/me/sessions/${there}/end`).expect(401)
  })

  test('all but this one, by oneself; a repeat under the same key ends nothing more', async () => {
    const [here, one, two] = [await signIn(), await signIn(), await signIn()]
    const key = randomUUID()
    const ended = await nobody.post('/api/people/me/sessions/end', {}, key).set('cookie', here).expect(200)
    expect(ended.body.ended).toBeGreaterThanOrEqual(2)
    expect([await seen(here), await seen(one), await seen(two)]).toEqual([200, 401, 401])
    const again = await nobody.post('/api/people/me/sessions/end', {}, key).set('cookie', here).expect(200)
    expect([again.body, again.headers.replayed]).toEqual([ended.body, 'yes'])
    await nobody.post('/api/people/me/sessions/end').expect(401)
  })

  test('all or one of anybody’s, by the owner, in the audit', async () => {
    const [one, two, three] = [await signIn(), await signIn(), await signIn()]
    const name = (await listed(one)).find((each) => each.here)?.id
    await counter.post(`/api/people/${jonas}/sessions/${name}/end`).expect(403)
    await counter.post(`/api/people/${jonas}/sessions/end`).expect(403)
    await nobody.post(`/api/people/${jonas}/sessions/end`).expect(401)
    await owner.post(`/api/people/${randomUUID()}/sessions/end`).expect(404)
    await owner.post(`/api/people/${owner.person.id}/sessions/${name}/end`).expect(404)
    await owner.post(`/api/people/${jonas}/sessions/${name}/end`).expect(200)
    expect([await seen(one), await seen(two), await seen(three)]).toEqual([401, 200, 200])
    await owner.post(`/api/people/${jonas}/sessions/end`).expect(200)
    expect([await seen(two), await seen(three)]).toEqual([401, 401])
    const { rows } = await it.db.pool.query("SELECT action, entity_id FROM audit_row WHERE action LIKE 'end session%' ORDER BY seq")
    expect(rows.slice(-2)).toEqual([
      { action: 'end session', entity_id: jonas },
      { action: 'end sessions', entity_id: jonas },
    ])
  })
})
