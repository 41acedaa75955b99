import { describe, expect, test } from 'vitest'
import { changePerson } from '#server/features/people/store.ts'
import { keepSetUpCode } from '#server/features/sessions/store.ts'
import { perform } from '#server/plugins/act.ts'
import { hashPassword } from '#server/plugins/passwords.ts'
import { startApp } from '#tests/support/app.ts'

const it = await startApp()
const nobody = it.nobody()

describe('first visit', () => {
  test('no account works, the printed code makes the first owner, once', async () => {
    expect((await nobody.get('/api/door')).body).toMatchObject({ setUp: false, hands: [] })
    expect((await nobody.post('/api/session', { name: 'owner', password: 'throwbook-demo' })).status).toBe(401)
    await keepSetUpCode(it.db, await hashPassword('ABC123ABC123'))
    const wanted = { code: 'abc123abc123', shop: 'Kettle Row Crank Works', name: 'Ewa', signIn: 'ewa', password: 'a few long words' }
    expect((await nobody.post('/api/set-up', { ...wanted, code: 'wrong' })).status).toBe(401)
    const made = await nobody.post('/api/set-up', wanted)
    expect(made.status).toBe(200)
    expect(made.body).toMatchObject({ name: 'Ewa', role: 'owner', maySign: true })
    expect((await nobody.post('/api/set-up', { ...wanted, signIn: 'second' })).status).toBe(401)
    expect((await nobody.get('/api/door')).body).toMatchObject({ setUp: true, shop: 'Kettle Row Crank Works' })
  })
})

describe('sign-in', () => {
  test('gives a cookie that pages of other sites cannot use and scripts cannot read; only its hash is kept', async () => {
    const answer = await nobody.post('/api/session', { name: 'Ewa', password: 'a few long words' })
    expect(answer.status).toBe(200)
    const cookie = String(answer.headers['set-cookie'])
    expect(cookie).toMatch(/HttpOnly; SameSite=Strict/)
    const token = /throwbook=([^;]+)/.exec(cookie)?.[1] ?? ''
    expect(Buffer.from(token, 'base64url')).toHaveLength(32)
    const rows = await it.db.pool.query('SELECT 1 FROM session WHERE id_hash = sha256($1)', [Buffer.from(token)])
    expect(rows.rowCount).toBe(1)
  })

  test('says the same for a wrong password and an unknown name', async () => {
    const wrong = await nobody.post('/api/session', { name: 'ewa', password: 'something else' })
    const unknown = await nobody.post('/api/session', { name: 'nobody-here', password: 'something else' })
    expect([wrong.status, unknown.status]).toEqual([401, 401])
    expect(wrong.body.detail).toBe(unknown.body.detail)
    expect(wrong.headers['content-type']).toContain('application/problem+json')
  })

  test('slows guessing at one name down and lets colleagues in from the same address', async () => {
    const owner = await it.as('owner')
    await owner.post('/api/people', { signIn: 'hana', name: 'Hana', role: 'counter', password: 'many small letters' }).expect(201)
    await owner.post('/api/people', { signIn: 'jonas', name: 'Jonas', role: 'bench', password: 'copper hammer here' }).expect(201)
    for (let tries = 0; tries < 10; tries++) await nobody.post('/api/session', { name: 'hana', password: 'guess' }).expect(401)
    const slowed = await nobody.post('/api/session', { name: 'hana', password: 'many small letters' })
    expect(slowed.status).toBe(429)
    expect(Number(slowed.headers['retry-after'])).toBeGreaterThan(0)
    await nobody.post('/api/session', { name: 'jonas', password: 'copper hammer here' }).expect(200)
    it.clock.pass(16)
    await nobody.post('/api/session', { name: 'hana', password: 'many small letters' }).expect(200)
  })

  test('ends after the idle limit, at the absolute limit, at sign-out, and at once when the person is barred', async () => {
    const signIn = async () => {
      const answer = await nobody.post('/api/session', { name: 'jonas', password: 'copper hammer here' }).expect(200)
      return /throwbook=[^;]+/.exec(String(answer.headers['set-cookie']))?.[0] ?? ''
    }
    const seen = async (cookie: string) => (await nobody.get('/api/session').set('cookie', cookie)).status
    const idle = await signIn()
    expect(await seen(idle)).toBe(200)
    it.clock.pass(241)
    expect(await seen(idle)).toBe(401)
    const absolute = await signIn()
    for (let hours = 0; hours < 11; hours++) {
      it.clock.pass(60)
      expect(await seen(absolute)).toBe(200)
    }
    it.clock.pass(61)
    expect(await seen(absolute)).toBe(401)
    const left = await signIn()
    await nobody.delete('/api/session').set('cookie', left).expect(204)
    expect(await seen(left)).toBe(401)
    const barred = await signIn()
    const owner = await it.as('owner')
    const people = (await owner.get('/api/people')).body as { id: string; signIn: string; version: number }[]
    const jonas = people.find((person) => person.signIn === 'jonas')
    await owner.patch(`/api/people/${jonas?.id}`, { barred: true }, jonas?.version).expect(200)
    expect(await seen(barred)).toBe(401)
    await nobody.post('/api/session', { name: 'jonas', password: 'copper hammer here' }).expect(401)
  })
})

describe('PIN', () => {
  test('changes hands on an enrolled tablet only, and is rate-limited there', async () => {
    const owner = await it.as('owner', { name: 'Marek' })
    await perform(it.db, { by: owner.person, now: it.clock.now }, async (act) => {
      await changePerson(act, owner.person.id, 1, { pinHash: await hashPassword('4711') })
    })
    await nobody.post('/api/session/pin', { personId: owner.person.id, pin: '4711' }).expect(403)
    const enrolled = await owner.post('/api/devices', { name: 'bench 1' }).expect(201)
    const tablet = /throwbook-tablet=[^;]+/.exec(String(enrolled.headers['set-cookie']))?.[0] ?? ''
    const hands = await nobody.get('/api/door').set('cookie', tablet)
    expect(hands.body.hands).toEqual([{ id: owner.person.id, name: 'Marek' }])
    const began = performance.now()
    await nobody.post('/api/session/pin', { personId: owner.person.id, pin: '4711' }).set('cookie', tablet).expect(200)
    expect(performance.now() - began).toBeLessThan(2000)
    for (let tries = 0; tries < 5; tries++)
      await nobody.post('/api/session/pin', { personId: owner.person.id, pin: '0000' }).set('cookie', tablet).expect(401)
    await nobody.post('/api/session/pin', { personId: owner.person.id, pin: '4711' }).set('cookie', tablet).expect(429)
    await owner.delete(`/api/devices/${enrolled.body.id}`).expect(204)
    expect((await nobody.get('/api/door').set('cookie', tablet)).body.hands).toEqual([])
  })
})
