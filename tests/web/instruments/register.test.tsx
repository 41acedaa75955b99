import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import type { Instrument } from '#contract/instruments.ts'
import { mike } from '#tests/web/bench-sample.ts'
import { closeAll, openAt, refusal, shopBook } from '#tests/web/shop-book.tsx'
import { dueAfter } from '#web/features/instruments/words.ts'

afterEach(closeAll)

const dial: Instrument = {
  id: '0198f3a0-0000-7000-8000-0000000000d4',
  name: 'dial 4',
  kind: 'dial',
  stepMm: 0.001,
  checkedOn: '2025-07-23',
  dueOn: '2025-11-20',
  overdue: true,
  ended: false,
  version: 3,
}

function open(instruments: Instrument[]) {
  const book = shopBook('bench')
  book.answer('GET /api/clock', () => ({ running: null, unanswered: [] }))
  book.answer('GET /api/instruments', () => instruments)
  openAt('/bench/instruments')
  return book
}

test('the next check comes four months later, at the end of a month that is too short', () => {
  expect(dueAfter('2026-11-25')).toBe('2027-03-25')
  expect(dueAfter('2026-10-31')).toBe('2027-02-28')
  expect(dueAfter('2026-01-31', 1)).toBe('2026-02-28')
  expect(() => dueAfter('soon')).toThrow(RangeError)
})

test('what is overdue is marked with the word', async () => {
  open([dial, mike])
  const rows = within(await screen.findByRole('list', { name: 'Instruments in use' })).getAllByRole('listitem')
  expect(within(rows[0]!).getByText(/overdue since Thu 20 Nov/).className).toBe('over')
  expect(within(rows[1]!).getByText('no day set')).toBeTruthy()
})

test('a check is written down over the version that was seen', async () => {
  const book = open([dial])
  book.answer('PATCH /api/instruments/:id', () => ({ ...dial, overdue: false, version: 4 }))
  fireEvent.click(await screen.findByRole('button', { name: /Check or change\s+dial 4/ }))
  fireEvent.change(screen.getByLabelText('Checked on'), { target: { value: '2026-11-20' } })
  expect(screen.getByLabelText<HTMLInputElement>('Next check due').value).toBe('2027-03-20')
  fireEvent.click(screen.getByRole('button', { name: 'It was checked' }))
  await waitFor(() => expect(book.sent('PATCH', `/api/instruments/${dial.id}`)).toHaveLength(1))
  const sent = book.sent('PATCH', `/api/instruments/${dial.id}`)[0]
  expect(sent?.headers.get('if-match')).toBe('"3"')
  expect(sent?.body).toEqual({ checkedOn: '2026-11-20', dueOn: '2027-03-20' })
})

test('an instrument is taken out of use', async () => {
  const book = open([dial])
  book.answer('PATCH /api/instruments/:id', () => ({ ...dial, ended: true, overdue: false, version: 4 }))
  fireEvent.click(await screen.findByRole('button', { name: /Check or change\s+dial 4/ }))
  fireEvent.click(screen.getByRole('button', { name: 'Take it out of use' }))
  await waitFor(() => expect(book.sent('PATCH', `/api/instruments/${dial.id}`)[0]?.body).toEqual({ ended: true }))
})

test('one is added; a name that is taken is said at its field', async () => {
  const book = open([dial])
  book.answer('POST /api/instruments', () =>
    refusal('validation', { errors: [{ pointer: '/name', code: 'taken', detail: 'Another instrument goes by this name.' }] }),
  )
  fireEvent.click(await screen.findByRole('button', { name: 'Add an instrument' }))
  fireEvent.click(await screen.findByRole('button', { name: 'Put it into the book' }))
  expect(book.sent('POST', '/api/instruments')).toHaveLength(0)
  fireEvent.change(screen.getByLabelText('Name on the bench'), { target: { value: 'dial 4' } })
  fireEvent.change(screen.getByLabelText('One division, mm'), { target: { value: '0,002' } })
  fireEvent.click(screen.getByRole('button', { name: 'Put it into the book' }))
  await waitFor(() => expect(book.sent('POST', '/api/instruments')[0]?.body).toMatchObject({ name: 'dial 4', kind: 'dial', stepMm: 0.002 }))
  expect(await screen.findByText('Another instrument goes by this name.')).toBeTruthy()
  expect(screen.getByLabelText('Name on the bench').getAttribute('aria-invalid')).toBe('true')
})
