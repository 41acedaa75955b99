import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import type { Person } from '#contract/people.ts'
import { type Agent, startApp } from '#tests/support/app.ts'

const it = await startApp()
const owner = await it.as('owner', { name: 'Ewa' })
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench', { name: 'Jonas' })
const nobody = it.nobody()

let added = 0
async function addPerson(more: object = {}): Promise<Person> {
  added++
  const wanted = { signIn: `person${added}`, name: `Person ${added}`, role: 'bench', password: 'three plain words', ...more }
  return (await owner.post('/api/people', wanted).expect(201)).body
}

async function signIn(name: string, password = 'three plain words'): Promise<string> {
  const answer = await nobody.post('/api/session', { name, password }).expect(200)
  return /throwbook=[^;]+/.exec(String(answer.headers['set-cookie']))?.[0] ?? ''
}

const seen = async (cookie: string) => (await nobody.get('/api/session').set('cookie', cookie)).status

async function lastAudit(): Promise<{ action: string; payload: Record<string, unknown> }> {
  const { rows } = await it.db.pool.query('SELECT action, payload::jsonb AS payload FROM audit_row ORDER BY seq DESC LIMIT 1')
  return rows[0]
}

describe('adding', () => {
  test('a person with everything, and with what is compulsory alone', async () => {
    const whole = await addPerson({ role: 'bench', maySign: true, cranksBefore: 700 })
    expect(whole).toMatchObject({ role: 'bench', maySign: true, cranksBefore: 700, hasPin: false, barred: false, version: 1 })
    expect(await addPerson()).toMatchObject({ maySign: false, cranksBefore: 0 })
    expect(JSON.stringify(await lastAudit())).not.toContain('three plain words')
  })

  test.each([
    [{ signIn: 'Big Letters' }, '/signIn'],
    [{ name: '' }, '/name'],
    [{ role: 'chief' }, '/role'],
    [{ cranksBefore: -1 }, '/cranksBefore'],
    [{ password: 'nine char' }, '/password'],
    [{ password: 'x'.repeat(129) }, '/password'],
    [{ password: '1234567890' }, '/password'],
    [{ password: 'qqqqqqqqqqqq' }, '/password'],
  ])('%o is refused at its field', async (wrong, pointer) => {
    const wanted = { signIn: 'somebody', name: 'Somebody', role: 'bench', password: 'three plain words', ...wrong }
    const answer = await owner.post('/api/people', wanted)
    expect([answer.status, answer.body.errors[0].pointer]).toEqual([400, pointer])
  })

  test('a name at sign-in stands once, and people are the owner’s to add', async () => {
    const { signIn: taken } = await addPerson()
    const again = await owner.post('/api/people', { signIn: taken, name: 'B', role: 'bench', password: 'three plain words' })
    expect([again.status, again.body.errors[0].code]).toEqual([400, 'taken'])
    for (const agent of [counter, bench]) await agent.post('/api/people', {}).expect(403)
    await nobody.post('/api/people', {}).expect(401)
  })

  // RELIABILITY S3: passwords of any characters, none cut off, compared after NFC.
  test.each([
    'ten chars!',
    `${'abc'.repeat(21)}d`,
    `${'Z'.repeat(64)}abc`,
    '  spaces at both ends  ',
    'gears ⚙️ and oil 🛢️',
    'пароль из слов',
  ])('%s opens the book, and one character less does not', async (password) => {
    const { signIn: name } = await addPerson({ password })
    expect(await seen(await signIn(name, password))).toBe(200)
    await nobody.post('/api/session', { name, password: [...password].slice(0, -1).join('') }).expect(401)
  })

  test('a composed and a taken-apart letter are the same', async () => {
    const { signIn: name } = await addPerson({ password: 'Zolkiewski Szo\u0301ke'.normalize('NFC') })
    await signIn(name, 'Zolkiewski Szo\u0301ke'.normalize('NFD'))
  })
})

describe('changing', () => {
  test('over the version that was seen, by the owner alone', async () => {
    const { id } = await addPerson()
    await owner.patch(`/api/people/${id}`, { maySign: true }).expect(428)
    const answer = await owner.patch(`/api/people/${id}`, { maySign: true, cranksBefore: 12 }, 1).expect(200)
    expect(answer.body).toMatchObject({ maySign: true, cranksBefore: 12, version: 2 })
    const stale = await owner.patch(`/api/people/${id}`, { name: 'Late' }, 1)
    expect([stale.status, stale.body.version]).toEqual([412, 2])
    await owner.patch(`/api/people/${randomUUID()}`, { name: 'A' }, 1).expect(404)
    for (const agent of [counter, bench]) await agent.patch(`/api/people/${id}`, { name: 'A' }, 2).expect(403)
    await nobody.patch(`/api/people/${id}`, { name: 'A' }, 2).expect(401)
  })

  test('a new password ends their sessions, is not in the chain, and is what lets them in', async () => {
    const person = await addPerson()
    const before = await signIn(person.signIn)
    const guess = await owner.patch(`/api/people/${person.id}`, { password: person.name.replace(' ', '').repeat(3) }, 1)
    expect([guess.status, guess.body.errors[0]]).toEqual([400, expect.objectContaining({ pointer: '/password', code: 'guessable' })])
    expect(await seen(before)).toBe(200)
    await owner.patch(`/api/people/${person.id}`, { password: 'four other plain words' }, 1).expect(200)
    expect(await seen(before)).toBe(401)
    expect((await lastAudit()).payload).toMatchObject({ after: { password: 'set anew', sessionsEnded: 1 } })
    await nobody.post('/api/session', { name: person.signIn, password: 'three plain words' }).expect(401)
    await signIn(person.signIn, 'four other plain words')
  })

  test('a PIN is taken away by the owner; their sessions end and the tablet offers them no more', async () => {
    const person = await addPerson()
    const cookie = await signIn(person.signIn)
    await nobody.put('/api/people/me/pin', { password: 'three plain words', pin: '4711' }).set('cookie', cookie).expect(200)
    const enrolled = await owner.post('/api/devices', { name: 'bench 9' }).expect(201)
    const tablet = /throwbook-tablet=[^;]+/.exec(String(enrolled.headers['set-cookie']))?.[0] ?? ''
    const hands = async () => ((await nobody.get('/api/door').set('cookie', tablet)).body.hands as { id: string }[]).map((hand) => hand.id)
    expect(await hands()).toContain(person.id)
    const cleared = await owner.patch(`/api/people/${person.id}`, { clearPin: true }, 2).expect(200)
    expect(cleared.body.hasPin).toBe(false)
    expect(await seen(cookie)).toBe(401)
    expect(await hands()).not.toContain(person.id)
    await nobody.post('/api/session/pin', { personId: person.id, pin: '4711' }).set('cookie', tablet).expect(401)
    await owner.patch(`/api/people/${person.id}`, { clearPin: false }, 3).expect(400)
  })
})

describe('the last owner', () => {
  test('neither bars nor demotes herself, and is told what to do; with a second owner another must', async () => {
    await it.db.pool.query("UPDATE person SET barred_at = now() WHERE role = 'owner' AND id <> $1", [owner.person.id])
    const change = (body: object) => owner.patch(`/api/people/${owner.person.id}`, body, 1)
    for (const body of [{ barred: true }, { role: 'bench' }]) {
      const answer = await change(body)
      expect([answer.status, answer.body.detail]).toEqual([
        409,
        'You are the only owner. Make somebody else an owner first; then this can be done.',
      ])
    }
    const second = await addPerson({ role: 'owner' })
    expect((await change({ barred: true })).body.detail).toBe('Nobody bars themselves or changes their own role. Another owner can.')
    expect((await change({ password: 'four other plain words' })).body.errors[0]).toMatchObject({ pointer: '/password', code: 'own' })
    await owner.patch(`/api/people/${second.id}`, { barred: true }, 1).expect(200)
  })

  test('two owners who bar each other at the same moment leave one', async () => {
    const [one, other] = [await it.as('owner'), await it.as('owner')]
    await it.db.pool.query("UPDATE person SET barred_at = now() WHERE role = 'owner' AND id <> ALL ($1)", [
      [one.person.id, other.person.id],
    ])
    const bar = (by: Agent, whom: Agent) => by.patch(`/api/people/${whom.person.id}`, { barred: true }, 1)
    const answers = await Promise.all([bar(one, other), bar(other, one)])
    expect(answers.filter((answer) => answer.status === 200)).toHaveLength(1)
    const { rows } = await it.db.pool.query("SELECT count(*)::int AS left FROM person WHERE role = 'owner' AND barred_at IS NULL")
    expect(rows[0].left).toBe(1)
    await it.db.pool.query('UPDATE person SET barred_at = NULL WHERE id = $1', [owner.person.id])
  })
})

// RELIABILITY A5: role lowered or barred while a session is open, the next request is denied at once.
describe('what an open session may do follows the person', () => {
  test('a role that was lowered, raised, or barred counts from the next request on', async () => {
    const person = await addPerson({ role: 'owner' })
    const cookie = await signIn(person.signIn)
    const ask = async (address: string) => (await nobody.get(address).set('cookie', cookie)).status
    expect([await ask('/api/audit'), await ask('/api/customers')]).toEqual([200, 200])
    await owner.patch(`/api/people/${person.id}`, { role: 'counter' }, 1).expect(200)
    expect([await ask('/api/audit'), await ask('/api/customers'), await ask('/api/clock')]).toEqual([403, 200, 403])
    await owner.patch(`/api/people/${person.id}`, { role: 'bench' }, 2).expect(200)
    expect([await ask('/api/customers'), await ask('/api/clock')]).toEqual([403, 200])
    await owner.patch(`/api/people/${person.id}`, { barred: true }, 3).expect(200)
    expect([await ask('/api/clock'), await ask('/api/session')]).toEqual([401, 401])
    await owner.patch(`/api/people/${person.id}`, { barred: false }, 4).expect(200)
    expect(await ask('/api/clock')).toBe(401)
    await signIn(person.signIn)
  })
})

describe('own password', () => {
  test('is changed with the old one; sessions elsewhere end, this one stays', async () => {
    const person = await addPerson()
    const [here, elsewhere] = [await signIn(person.signIn), await signIn(person.signIn)]
    const change = (body: object) => nobody.put('/api/people/me/password', body).set('cookie', here)
    const wrong = await change({ password: 'not this one', newPassword: 'four other plain words' })
    expect([wrong.status, wrong.body.errors[0].pointer]).toEqual([400, '/password'])
    for (const newPassword of ['short', 'abcdefghijkl'])
      expect((await change({ password: 'three plain words', newPassword })).body.errors[0].pointer).toBe('/newPassword')
    expect((await change({ password: 'three plain words' })).body.errors[0].pointer).toBe('/newPassword')
    await change({ password: 'three plain words', newPassword: 'four other plain words' }).expect(200)
    expect([await seen(here), await seen(elsewhere)]).toEqual([200, 401])
    await nobody.post('/api/session', { name: person.signIn, password: 'three plain words' }).expect(401)
    await signIn(person.signIn, 'four other plain words')
    expect(await lastAudit()).toMatchObject({ action: 'change own password', payload: { after: { sessionsEnded: 1 } } })
    await nobody.put('/api/people/me/password', {}).expect(401)
  })

  test('guessing at it with an open session is slowed down, and the right one then waits too', async () => {
    const person = await addPerson()
    const cookie = await signIn(person.signIn)
    const guess = (password: string) => nobody.put('/api/people/me/pin', { password, pin: '4711' }).set('cookie', cookie)
    for (let tries = 0; tries < 10; tries++) expect((await guess('a wrong one')).status).toBe(400)
    const slowed = await guess('three plain words')
    expect([slowed.status, slowed.headers['retry-after']]).toEqual([429, '900'])
    it.clock.pass(16)
    await guess('three plain words').expect(200)
  })
})
