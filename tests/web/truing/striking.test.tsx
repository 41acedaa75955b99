import { cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { type FakeBook, fakeBook, NoAnswer, openAt, posts, Refusal, type Sent } from '#tests/web/truing/fake-book.tsx'
import { ewa, JOB_ID, jobAt, jonas, setOf, setup, swung, trueSet, truingWith } from '#tests/web/truing/sample-bench.ts'
import { BenchTruePage } from '#web/pages/bench-true.tsx'

const JOB = `/api/jobs/${JOB_ID}`
const MISSING = [
  { code: 'width-older-than-last-move', detail: 'The width was read before the last move. Read it again.', pass: 'owner' },
  { code: 'side-clearance-older-than-last-move', detail: 'The side clearance was felt before the last move.', pass: 'owner' },
]

beforeEach(() => sessionStorage.clear())
afterEach(() => {
  cleanup()
  vi.unstubAllGlobals()
})

function bench(over: Record<string, unknown> = {}, me = jonas): FakeBook {
  return fakeBook(me, {
    [`GET ${JOB}`]: jobAt('together'),
    [`GET ${JOB}/truing`]: truingWith(swung),
    [`GET ${JOB}/gate`]: { next: 'trued', act: 'to true', missing: [] },
    ...over,
  })
}

function open() {
  openAt(`/bench/${JOB_ID}/true`, { '/bench/:jobId/true': BenchTruePage })
}

const button = (name: string | RegExp) => screen.getByRole('button', { name })

function moved({ body }: Sent) {
  return { ...(body as object), by: 'Jonas' }
}

test('full swing first beside what is allowed, the one move in the words of the sum, where the blow goes, the caution', async () => {
  bench()
  open()
  const doing = await screen.findByRole('region', { name: 'What to do' })
  expect(within(doing).getByText('0.12')).toBeTruthy()
  expect(within(doing).getByText('0.14')).toBeTruthy()
  expect(within(doing).getAllByText('over')).toHaveLength(2)
  expect(doing.textContent).toMatch(/allowed here 0.02.*give or take left 0.009, right 0.008/)
  const words = doing.textContent ?? ''
  // Dials back stands before the blow.
  expect(words.indexOf('Dials back')).toBeGreaterThan(-1)
  expect(words.indexOf('Dials back')).toBeLessThan(words.indexOf('strike the right web'))
  // The blow names its hammer; nothing says it a second time but the caution.
  expect(words).toMatch(/copper or brass/)
  expect(screen.queryByText(/^Tool:/)).toBeNull()
  expect(screen.getByRole('note').textContent).toMatch(/never a steel hammer/)
  expect(screen.getByRole('img', { name: /Next: right web, at 90 degrees/ })).toBeTruthy()
  expect(screen.getByText('Pinched opposite the pin, at the rims')).toBeTruthy()
  expect(screen.getAllByText('too small to say')).toHaveLength(2)
  // Reading and striking never mix.
  expect(screen.queryByRole('button', { name: 'It reads this' })).toBeNull()
})

test('struck: the move is written down as advised, then it is read again', async () => {
  const book = bench()
  book.answers.set(`POST ${JOB}/moves`, (sent: Sent) => {
    book.answers.set(`GET ${JOB}/truing`, truingWith(swung, { stale: true, advice: undefined }))
    return moved(sent)
  })
  open()
  fireEvent.click(await screen.findByRole('button', { name: 'Struck, firm' }))
  expect(await screen.findByText('Next: left end at 12.')).toBeTruthy()
  expect(posts(book, `${JOB}/moves`)[0]?.body).toMatchObject({
    beforeId: swung.id,
    action: 'strike',
    half: 'right',
    atDeg: 90,
    force: 'firm',
    asAdvised: true,
  })
})

test('a move that did not reach the book stays on the screen; pressed again it is the same act', async () => {
  const book = bench({ [`POST ${JOB}/moves`]: new NoAnswer() })
  open()
  fireEvent.click(await screen.findByRole('button', { name: 'Struck, light' }))
  expect((await screen.findByRole('alert')).textContent).toMatch(/The move is not in the book yet/)
  book.answers.set(`POST ${JOB}/moves`, moved)
  fireEvent.click(button('Struck, light'))
  await waitFor(() => expect(posts(book, `${JOB}/moves`)).toHaveLength(2))
  const [first, second] = posts(book, `${JOB}/moves`)
  expect(second?.key).toBe(first?.key)
  expect(second?.body).toEqual(first?.body)
})

test('something else is written down as it was done, and not as advised', async () => {
  const book = bench({ [`POST ${JOB}/moves`]: moved })
  open()
  fireEvent.click(await screen.findByRole('button', { name: 'I did something else' }))
  const write = button('Write it down, then read again')
  expect(write.hasAttribute('disabled')).toBe(true)
  fireEvent.click(screen.getByLabelText('struck a web'))
  fireEvent.click(screen.getByLabelText('left web'))
  fireEvent.click(screen.getByLabelText('9'))
  fireEvent.click(screen.getByLabelText('hard'))
  fireEvent.click(write)
  expect(await screen.findByText('Next: left end at 12.')).toBeTruthy()
  expect(posts(book, `${JOB}/moves`)[0]?.body).toMatchObject({
    action: 'strike',
    half: 'left',
    atDeg: 270,
    force: 'hard',
    asAdvised: false,
  })
})

test('wedged and squeezed bring no half and no mark', async () => {
  // Both high with the pin under the dials: open opposite the pin, squeeze (BENCH 9.4).
  const openWebs = setOf(swung.id, [0.045, 0, -0.045, 0, 0.045], [0.052, 0, -0.052, 0, 0.052])
  const book = bench({ [`GET ${JOB}/truing`]: truingWith(openWebs), [`POST ${JOB}/moves`]: moved })
  open()
  fireEvent.click(await screen.findByRole('button', { name: 'Squeezed' }))
  expect(screen.getByText('Tool: a vice with soft jaws, or a screw clamp across the rims.')).toBeTruthy()
  await waitFor(() => expect(posts(book, `${JOB}/moves`)).toHaveLength(1))
  const body = posts(book, `${JOB}/moves`)[0]?.body as Record<string, unknown>
  expect(body.action).toBe('squeeze')
  expect(body).not.toHaveProperty('half')
  expect(body).not.toHaveProperty('force')
})

test('what the last move did: foretold and came, and the way it went', async () => {
  const worse = truingWith(setOf(swung.id, [0, 0.15, 0, -0.15, 0], [0, -0.17, 0, 0.17, 0]))
  const moves = worse.moves.map((move, place) =>
    place < worse.moves.length - 1
      ? move
      : { ...move, told: { turn: 'other-way', says: 'It went the other way. Which way do your marks run?', askMarks: true } as const },
  )
  const band = {
    held: 'light',
    moved: 'firm',
    uneven: false,
    went: { past: 0, of: 1 },
    next: 'firm',
    says: 'On this crank, by your hand: light did nothing, firm moved it.',
  } as const
  const stop = { because: 'reversals', says: '3 reversals without gain: walk away for a while.' } as const
  bench({ [`GET ${JOB}/truing`]: { ...worse, moves, band, stop } })
  open()
  const done = await screen.findByRole('region', { name: 'What was done' })
  expect(done.textContent).toMatch(
    /Last move: struck the right web at 3, firm\. Foretold left 0.02, right 0.02; came left 0.30, right 0.34\./,
  )
  expect(done.textContent).toMatch(/It went the other way\. Which way do your marks run\?/)
  expect(done.textContent).toMatch(/light did nothing, firm moved it/)
  const act = screen.getByRole('region', { name: 'What to do' })
  expect(act.textContent).toMatch(/3 reversals without gain: walk away/)
})

test('earlier sets as a line and as the same table', async () => {
  bench()
  open()
  expect(await screen.findByRole('img', { name: /^5 sets\. Last, set 5: left 0\.12, right 0\.14 mm\. allowed 0\.02 mm\./ })).toBeTruthy()
  const table = screen.getByRole('table', { name: 'Full swing of each end by set, mm' })
  expect(
    within(table)
      .getAllByRole('row')
      .map((row) => row.textContent),
  ).toEqual(['setleft, mmright, mm', 'set 10.310.34', 'set 20.290.30', 'set 30.170.20', 'set 40.200.24', 'set 50.120.14'])
})

test('a set that came in late says when it was read and when the book got it', async () => {
  const told = truingWith(swung)
  const sets = told.sets.map((set, place) => (place === 1 ? { ...set, lateAt: '2026-12-02T14:10:00Z' } : set))
  bench({ [`GET ${JOB}/truing`]: { ...told, sets } })
  open()
  const line = (await screen.findByText('set 2', { selector: 'b' })).closest('p')
  expect(line?.textContent).toContain('came in late: read 13:15, in the book 15:10')
  expect(screen.getAllByText(/came in late/)).toHaveLength(1)
})

test('a set is struck out with a reason, and never without one', async () => {
  const book = bench({ [`POST /api/measurements/${swung.id}/strike`]: swung })
  open()
  fireEvent.click(await screen.findByRole('button', { name: 'Strike out set 5' }))
  const last = screen.getAllByRole('listitem').at(-1)
  if (last === undefined) throw new Error('no set')
  fireEvent.click(within(last).getByRole('button', { name: 'Strike it out' }))
  expect(within(last).getByText('Write the reason in a few words.')).toBeTruthy()
  expect(posts(book, `/api/measurements/${swung.id}/strike`)).toEqual([])
  fireEvent.change(within(last).getByLabelText('Why does it not count?'), { target: { value: 'dial was loose' } })
  fireEvent.click(within(last).getByRole('button', { name: 'Strike it out' }))
  await waitFor(() =>
    expect(posts(book, `/api/measurements/${swung.id}/strike`)[0]?.body).toEqual({
      because: 'dial was loose',
      occurredAt: expect.any(String),
    }),
  )
})

test('when true: width and side clearance come first, and it is not called true before', async () => {
  bench({ [`GET ${JOB}/truing`]: truingWith(trueSet), [`GET ${JOB}/gate`]: { next: 'trued', act: 'to true', missing: MISSING } })
  open()
  expect(await screen.findByText('Next: width at four places and side clearance again, after the last blow.')).toBeTruthy()
  expect(screen.getByRole('link', { name: 'Width at four places' }).getAttribute('href')).toBe(`/bench/${JOB_ID}/width`)
  expect(screen.getByRole('link', { name: 'Side clearance' }).getAttribute('href')).toBe(`/bench/${JOB_ID}/read/clearance`)
  expect(screen.getByText('The width was read before the last move. Read it again.')).toBeTruthy()
  expect(screen.queryByRole('button', { name: /Struck/ })).toBeNull()
})

test('it is true: the step is taken, and what the gate still wants is said', async () => {
  const book = bench({ [`GET ${JOB}/truing`]: truingWith(trueSet) })
  book.answers.set(`POST ${JOB}/steps`, new Refusal('gate-not-met', { missing: MISSING }))
  open()
  await screen.findByText('Width and side clearance are taken since the last move.')
  fireEvent.click(button('It is true'))
  expect(await screen.findByText('The side clearance was felt before the last move.')).toBeTruthy()
  book.answers.set(`POST ${JOB}/steps`, () => {
    book.answers.set(`GET ${JOB}`, jobAt('trued'))
    return jobAt('trued')
  })
  fireEvent.click(button('It is true'))
  expect(await screen.findByText(/It is called true\. Next is the second check/)).toBeTruthy()
  const [first, second] = posts(book, `${JOB}/steps`)
  expect(first?.body).toMatchObject({ to: 'trued' })
  expect(second?.key).toBe(first?.key)
})

test('only the owner is shown the way to let something pass', async () => {
  const over = { [`GET ${JOB}/truing`]: truingWith(trueSet), [`GET ${JOB}/gate`]: { next: 'trued', act: 'to true', missing: MISSING } }
  bench(over)
  open()
  await screen.findByText(/^Next: width at four places/)
  expect(screen.queryByRole('link', { name: 'Let something pass' })).toBeNull()
  cleanup()
  bench(over, ewa)
  open()
  expect((await screen.findByRole('link', { name: 'Let something pass' })).getAttribute('href')).toBe(`/jobs/${JOB_ID}`)
})

test('a limit that was given elsewhere stands beside what it comes to here (0.02 × 70 ÷ 45, by hand)', async () => {
  const further = setOf(swung.id, [0, 0.07, 0.02, -0.05, 0], [0, -0.06, 0.02, 0.08, 0], { setup: { ...setup, dialLeftMm: 70 } })
  bench({ [`GET ${JOB}/truing`]: truingWith(further) })
  open()
  const doing = await screen.findByRole('region', { name: 'What to do' })
  expect(doing.textContent).toContain('allowed left 0.02 at 45, here 0.0311 at 70; right here 0.02')
})

test('dials that did not stand where the sheet says are not compared with its limit', async () => {
  const elsewhere = setOf(swung.id, [0, 0.07, 0.02, -0.05, 0], [0, -0.06, 0.02, 0.08, 0], { setup: { ...setup, supportLeftMm: 50 } })
  bench({ [`GET ${JOB}/truing`]: truingWith(elsewhere) })
  open()
  const doing = await screen.findByRole('region', { name: 'What to do' })
  expect(doing.textContent).toMatch(/not to be compared/)
  expect(within(doing).queryByText('over')).toBeNull()
})
