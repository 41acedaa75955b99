import { cleanup, screen, within } from '@testing-library/react'
import { afterEach, expect, test, vi } from 'vitest'
import type { PersonLearning } from '#contract/learning.ts'
import type { Me } from '#contract/sessions.ts'
import { learner, oldHand } from '#tests/web/learning/sample-line.ts'
import { fakeBook, openAt, Refusal } from '#tests/web/truing/fake-book.tsx'
import { ewa, jonas, marek } from '#tests/web/truing/sample-bench.ts'
import { LearningLinePage, MyLinePage } from '#web/pages/learning-line.tsx'
import { OfficePage } from '#web/pages/office.tsx'

afterEach(() => {
  cleanup()
  vi.unstubAllGlobals()
})

const PAGES = { '/office': OfficePage, '/office/learning/:personId': LearningLinePage, '/my-line': MyLinePage }

function open(address: string, me: Me, answers: Record<string, unknown>) {
  const book = fakeBook(me, answers)
  openAt(address, PAGES)
  return book
}

function openLine(line: PersonLearning, me: Me = ewa) {
  return open(`/office/learning/${line.person.id}`, me, { [`GET /api/people/${line.person.id}/learning`]: line })
}

function said(name: string): string {
  return screen.getByText(name).nextElementSibling?.textContent ?? ''
}

test('the line in figures: the rate with its interval, where it stands and where it meets the target', async () => {
  const line = learner()
  openLine(line)
  expect(await screen.findByRole('heading', { name: 'Jonas, cranks 1 to 43' })).toBeTruthy()
  const { power, reachesTarget } = line.line ?? {}
  if (power === undefined || !reachesTarget) throw new Error('the sample has a line that meets the target')
  expect(said('First crank')).toBe(`${power.firstHours.toFixed(1)} h`)
  const [low, high] = [power.exponentInterval.low, power.exponentInterval.high].map((one) => Math.round(100 * 2 ** one))
  expect(said('Each doubling')).toBe(`${Math.round(100 * power.rate)} % ${low} to ${high}`)
  expect(said('Now, crank 43')).toBe(`${(power.firstHours * 43 ** power.exponent).toFixed(1)} h`)
  expect(said('Shop’s target')).toBe('1.8 h')
  expect(said('Gets there at crank')).toBe(String(Math.ceil(reachesTarget.n)))
})

test('every point opens its crank and stands in the table; hollow ones say why', async () => {
  openLine(learner())
  const group = await screen.findByRole('group', { name: /41 fitted, 3 hollow/ })
  const points = within(group).getAllByRole('link')
  expect(points).toHaveLength(44)
  expect(points[0]?.getAttribute('href')).toBe('/jobs/0198f3a0-0000-7000-8000-000000000000')
  expect(within(group).getByRole('link', { name: /crank 21, 120-K, .* left out: comeback put right/ })).toBeTruthy()
  const rows = within(screen.getByRole('table', { name: 'Bench hours by own crank number' })).getAllByRole('row')
  expect(rows).toHaveLength(45)
  expect(rows.at(-1)?.textContent).toMatch(/^43190-T.*not a rebuild$/)
  expect(screen.getByText(/41 cranks fitted, none left out.*Unit law: each doubling/)).toBeTruthy()
})

test('ready to sign: counts rather than bare per cents', async () => {
  openLine(learner())
  await screen.findByRole('heading', { name: 'Ready to sign?' })
  expect(said('Inside the house limit at first check')).toBe('26 of 43, last ten 8 of 10')
  expect(said('Second reader differed by more than the doubt')).toBe('2 of 43')
  expect(said('Moves a crank, first ten and last ten')).toBe('14, 8')
  expect(said('Share of the time spent truing, first ten and last ten')).toBe('62 %, now 44 %')
})

test('where no rate may be printed there is the level with its interval and why, and no rate anywhere', async () => {
  openLine(oldHand())
  expect(await screen.findByText(/No rate: crank 702 is less than 4 times crank 691/)).toBeTruthy()
  expect(said('Level, 12 cranks')).toBe('1.67 h 1.64 to 1.71')
  expect(screen.queryByText('Each doubling')).toBeNull()
  expect(screen.queryByText('Gets there at crank')).toBeNull()
  expect(screen.queryByText(/Unit law/)).toBeNull()
  expect(said('Inside the house limit at first check')).toBe('none checked yet')
})

test('a line that may as well be level reaches nothing', async () => {
  const line = learner()
  if (line.line === undefined) throw new Error('the sample has a line')
  openLine({ ...line, line: { ...line.line, reachesTarget: null } })
  await screen.findByRole('heading', { name: 'What the line says' })
  expect(said('Gets there at crank')).toBe('cannot be said: it may as well be level')
})

test('a hand without a signed crank', async () => {
  const { line: _line, ...rest } = learner()
  openLine({
    ...rest,
    points: [],
    mayFitRate: false,
    noRateBecause: 'No rate: 0 cranks fitted, and a line needs 3.',
    caption: 'No cranks yet.',
  })
  expect(await screen.findByRole('heading', { name: 'Jonas, no cranks yet' })).toBeTruthy()
  expect(screen.getByText(/the first one makes the first point/)).toBeTruthy()
})

test('a bench hand sees their own line, whose points open at the bench', async () => {
  open('/my-line', jonas, { [`GET /api/people/${jonas.id}/learning`]: learner() })
  const group = await screen.findByRole('group', { name: /41 fitted/ })
  expect(within(group).getAllByRole('link')[0]?.getAttribute('href')).toBe('/bench/0198f3a0-0000-7000-8000-000000000000')
})

test('somebody else’s line is refused by the book, and the page says so', async () => {
  open(`/office/learning/${marek.id}`, jonas, {
    [`GET /api/people/${marek.id}/learning`]: new Refusal('forbidden', {
      detail: 'A learning line is seen by its own person and the owner only.',
    }),
  })
  expect((await screen.findByRole('alert')).textContent).toMatch(/seen by its own person and the owner only/)
})

test('the office leads to what is kept there, and to the line of every hand but the counter’s', async () => {
  const person = (me: Me, over = {}) => {
    const { id, name, signIn, role, maySign } = me
    return { id, name, signIn, role, maySign, cranksBefore: 0, hasPin: false, barred: false, version: 1, ...over }
  }
  const hana = { ...jonas, id: '0198f3a0-0000-7000-8000-000000000001', name: 'Hana', role: 'counter' as const }
  const gone = { ...jonas, id: '0198f3a0-0000-7000-8000-000000000009', name: 'Olek' }
  open('/office', ewa, { 'GET /api/people': [person(hana), person(jonas), person(marek), person(ewa), person(gone, { barred: true })] })
  expect((await screen.findByRole('link', { name: 'Jonas, learning line' })).getAttribute('href')).toBe(`/office/learning/${jonas.id}`)
  expect(screen.getByRole('link', { name: 'Ewa, learning line' })).toBeTruthy()
  expect(screen.queryByRole('link', { name: 'Hana, learning line' })).toBeNull()
  expect(screen.queryByRole('link', { name: 'Olek, learning line' })).toBeNull()
  const main = within(screen.getByRole('main'))
  for (const name of ['People', 'Settings', 'Instruments', 'Engines']) expect(main.getByRole('link', { name })).toBeTruthy()
})

test('the office shows a bench hand nothing of others', async () => {
  const book = open('/office', jonas, {})
  expect((await screen.findByRole('link', { name: 'Your own learning line' })).getAttribute('href')).toBe('/my-line')
  expect(book.sent.some((one) => one.path === '/api/people')).toBe(false)
})
