import { cleanup, fireEvent, screen, within } from '@testing-library/react'
import { afterEach, expect, test, vi } from 'vitest'
import type { PracticeLine, PracticeRun } from '#contract/practice.ts'
import type { Me } from '#contract/sessions.ts'
import { playPractice, scorePractice } from '#core/practice.ts'
import { dealPractice } from '#core/practice-crank.ts'
import { goodHand } from '#core/practice-hand.ts'
import type { PracticeMove } from '#core/practice-move.ts'
import { learner } from '#tests/web/learning/sample-line.ts'
import { fakeBook, openAt, posts, Refusal } from '#tests/web/truing/fake-book.tsx'
import { ewa, jonas, marek } from '#tests/web/truing/sample-bench.ts'
import { LearningLinePage } from '#web/pages/learning-line.tsx'
import { PracticePage } from '#web/pages/practice.tsx'
import { PracticeCrankPage } from '#web/pages/practice-crank.tsx'

afterEach(() => {
  cleanup()
  localStorage.clear()
  vi.unstubAllGlobals()
})

const ID = '0198f3a0-0000-7000-8000-0000000000c1'
const AT = '2026-11-24T09:00:00Z'
const SEED = 61
const PAGES = {
  '/bench/practice': PracticePage,
  '/bench/practice/:id': PracticeCrankPage,
  '/office/learning/:personId': LearningLinePage,
}
const STRIKE: PracticeMove = { action: 'strike', half: 'right', atDeg: 90, how: 'firm' }
const SAID = { leftTirMm: 0.1, rightTirMm: 0.2 }

/** A run as the book answers it, worked by the core from its seed. */
function runOf(moves: PracticeMove[], called?: 'true' | 'no-hand' | 'left'): PracticeRun {
  const { crank, readings, states, rimMm } = playPractice(SEED, 'two', moves)
  const good = goodHand(SEED, dealPractice(SEED, 'two'))
  const steps = moves.map((move) => ({ move, said: SAID }))
  return {
    id: ID,
    personId: jonas.id,
    by: 'Jonas',
    level: 'two',
    startedAt: AT,
    crank: {
      strokeMm: crank.strokeMm,
      rimRadiusMm: crank.rimRadiusMm,
      held: crank.on === 'centres' ? 'centres' : 'v-blocks-bare',
      ...crank.setUp,
    },
    limitMm: 0.03,
    stepMm: 0.001,
    worthMm: 0.005,
    readings,
    moves: steps.map((step, n) => ({ n, ...step, at: AT })),
    ...(called === undefined
      ? {}
      : {
          endedAt: AT,
          result: {
            called,
            score: scorePractice(SEED, 'two', steps, called),
            faultsAtStart: crank.faults,
            faultsAtEnd: states.at(-1)!,
            best: { leftTirMm: 0, rightTirMm: 0 },
            curable: true,
            moves: moves.map((_move, n) => ({ rimMm: rimMm[n]!, wrongWay: n === 0 })),
            good: { moves: good.moves, called: 'true', worstMm: good.worstMm },
          },
        }),
  }
}

function lineOf(id: string, score: Partial<NonNullable<PracticeLine['score']>>): PracticeLine {
  const all = {
    worstMm: 0.012,
    bestMm: 0.004,
    calledRight: true,
    moves: 6,
    goodMoves: 3,
    saidOffMm: 0.02,
    unchangedOffMm: 0.05,
    wrongWay: 1,
    ...score,
  }
  return { id, level: 'four', startedAt: AT, endedAt: AT, called: 'true', score: all }
}

const list = (rows: PracticeLine[]) => ({ rows, next: null })
const OPEN: PracticeLine = { id: ID, level: 'two', startedAt: AT }

function open(address: string, answers: Record<string, unknown>, me: Me = jonas) {
  const book = fakeBook(me, answers)
  return { book, router: openAt(address, PAGES) }
}

async function readItAll() {
  fireEvent.click(await screen.findByRole('button', { name: 'Read all marks' }))
}

function choose(group: string, option: string) {
  fireEvent.click(within(screen.getByRole('radiogroup', { name: new RegExp(group) })).getByRole('radio', { name: option }))
}

test('takes a crank of the level chosen and goes to it', async () => {
  const { book, router } = open('/bench/practice', { 'GET /api/practice': list([]), 'POST /api/practice': runOf([]) })
  await screen.findByText(/None yet/)
  choose('What may be wrong', 'perhaps beyond a hand')
  expect(screen.getByText(/Say so when it is so/)).toBeTruthy()
  fireEvent.click(screen.getByRole('button', { name: 'Take a crank' }))
  await vi.waitFor(() => expect(router.state.location.pathname).toMatch(/^\/bench\/practice\/[0-9a-f-]{36}$/))
  expect(posts(book, '/api/practice')[0]?.body).toMatchObject({ level: 'perhaps-none' })
})

test('goes on with the one that is not put down instead of taking another', async () => {
  open('/bench/practice', { 'GET /api/practice': list([OPEN]) })
  expect((await screen.findByRole('link', { name: 'Go on with it' })).getAttribute('href')).toBe(`/bench/practice/${ID}`)
  expect(screen.queryByRole('button', { name: 'Take a crank' })).toBeNull()
})

test('says why no crank was taken, and when the practice cannot be read', async () => {
  open('/bench/practice', { 'GET /api/practice': list([]), 'POST /api/practice': new Refusal('overloaded') })
  fireEvent.click(await screen.findByRole('button', { name: 'Take a crank' }))
  expect((await screen.findByRole('alert')).textContent).toMatch(/No crank was taken/)
  cleanup()
  open('/bench/practice', { 'GET /api/practice': new Refusal('forbidden') })
  expect((await screen.findByRole('alert')).textContent).toMatch(/Your practice/)
})

test('is read mark by mark, and shows no figure of a mark before it is under the dials', async () => {
  const run = runOf([])
  open(`/bench/practice/${ID}`, { [`GET /api/practice/${ID}`]: run })
  expect((await screen.findByText('Practice, not in the book.')).tagName).toBe('B')
  expect(screen.getByRole('img', { name: 'Bring mark 12 under the dial.' })).toBeTruthy()
  const cells = () =>
    within(screen.getByRole('row', { name: /^left/ }))
      .getAllByRole('cell')
      .map((cell) => cell.textContent)
  expect(cells()).toEqual(['0.000', '', '', '', ''])
  for (const turn of ['Turn it to 3', 'Turn it to 6', 'Turn it to 9', 'Turn it to 12 again']) {
    expect(screen.queryByRole('button', { name: 'Strike it' })).toBeNull()
    fireEvent.click(screen.getByRole('button', { name: turn }))
  }
  expect(cells().map((cell) => Number(cell?.replace('\u2212', '-')))).toEqual(run.readings[0]?.marks.map((mark) => mark.leftMm))
  fireEvent.click(screen.getByRole('button', { name: 'It is read' }))
  expect(screen.getByText(run.readings[0]!.left.tirMm.toFixed(3))).toBeTruthy()
  expect(screen.getByRole('img', { name: /left end high at/ })).toBeTruthy()
})

test('tells no fault and no advice while it lies under the dials', async () => {
  open(`/bench/practice/${ID}`, { [`GET /api/practice/${ID}`]: runOf([]) })
  await readItAll()
  expect(screen.queryByText(/Best that a hand|wrong with it$|mostly swing|A perfect one/)).toBeNull()
})

test('hits only after both ends were said, and then leads back to reading with what came', async () => {
  const { book } = open(`/bench/practice/${ID}`, {
    [`GET /api/practice/${ID}`]: runOf([]),
    [`POST /api/practice/${ID}/moves`]: () => {
      book.answers.set(`GET /api/practice/${ID}`, runOf([STRIKE]))
      return runOf([STRIKE])
    },
  })
  await readItAll()
  choose('What will you do', 'strike the right web')
  choose('At which mark', '3')
  choose('How hard', 'firm')
  fireEvent.click(screen.getByRole('button', { name: 'Strike it' }))
  expect(screen.getAllByText(/Say it before you hit/)).toHaveLength(2)
  expect(posts(book, `/api/practice/${ID}/moves`)).toHaveLength(0)
  fireEvent.change(screen.getByLabelText(/Left will swing/), { target: { value: '0,1' } })
  fireEvent.change(screen.getByLabelText(/Right will swing/), { target: { value: '0.2' } })
  fireEvent.click(screen.getByRole('button', { name: 'Strike it' }))
  await readItAll()
  expect(posts(book, `/api/practice/${ID}/moves`)[0]?.body).toEqual({ n: 0, move: STRIKE, said: SAID })
  const came = runOf([STRIKE]).readings[1]!
  const told = screen.getByText(/^Last move: struck the right web at 3, firm/).textContent
  expect(told).toContain(
    `You said left 0.100, right 0.200; it reads left ${came.left.tirMm.toFixed(3)}, right ${came.right.tirMm.toFixed(3)}`,
  )
  expect(screen.getByText(/You were off by/).textContent).toContain(Math.abs(0.1 - came.left.tirMm).toFixed(3))
})

test('keeps what was said when the book does not take the move', async () => {
  open(`/bench/practice/${ID}`, { [`GET /api/practice/${ID}`]: runOf([]), [`POST /api/practice/${ID}/moves`]: new Refusal('overloaded') })
  await readItAll()
  choose('What will you do', 'wedge at 6')
  choose('How much', 'a little')
  fireEvent.change(screen.getByLabelText(/Left will swing/), { target: { value: '0.1' } })
  fireEvent.change(screen.getByLabelText(/Right will swing/), { target: { value: '0.2' } })
  fireEvent.click(screen.getByRole('button', { name: 'Wedge it' }))
  expect((await screen.findByRole('alert')).textContent).toMatch(/Nothing was done/)
  expect(screen.getByLabelText<HTMLInputElement>(/Left will swing/).value).toBe('0.1')
})

test('is gone on with where it was left: the marks read, and the move as far as it was said', async () => {
  const answers = { [`GET /api/practice/${ID}`]: runOf([]) }
  open(`/bench/practice/${ID}`, answers)
  fireEvent.click(await screen.findByRole('button', { name: 'Turn it to 3' }))
  cleanup()
  open(`/bench/practice/${ID}`, answers)
  expect(await screen.findByRole('img', { name: 'Bring mark 3 under the dial.' })).toBeTruthy()
  await readItAll()
  choose('What will you do', 'strike the right web')
  choose('At which mark', '3')
  fireEvent.change(screen.getByLabelText(/Left will swing/), { target: { value: '0,1' } })
  cleanup()
  open(`/bench/practice/${ID}`, answers)
  expect((await screen.findByLabelText<HTMLInputElement>(/Left will swing/)).value).toBe('0,1')
  expect(screen.getByRole<HTMLInputElement>('radio', { name: 'strike the right web' }).checked).toBe(true)
  expect(screen.getByRole<HTMLInputElement>('radio', { name: '3' }).checked).toBe(true)
})

test('what was said of one reading is not there for the next, nor for another crank', async () => {
  open(`/bench/practice/${ID}`, { [`GET /api/practice/${ID}`]: runOf([]) })
  await readItAll()
  cleanup()
  open(`/bench/practice/${ID}`, { [`GET /api/practice/${ID}`]: runOf([STRIKE]) })
  expect(await screen.findByRole('button', { name: 'Turn it to 3' })).toBeTruthy()
  await readItAll()
  cleanup()
  const other = '0198f3a0-0000-7000-8000-0000000000c9'
  open(`/bench/practice/${other}`, { [`GET /api/practice/${other}`]: { ...runOf([STRIKE]), id: other } })
  expect(await screen.findByRole('button', { name: 'Turn it to 3' })).toBeTruthy()
})

test.each([
  ['It is true', 'true'],
  ['No hand cures this', 'no-hand'],
  ['Leave it', 'left'],
] as const)('%s puts it down and tells the faults', async (button, called) => {
  const { book } = open(`/bench/practice/${ID}`, {
    [`GET /api/practice/${ID}`]: runOf([STRIKE]),
    [`POST /api/practice/${ID}/end`]: () => {
      book.answers.set(`GET /api/practice/${ID}`, runOf([STRIKE], called))
      return runOf([STRIKE], called)
    },
  })
  await readItAll()
  fireEvent.click(screen.getByRole('button', { name: button }))
  expect(await screen.findByRole('heading', { name: 'What was wrong with it' })).toBeTruthy()
  expect(posts(book, `/api/practice/${ID}/end`)[0]?.body).toEqual({ called })
  const { faults } = dealPractice(SEED, 'two')
  const swing = screen.getByRole('row', { name: /^Swing/ }).textContent
  expect(swing).toContain(`${faults.swingMm > 0 ? '+' : '\u2212'}${Math.abs(faults.swingMm).toFixed(3)}`)
  expect(screen.getByText(/Said 0.100 and 0.200, came/).textContent).toContain('the wrong way')
  expect(screen.getByRole('img', { name: /crank/i })).toBeTruthy()
})

test('another’s crank is looked at by the owner, who has nothing to press on it', async () => {
  open(`/bench/practice/${ID}`, { [`GET /api/practice/${ID}`]: runOf([STRIKE]) }, ewa)
  expect(await screen.findByText(/Jonas has it under the dials/)).toBeTruthy()
  expect(screen.queryByRole('button', { name: 'Read all marks' })).toBeNull()
})

test('stands beside the learning line, apart from it, with counts', async () => {
  const line = learner()
  const rows = [
    OPEN,
    lineOf('0198f3a0-0000-7000-8000-0000000000c2', {}),
    lineOf('0198f3a0-0000-7000-8000-0000000000c3', { calledRight: false }),
  ]
  open(
    `/office/learning/${line.person.id}`,
    { [`GET /api/people/${line.person.id}/learning`]: line, [`GET /api/people/${line.person.id}/practice`]: list(rows) },
    ewa,
  )
  const apart = await screen.findByRole('region', { name: 'Practice, apart from the line' })
  expect(await within(apart).findByText('1 of 2 called')).toBeTruthy()
  expect(within(apart).getByText('2.0')).toBeTruthy()
  expect(within(apart).getByText('2 of 12')).toBeTruthy()
  expect(within(within(apart).getByRole('table', { name: 'Practice cranks' })).getAllByRole('row')).toHaveLength(3)
  expect(screen.getByRole('group', { name: /41 fitted, 3 hollow/ })).toBeTruthy()
})

test('is called what it is for a hand without any', async () => {
  const line = learner()
  open(
    `/office/learning/${marek.id}`,
    { [`GET /api/people/${marek.id}/learning`]: line, [`GET /api/people/${marek.id}/practice`]: list([]) },
    ewa,
  )
  expect(await screen.findByText('No practice crank was put down yet.')).toBeTruthy()
})
