import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import type { PracticeLines, PracticeRun } from '#contract/practice.ts'
import { playPractice } from '#core/practice.ts'
import { dealPractice, type PracticeLevel, practiceBestMm } from '#core/practice-crank.ts'
import { goodHand } from '#core/practice-hand.ts'
import { startPractice } from '#server/features/practice/commands.ts'
import { perform } from '#server/plugins/act.ts'
import { type Agent, startApp } from '#tests/support/app.ts'

const it = await startApp()
const owner = await it.as('owner')
const counter = await it.as('counter')

const STRIKE = { action: 'strike', half: 'right', atDeg: 90, how: 'firm' } as const
const SAID = { leftTirMm: 0.12, rightTirMm: 0.1 }
const move = (n: number, more: object = {}) => ({ n, move: STRIKE, said: SAID, ...more })

async function start(learner: Agent, level: PracticeLevel = 'two'): Promise<PracticeRun> {
  return (await learner.post('/api/practice', { level }).expect(201)).body
}

/** A run of a known seed, which no route would ever take. */
function startSeeded(learner: Agent, level: PracticeLevel, seed: number): Promise<PracticeRun> {
  return perform(it.db, { by: learner.person, now: it.clock.now }, (act) => startPractice(act, { level }, seed))
}

/** The names of everything that would tell what is wrong with a crank, or let it be worked out. */
const TELLS = /seed|faults|swingMm|openRad|throwMm|cockedRad|breakAway|ease|rimMm|wrongWay|bestMm|worstMm|goodMoves|curable|"best"|"good"/i

describe('a practice crank', () => {
  test('is dealt, moved and put down, and is the run that its seed and its moves give', async () => {
    const learner = await it.as('bench')
    const started = await startSeeded(learner, 'four', 61)
    const good = goodHand(61, dealPractice(61, 'four'))
    let run = started
    for (const [n, one] of good.moves.entries())
      run = (await learner.post(`/api/practice/${started.id}/moves`, { n, move: one, said: SAID }).expect(201)).body
    const { readings, states } = playPractice(61, 'four', good.moves)
    expect(run.readings).toEqual(readings)
    expect(run.moves.map((one) => one.move)).toEqual(good.moves)
    const ended: PracticeRun = (await learner.post(`/api/practice/${started.id}/end`, { called: 'true' }).expect(200)).body
    expect(ended.result).toMatchObject({ called: 'true', curable: true, good: { called: 'true', moves: good.moves } })
    expect(ended.result?.score).toMatchObject({ calledRight: true, moves: good.moves.length, goodMoves: good.moves.length, wrongWay: 0 })
    expect(ended.result?.faultsAtStart).toEqual(states[0])
    expect(ended.result?.faultsAtEnd).toEqual(states.at(-1))
    expect((await learner.get(`/api/practice/${started.id}`).expect(200)).body).toEqual(ended)
  })

  test('is called right as one that no hand cures where that is so', async () => {
    const learner = await it.as('bench')
    const seed = Array.from({ length: 50 }, (_, place) => place).find((one) => {
      const { faults, setUp } = dealPractice(one, 'perhaps-none')
      return practiceBestMm(faults, setUp) > 0.03
    })!
    const { id } = await startSeeded(learner, 'perhaps-none', seed)
    const { result } = (await learner.post(`/api/practice/${id}/end`, { called: 'no-hand' }).expect(200)).body as PracticeRun
    expect(result).toMatchObject({ curable: false, score: { calledRight: true, moves: 0 } })
    expect(result?.score.saidOffMm).toBeUndefined()
  })

  test('hides its faults on every route until it is put down, from the owner and in the audit chain too', async () => {
    const learner = await it.as('bench')
    const answers: unknown[] = []
    const started = await learner.post('/api/practice', { level: 'perhaps-none' }).expect(201)
    const { id } = started.body
    answers.push(started.body)
    answers.push((await learner.post(`/api/practice/${id}/moves`, move(0)).expect(201)).body)
    answers.push((await learner.get('/api/practice').expect(200)).body)
    for (const who of [learner, owner]) {
      answers.push((await who.get(`/api/practice/${id}`).expect(200)).body)
      answers.push((await who.get(`/api/people/${learner.person.id}/practice`).expect(200)).body)
    }
    answers.push((await owner.get('/api/audit').expect(200)).body)
    const kept = await it.db.pool.query(`SELECT payload FROM audit_row WHERE entity = 'practice_run' AND entity_id = $1`, [id])
    expect(kept.rows).toHaveLength(2)
    const { rows: seeds } = await it.db.pool.query<{ seed: string }>('SELECT seed FROM practice_run WHERE id = $1', [id])
    for (const answer of [...answers, ...kept.rows]) {
      expect(JSON.stringify(answer)).not.toMatch(TELLS)
      expect(JSON.stringify(answer)).not.toContain(`"${seeds[0]?.seed}"`)
    }
    const ended = (await learner.post(`/api/practice/${id}/end`, { called: 'left' }).expect(200)).body
    expect(JSON.stringify(ended)).toMatch(/faultsAtStart.*swingMm/)
    expect(JSON.stringify(ended)).not.toMatch(/seed/)
  })

  test('gives another crank each time', async () => {
    const learner = await it.as('bench')
    const first = await start(learner)
    await learner.post(`/api/practice/${first.id}/end`, { called: 'left' }).expect(200)
    const second = await start(learner)
    expect(second.readings).not.toEqual(first.readings)
  })
})

describe('what is refused', () => {
  test('a second crank before the first is put down, and anything to one that is', async () => {
    const learner = await it.as('bench')
    const { id } = await start(learner)
    expect((await learner.post('/api/practice', { level: 'one' }).expect(409)).body.type).toContain('conflict-state')
    await learner.post(`/api/practice/${id}/end`, { called: 'left' }).expect(200)
    await learner.post(`/api/practice/${id}/moves`, move(0)).expect(409)
    await learner.post(`/api/practice/${id}/end`, { called: 'true' }).expect(409)
  })

  test('a move that is not the next one, so that two tablets do not both hit', async () => {
    const learner = await it.as('bench')
    const { id } = await start(learner)
    await learner.post(`/api/practice/${id}/moves`, move(0)).expect(201)
    const again = await learner.post(`/api/practice/${id}/moves`, move(0)).expect(400)
    expect(again.body.errors[0]).toMatchObject({ pointer: expect.stringContaining('/n') })
    await learner.post(`/api/practice/${id}/moves`, move(2)).expect(400)
  })

  test('a move said twice with one key is made once', async () => {
    const learner = await it.as('bench')
    const { id } = await start(learner)
    const key = randomUUID()
    const first = await learner.post(`/api/practice/${id}/moves`, move(0), key).expect(201)
    const again = await learner.post(`/api/practice/${id}/moves`, move(0), key).expect(201)
    expect(again.body).toEqual(first.body)
    expect(again.body.moves).toHaveLength(1)
  })

  test('a sixty-first move', async () => {
    const learner = await it.as('bench')
    const { id } = await start(learner)
    await it.db.pool.query(
      `INSERT INTO practice_move (run_id, n, action, how, said_left_mm, said_right_mm, recorded_at)
       SELECT $1, n, 'wedge', 'little', 0.1, 0.1, now() FROM generate_series(0, 59) n`,
      [id],
    )
    await learner.post(`/api/practice/${id}/moves`, move(59)).expect(409)
    expect((await learner.get(`/api/practice/${id}`).expect(200)).body.readings).toHaveLength(61)
  })

  test.each([
    ['no level', '/api/practice', {}],
    ['a level that does not exist', '/api/practice', { level: 'five' }],
    ['a seed of one’s own', '/api/practice', { level: 'one', seed: 5 }],
    ['a move that nothing was said of', '/moves', { n: 0, move: STRIKE }],
    ['half of a saying', '/moves', { n: 0, move: STRIKE, said: { leftTirMm: 0.1 } }],
    ['a blow without its web', '/moves', { n: 0, move: { action: 'strike', atDeg: 90, how: 'firm' }, said: SAID }],
    ['a squeeze as hard as a blow', '/moves', { n: 0, move: { action: 'squeeze', how: 'firm' }, said: SAID }],
    ['no call', '/end', {}],
  ])('%s', async (_what, address, body) => {
    const learner = await it.as('bench')
    const at = address.startsWith('/api') ? address : `/api/practice/${(await start(learner)).id}${address}`
    expect((await learner.post(at, body).expect(400)).body.errors.length).toBeGreaterThan(0)
  })
})

describe('who sees it', () => {
  test('the learner and the owner; no other hand, no counter, nobody signed out', async () => {
    const learner = await it.as('bench')
    const other = await it.as('bench')
    const { id } = await start(learner)
    await owner.get(`/api/practice/${id}`).expect(200)
    await other.get(`/api/practice/${id}`).expect(404)
    await other.get(`/api/people/${learner.person.id}/practice`).expect(403)
    await owner.get(`/api/people/${randomUUID()}/practice`).expect(404)
    // The owner looks on, but does not hit somebody else's crank.
    for (const who of [other, owner]) {
      await who.post(`/api/practice/${id}/moves`, move(0)).expect(404)
      await who.post(`/api/practice/${id}/end`, { called: 'true' }).expect(404)
    }
    for (const [who, answer] of [
      [counter, 403],
      [it.nobody(), 401],
    ] as const) {
      await who.get('/api/practice').expect(answer)
      await who.get(`/api/practice/${id}`).expect(answer)
      await who.post('/api/practice', { level: 'one' }).expect(answer)
      await who.post(`/api/practice/${id}/moves`, move(0)).expect(answer)
      await who.post(`/api/practice/${id}/end`, { called: 'true' }).expect(answer)
      await who.get(`/api/people/${learner.person.id}/practice`).expect(answer)
    }
  })

  test('own cranks come page by page, the last first, with their score once they are put down', async () => {
    const learner = await it.as('bench')
    for (let run = 0; run < 3; run++) {
      const { id } = await start(learner, 'one')
      if (run < 2) await learner.post(`/api/practice/${id}/end`, { called: 'left' }).expect(200)
      it.clock.pass(1)
    }
    const page = (await learner.get('/api/practice?limit=2').expect(200)).body as PracticeLines
    expect(page.rows.map((row) => [row.called, row.score?.calledRight])).toEqual([
      [undefined, undefined],
      ['left', false],
    ])
    const rest = (await learner.get(`/api/practice?limit=2&after=${page.next}`).expect(200)).body as PracticeLines
    expect(rest.rows).toHaveLength(1)
    expect(rest.next).toBeNull()
  })
})

test('practice is in no figure of the shop: no job, no hours, no reading, and the learning line stays as it was', async () => {
  const learner = await it.as('bench')
  const line = () => learner.get(`/api/people/${learner.person.id}/learning`).expect(200)
  const before = (await line()).body
  const { id } = await start(learner, 'one')
  await learner.post(`/api/practice/${id}/moves`, move(0)).expect(201)
  await learner.post(`/api/practice/${id}/end`, { called: 'true' }).expect(200)
  expect((await line()).body).toEqual(before)
  const { rows } = await it.db.pool.query(
    `SELECT (SELECT count(*) FROM job)::int + (SELECT count(*) FROM measurement)::int + (SELECT count(*) FROM truing_move)::int
       + (SELECT count(*) FROM clock_entry)::int AS real`,
  )
  expect(rows).toEqual([{ real: 0 }])
})
