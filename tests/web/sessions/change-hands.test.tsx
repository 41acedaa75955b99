import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { Me } from '#contract/sessions.ts'
import { keyIn } from '#tests/web/bench-keys.ts'
import { benchBook, JOB_ID } from '#tests/web/bench-sample.ts'
import { closeAll, openAt, refusal } from '#tests/web/shop-book.tsx'

beforeEach(() => localStorage.clear())
afterEach(closeAll)

const jonas: Me = {
  id: '0198f3a0-0000-7000-8000-000000000002',
  name: 'Jonas',
  signIn: 'bench',
  role: 'bench',
  maySign: false,
  hasPin: true,
  endsAt: '2026-11-24T20:00:00Z',
  idleMinutes: 240,
  enrolled: true,
  demo: false,
}
const marek: Me = { ...jonas, id: '0198f3a0-0000-7000-8000-000000000003', name: 'Marek', signIn: 'bench2' }

function tablet() {
  const book = benchBook('bench')
  let here = jonas
  const hands = [jonas, marek].map(({ id, name }) => ({ id, name }))
  book.answer('GET /api/session', () => here)
  book.answer('GET /api/door', () => ({ setUp: true, demo: false, shop: 'Kettle Row Crank Works', hands }))
  book.answer('POST /api/session/pin', ({ body }) => {
    const { personId, pin } = body as { personId: string; pin: string }
    if (pin !== '2468') return refusal('wrong-sign-in', { detail: 'This PIN does not fit.' })
    here = personId === jonas.id ? jonas : marek
    return here
  })
  return book
}

async function changeTo(pin: string) {
  fireEvent.click(await screen.findByRole('button', { name: 'Change hands' }))
  const box = within(screen.getByRole('dialog'))
  for (const digit of pin) fireEvent.click(box.getByRole('button', { name: digit }))
  const event = new MouseEvent('click', { bubbles: true })
  Object.defineProperty(event, 'timeStamp', { value: performance.now() + 5000 })
  fireEvent(box.getByRole('button', { name: 'Take over' }), event)
}

test('another hand takes over by PIN; what the first one keyed waits for him', async () => {
  tablet()
  openAt(`/bench/${JOB_ID}/read/clearance`)
  await screen.findByRole('heading', { name: 'Side clearance of the rod' })
  keyIn('61', 'It goes in')
  fireEvent.click(screen.getByRole('button', { name: /^Jonas/ }))
  await changeTo('2468')
  expect(await screen.findByRole('button', { name: /^Marek/ })).toBeTruthy()
  await screen.findByRole('heading', { name: 'Side clearance of the rod' })
  expect(within(screen.getByRole('list', { name: 'Figures of this set' })).queryByText('0.61')).toBeNull()
  fireEvent.click(screen.getByRole('button', { name: /^Marek/ }))
  await changeTo('2468')
  expect(await screen.findByRole('button', { name: /^Jonas/ })).toBeTruthy()
  await screen.findByRole('heading', { name: 'Side clearance of the rod' })
  expect(await within(await screen.findByRole('list', { name: 'Figures of this set' })).findByText('0.61')).toBeTruthy()
})

test('a PIN that does not fit says so, and one too short is not sent', async () => {
  const book = tablet()
  openAt(`/bench/${JOB_ID}`)
  fireEvent.click(await screen.findByRole('button', { name: /^Jonas/ }))
  await changeTo('24')
  expect(screen.getByText('A PIN has 4 to 6 figures.')).toBeTruthy()
  expect(book.sent('POST', '/api/session/pin')).toHaveLength(0)
  const field = screen.getByLabelText<HTMLInputElement>('PIN of Marek')
  fireEvent.change(field, { target: { value: '1111' } })
  fireEvent.submit(field.closest('form')!)
  expect(await screen.findByText('This PIN does not fit.')).toBeTruthy()
  await waitFor(() => expect(field.value).toBe(''))
})

test('what the book told the one before is asked for again', async () => {
  const book = tablet()
  openAt(`/bench/${JOB_ID}`)
  fireEvent.click(await screen.findByRole('button', { name: /^Jonas/ }))
  const before = book.sent('GET', `/api/jobs/${JOB_ID}`).length
  await changeTo('2468')
  await screen.findByRole('button', { name: /^Marek/ })
  await waitFor(() => expect(book.sent('GET', `/api/jobs/${JOB_ID}`).length).toBeGreaterThan(before))
})
