import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { MeasurementNew } from '#contract/measurements.ts'
import { keyIn, pressKey } from '#tests/web/bench-keys.ts'
import { benchBook, JOB_ID, jobAt, mike, read, setOf } from '#tests/web/bench-sample.ts'
import { closeAll, openAt, refusal } from '#tests/web/shop-book.tsx'

const SETS = `/api/jobs/${JOB_ID}/measurements`

beforeEach(() => localStorage.clear())
afterEach(closeAll)

const big = 'It measures this'

test('four widths keyed after the whole millimetre, read back, and sent as one set', async () => {
  const book = benchBook('bench')
  book.answer('POST /api/jobs/:id/measurements', ({ body }) => {
    const { kind, phase, values } = body as MeasurementNew
    return setOf({ kind, phase, values })
  })
  openAt(`/bench/${JOB_ID}/read/width`)
  await screen.findByRole('heading', { name: 'Width over webs' })
  for (const digits of ['99', '01', '06', '00']) keyIn(digits, big)
  expect(await screen.findByText('0.07 wider opposite the pin than at it: the webs are open.')).toBeTruthy()
  expect(book.sent('POST', SETS)).toHaveLength(0)
  fireEvent.click(screen.getByRole('button', { name: 'Keep this set' }))
  expect(await screen.findByText('The set is in the book.')).toBeTruthy()
  const [sent] = book.sent('POST', SETS)
  expect(sent?.body).toMatchObject({
    kind: 'width',
    phase: 'received',
    instrumentId: mike.id,
    values: [
      { place: '0', mm: 63.99, typed: '63.99', unit: 'mm' },
      { place: '90', mm: 64.01 },
      { place: '180', mm: 64.06 },
      { place: '270', mm: 64 },
    ],
  })
})

test('nothing keyed is lost when the book says no, nor by leaving the page', async () => {
  const book = benchBook('bench')
  book.answer('POST /api/jobs/:id/measurements', () => refusal('overloaded', { detail: 'Too busy just now.' }))
  openAt(`/bench/${JOB_ID}/read/clearance`)
  await screen.findByRole('heading', { name: 'Side clearance of the rod' })
  keyIn('61', 'It goes in')
  keyIn('60', 'It goes in')
  fireEvent.click(screen.getByRole('button', { name: 'Keep this set' }))
  expect(await screen.findByText(/Too busy just now/)).toBeTruthy()
  closeAll()
  benchBook('bench')
  openAt(`/bench/${JOB_ID}/read/clearance`)
  const cells = await screen.findByRole('list', { name: 'Figures of this set' })
  expect(within(cells).getByText('0.61')).toBeTruthy()
  expect(within(cells).getByText('0.60')).toBeTruthy()
})

test('back one, rub out, and the figure before is keyed again', async () => {
  benchBook('bench')
  openAt(`/bench/${JOB_ID}/read/width`)
  await screen.findByRole('heading', { name: 'Width over webs' })
  keyIn('99', big)
  pressKey('0')
  pressKey('rub out')
  pressKey('back one')
  keyIn('98', big)
  const cells = screen.getByRole('list', { name: 'Figures of this set' })
  expect(within(cells).getByText('63.98')).toBeTruthy()
  expect(within(cells).queryByText('63.99')).toBeNull()
})

test('a figure typed in thou is kept as typed', async () => {
  const book = benchBook('bench')
  openAt(`/bench/${JOB_ID}/read/play`)
  await screen.findByRole('heading', { name: 'Big-end play' })
  fireEvent.click(screen.getByText('Type it, in mm, thou or tenths'))
  fireEvent.click(screen.getByRole('radio', { name: 'thou' }))
  fireEvent.change(screen.getByLabelText('up and down, thou'), { target: { value: '2.5' } })
  fireEvent.click(screen.getByRole('button', { name: 'Take what is typed' }))
  fireEvent.click(screen.getByRole('button', { name: 'Leave this one out' }))
  fireEvent.click(screen.getByRole('button', { name: 'Keep this set' }))
  await waitFor(() => expect(book.sent('POST', SETS)).toHaveLength(1))
  expect(book.sent('POST', SETS)[0]?.body).toMatchObject({ values: [{ place: 'up-down', typed: '2.5', unit: 'thou', mm: 0.0635 }] })
})

test('not read, because: goes in place of the figures and asks for the reason', async () => {
  const book = benchBook('bench')
  openAt(`/bench/${JOB_ID}/read/width`)
  await screen.findByRole('heading', { name: 'Width over webs' })
  fireEvent.click(screen.getByRole('button', { name: 'Not read, because …' }))
  fireEvent.click(screen.getByRole('button', { name: 'It is not read' }))
  expect(book.sent('POST', SETS)).toHaveLength(0)
  fireEvent.change(screen.getByLabelText('Why is it not read?'), { target: { value: 'webs mushroomed' } })
  fireEvent.click(screen.getByRole('button', { name: 'It is not read' }))
  await waitFor(() => expect(book.sent('POST', SETS)).toHaveLength(1))
  expect(book.sent('POST', SETS)[0]?.body).toMatchObject({ values: [], notReadBecause: 'webs mushroomed' })
})

test('a kept set is struck out with a reason; a struck one stays, with who and why', async () => {
  const kept = setOf({ kind: 'width', phase: 'received', values: read({ '0': 63.99 }) })
  const struck = {
    ...setOf({ kind: 'width', values: read({ '0': 61.11 }) }),
    struck: { by: 'Marek', at: '2026-11-24T09:30:00Z', because: 'mike not zeroed' },
  }
  const book = benchBook('bench', { bench: { measurements: [struck, kept] } })
  book.answer('POST /api/measurements/:id/strike', () => kept)
  openAt(`/bench/${JOB_ID}/read/width`)
  const sets = await screen.findByRole('list', { name: 'Sets taken' })
  expect(within(sets).getByText('61.11').closest('s')).toBeTruthy()
  expect(within(sets).getByText(/Struck out by Marek.*mike not zeroed/)).toBeTruthy()
  fireEvent.click(within(sets).getByRole('button', { name: 'Strike it out' }))
  fireEvent.change(within(sets).getByLabelText('Why is it struck out?'), { target: { value: 'read at the wrong mark' } })
  fireEvent.click(within(sets).getAllByRole('button', { name: 'Strike it out' })[1]!)
  await waitFor(() =>
    expect(book.sent('POST', `/api/measurements/${kept.id}/strike`)[0]?.body).toEqual({
      because: 'read at the wrong mark',
      occurredAt: expect.any(String),
    }),
  )
})

test('an overdue instrument is taken only where there is no other, and marked', async () => {
  benchBook('bench', { instruments: [{ ...mike, overdue: true, dueOn: '2026-11-13' }] })
  openAt(`/bench/${JOB_ID}/read/width`)
  expect(await screen.findByText(/mike 2 is overdue for its check since Fri 13 Nov/)).toBeTruthy()
})

test('the fit is shown while bores are keyed, and stop says what it means', async () => {
  const pin = setOf({ kind: 'pin', phase: 'kit', values: read({ 'left-0': 35.014, 'right-0': 35.014 }) })
  const gauge = { ...mike, id: '0198f3a0-0000-7000-8000-0000000000d9', name: 'gauge 1', kind: 'bore-gauge' as const, stepMm: 0.001 }
  benchBook('bench', { job: jobAt('apart'), bench: { measurements: [pin] }, instruments: [gauge] })
  openAt(`/bench/${JOB_ID}/read/bore`)
  await screen.findByRole('heading', { name: 'Bores of the webs' })
  keyIn('905', big)
  expect(screen.getByText('left web 0.109')).toBeTruthy()
  for (const digits of ['904', '905', '903', '939']) keyIn(digits, big)
  // 0.0022 × 35 = 0.077: the scrap floor of the shop's settings.
  expect(screen.getByText('right web 0.075: under the scrap floor of 0.077. Stop.')).toBeTruthy()
  expect(screen.getByText('A weld is no cure for a bad fit; it hides it.')).toBeTruthy()
  expect(screen.getByText('Nobody can let a fit under the scrap floor pass.')).toBeTruthy()
})
