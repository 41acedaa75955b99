import { cleanup, fireEvent, screen, within } from '@testing-library/react'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { MeasurementNew } from '#contract/measurements.ts'
import type { Check } from '#contract/truing.ts'
import { pressKey } from '#tests/web/bench-keys.ts'
import { type FakeBook, fakeBook, openAt, posts, type Sent } from '#tests/web/truing/fake-book.tsx'
import { dial7, ewa, JOB_ID, jobAt, jonas, marek, setOf, trueSet } from '#tests/web/truing/sample-bench.ts'
import { SET_WAITS_HERE } from '#web/features/truing/waiting.ts'
import { BenchCheckPage } from '#web/pages/bench-check.tsx'

const JOB = `/api/jobs/${JOB_ID}`
const MEASUREMENTS = `${JOB}/measurements`

const { runout: _runout, ...bare } = trueSet
const hidden = { ...bare, values: [], hidden: true as const }
const second = {
  ...setOf('0198f3a0-0000-7000-8000-000000000108', [0, 0.006, 0.004, -0.001, 0.001], [0, -0.002, 0.005, 0.007, 0], {
    dial: dial7,
    phase: 'second',
    at: '2026-12-03T07:05:00Z',
  }),
  by: 'Marek',
  byId: marek.id,
}

const WAITS: Check = { mayRead: true, next: 'second', first: hidden, says: [] }
const AGREE: Check = {
  mayRead: false,
  because: 'The readings are in.',
  next: null,
  first: trueSet,
  second,
  agree: true,
  says: ['Both readings agree within what the dials can tell.'],
}

beforeEach(() => sessionStorage.clear())
afterEach(() => {
  cleanup()
  vi.unstubAllGlobals()
})

function bench(check: Check, me = marek): FakeBook {
  return fakeBook(me, { [`GET ${JOB}`]: jobAt('trued'), [`GET ${JOB}/check`]: check })
}

function open() {
  openAt(`/bench/${JOB_ID}/check`, { '/bench/:jobId/check': BenchCheckPage })
}

test('the second person reads at the places of the first, without its figures and without last time', async () => {
  bench(WAITS)
  open()
  expect(await screen.findByText('Next: left end at 12.')).toBeTruthy()
  expect(screen.getByRole('button', { name: /left, ignition 45 out/ })).toBeTruthy()
  expect(screen.getByRole('button', { name: /temperature not said/ })).toBeTruthy()
  expect(screen.queryByText(/Last time/)).toBeNull()
  expect(screen.queryByRole('table', { name: /Full swing of each end by set/ })).toBeNull()
})

test('a set that waits on this tablet is said to wait, and nobody else is asked for', async () => {
  const waiting = { ...WAITS, mayRead: false, because: SET_WAITS_HERE }
  bench(waiting)
  open()
  expect(await screen.findByText(/saved on this tablet and not yet in the book/)).toBeTruthy()
  expect(screen.queryByText(/Somebody else takes it/)).toBeNull()
  cleanup()
  bench({ ...waiting, because: 'You read it first.' })
  open()
  expect(await screen.findByText(/Somebody else takes it/)).toBeTruthy()
})

test('their set goes as the second, cold is asked afresh, and then both stand side by side with the √2 rule', async () => {
  const book = bench(WAITS)
  book.answers.set(`POST ${MEASUREMENTS}`, () => {
    book.answers.set(`GET ${JOB}/check`, AGREE)
    return second
  })
  open()
  await screen.findByText('Next: left end at 12.')
  for (const sign of ['0', '0', '1', '0', '0', '1', '0', '1', '0', '0']) {
    pressKey(sign)
    pressKey('It reads this')
  }
  fireEvent.click(await screen.findByRole('button', { name: 'Cold: take this set' }))
  const table = await screen.findByRole('table', { name: 'Full swing of each end by set, mm' })
  const body = posts(book, MEASUREMENTS)[0]?.body as MeasurementNew
  expect(body).toMatchObject({ phase: 'second', setup: { cold: true, dialLeftMm: 45 } })
  const [, left, right] = within(table).getAllByRole('row')
  // √2 × the budget of the coarser of the two dials on bare seats: 0.00836 on the taper, 0.00790 on the plain end.
  expect(left?.textContent).toBe('L0.0070.0080.0010.012')
  expect(right?.textContent).toBe('R0.0070.0100.0030.011')
  expect(screen.getByText('Both readings agree within what the dials can tell.')).toBeTruthy()
  expect(screen.getByRole('link', { name: 'To the certificate' }).getAttribute('href')).toBe(`/bench/${JOB_ID}/sign`)
})

test('who took the first reading is told to hand over, and reads nothing', async () => {
  bench({ ...WAITS, mayRead: false, because: 'You took the first reading. Ask somebody else to read it, cold.', first: trueSet }, jonas)
  open()
  expect(await screen.findByText('You took the first reading. Ask somebody else to read it, cold.')).toBeTruthy()
  expect(screen.getByText(/under their own sign-in/)).toBeTruthy()
  expect(screen.queryByRole('button', { name: 'It reads this' })).toBeNull()
})

test('where the two differ the ends are marked and a third set is read', async () => {
  const far = {
    ...second,
    ...setOf(second.id, [0, 0.012, 0, -0.012, 0], [0, 0.002, 0, -0.002, 0], { phase: 'second', dial: dial7 }),
    by: 'Marek',
  }
  const says = [
    'The left end read 0.00707 first and 0.024 the second time: more apart than the give-or-take allows. A third set settles it.',
  ]
  const book = bench({ mayRead: true, next: 'third', first: trueSet, second: far, agree: false, says })
  open()
  const table = await screen.findByRole('table', { name: 'Full swing of each end by set, mm' })
  const [, left, right] = within(table).getAllByRole('row')
  expect(left?.textContent).toMatch(/0\.017 too far apart0\.012/)
  expect(right?.textContent).not.toMatch(/too far/)
  expect(screen.getByText('A third set settles it. Set it up afresh; all three are kept.')).toBeTruthy()
  book.answers.set(`POST ${MEASUREMENTS}`, ({ body }: Sent) => ({ ...far, id: (body as MeasurementNew).id, phase: 'third' }))
  await screen.findByText('Next: left end at 12.')
  for (const sign of Array(10).fill('0')) {
    pressKey(sign)
    pressKey('It reads this')
  }
  fireEvent.click(await screen.findByRole('button', { name: 'Cold: take this set' }))
  await vi.waitFor(() => expect(posts(book, MEASUREMENTS)[0]?.body).toMatchObject({ phase: 'third' }))
})

test('leaving the second reading out is the owner’s alone', async () => {
  bench(WAITS)
  open()
  await screen.findByText('Next: left end at 12.')
  expect(screen.queryByRole('button', { name: 'Not read, because …' })).toBeNull()
  cleanup()
  bench(WAITS, ewa)
  open()
  expect(await screen.findByRole('button', { name: 'Not read, because …' })).toBeTruthy()
})
