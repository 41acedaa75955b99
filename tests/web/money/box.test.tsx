import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import type { Job } from '#contract/jobs.ts'
import { boxCheck } from '#contract/money.ts'
import type { Role } from '#contract/people.ts'
import type { Gate } from '#contract/steps.ts'
import { ID, job } from '#tests/web/jobs/sample-job.ts'
import { closeAll, openAt, refusal, type ShopBook, shopBook } from '#tests/web/shop-book.tsx'
import { boxFormOf, readBox } from '#web/features/money/box-form.ts'
import { owedWords } from '#web/features/money/payments.tsx'

afterEach(closeAll)

const ready: Job = { ...job, state: 'signed', waiting: [], readySince: '2026-11-24T15:00:00Z' }

test('the list to tick off is the crank, what came in, and the old parts where they are wanted', () => {
  expect(boxFormOf({ ...ready, oldPartsBack: true }).lines.map((line) => [line.what, line.came])).toEqual([
    ['the crank', 1],
    ['keys', 2],
    ['cam gear', 1],
    ['old parts', 1],
  ])
})

test('nothing leaves the list silently: an empty count and a missing reason are shown at their line', () => {
  const form = boxFormOf(ready)
  const empty = readBox(form, ready.cameWith)
  expect(empty.ok ? {} : empty.faults.lines).toHaveProperty('1', 'How many go back? 2 came in.')
  const fewer = { ...form, lines: form.lines.map((line) => ({ ...line, back: line.what === 'keys' ? '1' : '1' })) }
  const read = readBox(fewer, ready.cameWith)
  expect(read.ok ? {} : read.faults.lines).toEqual({ 1: 'keys: fewer go back than came in. Say why.' })
})

test('a whole list goes on the wire with its weight in grams', () => {
  const form = boxFormOf(ready)
  const whole = { ...form, weight: '4,25', carrier: ' Post ', lines: form.lines.map((line) => ({ ...line, back: String(line.came) })) }
  const read = readBox(whole, ready.cameWith)
  expect(read.ok && read.list).toMatchObject({ grams: 4250, carrier: 'Post' })
  expect(read.ok && boxCheck.safeParse(read.list).success).toBe(true)
})

test('what is owed is said with what was agreed and taken', () => {
  const paid = (amountMinor: number, what: 'payment' | 'back' = 'payment') => ({
    id: ID.quote,
    amountMinor,
    what,
    how: 'cash',
    by: 'Hana',
    at: '2026-11-24T10:00:00Z',
  })
  expect(owedWords({ ...ready, payments: [paid(10_000)], owes: 31_200 }, 'EUR')).toBe('412.00 agreed, 100.00 taken, 312.00 to pay')
  expect(owedWords({ ...ready, payments: [paid(41_200)], owes: 0 }, 'EUR')).toBe('412.00 agreed, 412.00 taken, paid')
  expect(owedWords({ ...ready, payments: [paid(50_000), paid(1000, 'back')], owes: 0 }, 'EUR')).toBe(
    '412.00 agreed, 490.00 taken, paid, 78.00 too much',
  )
  expect(owedWords({ payments: [paid(6000)], quotes: [] }, 'EUR')).toBe('60.00 held, nothing agreed yet')
})

function handOverBook(role: Role, missing: Gate['missing']): ShopBook {
  const book = shopBook(role)
  book.answer('GET /api/jobs/:id', () => ready)
  book.answer('GET /api/jobs/:id/gate', () => ({ next: 'gone', act: 'ready to go home', missing }))
  book.answer('GET /api/jobs/:id/certificate', () => ({ mayIssue: false, missing: [], issued: [] }))
  return book
}

test('the box is checked against what came in, over version 0 the first time', async () => {
  const book = handOverBook('counter', [
    { code: 'box-list', detail: 'The box has not been checked against what came in with the crank.', pass: 'owner' },
  ])
  book.answer('PUT /api/jobs/:id/box', ({ body }) => ({
    ...(body as object),
    checkedBy: 'Hana',
    checkedAt: '2026-11-24T16:00:00Z',
    version: 1,
  }))
  openAt(`/jobs/${ID.job}/hand-over`)
  const box = await screen.findByRole('region', { name: 'The box' })
  await screen.findByText('The box has not been checked against what came in with the crank.')
  expect(screen.queryByRole('button', { name: 'It is gone' })).toBeNull()
  for (const all of within(box).getAllByRole('checkbox')) fireEvent.click(all)
  fireEvent.change(within(box).getByLabelText('How many go back: keys'), { target: { value: '1' } })
  fireEvent.click(within(box).getByRole('button', { name: 'Box is checked' }))
  expect(await within(box).findByRole('button', { name: 'keys: fewer go back than came in. Say why.' })).toBeTruthy()
  fireEvent.change(within(box).getByLabelText('Why fewer: keys'), { target: { value: 'one was bent' } })
  fireEvent.click(within(box).getByRole('button', { name: 'Box is checked' }))
  await waitFor(() => expect(book.sent('PUT', `/api/jobs/${ID.job}/box`)).toHaveLength(1))
  const sent = book.sent('PUT', `/api/jobs/${ID.job}/box`)[0]
  expect(sent?.headers.get('if-match')).toBe('"0"')
  expect(sent?.body).toEqual({
    items: [
      { what: 'the crank', came: 1, back: 1 },
      { what: 'keys', came: 2, back: 1, why: 'one was bent' },
      { what: 'cam gear', came: 1, back: 1 },
    ],
  })
})

test('a box that somebody else checked meanwhile shows theirs and keeps mine', async () => {
  const book = handOverBook('counter', [])
  book.answer('PUT /api/jobs/:id/box', ({ headers }) =>
    headers.get('if-match') === '"0"'
      ? refusal('stale-version', { version: 1 })
      : { items: [], checkedBy: 'Hana', checkedAt: '2026-11-24T16:00:00Z', version: 2 },
  )
  openAt(`/jobs/${ID.job}/hand-over`)
  const box = await screen.findByRole('region', { name: 'The box' })
  for (const all of within(box).getAllByRole('checkbox')) fireEvent.click(all)
  const theirs = {
    items: [{ what: 'keys', came: 2, back: 0, why: 'lost' }],
    checkedBy: 'Ewa',
    checkedAt: '2026-11-24T15:59:00Z',
    version: 1,
  }
  book.answer('GET /api/jobs/:id', () => ({ ...ready, box: theirs }))
  fireEvent.click(within(box).getByRole('button', { name: 'Box is checked' }))
  await within(box).findByText(/Somebody else checked this box meanwhile and found: keys 0 of 2 \(lost\)/)
  expect((within(box).getByLabelText('How many go back: keys') as HTMLInputElement).value).toBe('2')
  fireEvent.click(within(box).getByRole('button', { name: 'Box is checked' }))
  await waitFor(() => expect(book.sent('PUT', `/api/jobs/${ID.job}/box`)[1]?.headers.get('if-match')).toBe('"1"'))
})

test('with nothing missing it is gone with one press', async () => {
  const book = handOverBook('counter', [])
  book.answer('POST /api/jobs/:id/steps', () => ({ ...ready, state: 'gone' }))
  openAt(`/jobs/${ID.job}/hand-over`)
  fireEvent.click(await screen.findByRole('button', { name: 'It is gone' }))
  await waitFor(() => expect(book.sent('POST', `/api/jobs/${ID.job}/steps`)[0]?.body).toMatchObject({ to: 'gone' }))
})

test('money is taken with an amount and a way, and only the owner can give a word that it may go unpaid', async () => {
  const unpaid: Gate['missing'] = [
    { code: 'paid', detail: 'It is not paid, and the owner has not given a word that it may go.', pass: 'owner' },
  ]
  const book = handOverBook('counter', unpaid)
  book.answer('POST /api/jobs/:id/payments', () => ready)
  openAt(`/jobs/${ID.job}/hand-over`)
  fireEvent.click(await screen.findByRole('button', { name: 'Take money' }))
  const form = screen.getByRole('form', { name: 'Money taken or given back' })
  fireEvent.click(within(form).getByRole('button', { name: 'It is taken' }))
  expect(within(form).getByText('Cash, card or transfer?')).toBeTruthy()
  fireEvent.click(within(form).getByLabelText('card'))
  fireEvent.click(within(form).getByRole('button', { name: 'It is taken' }))
  await waitFor(() =>
    expect(book.sent('POST', `/api/jobs/${ID.job}/payments`)[0]?.body).toEqual({ amountMinor: 31_200, what: 'payment', how: 'card' }),
  )
  expect(screen.queryByLabelText(/owner’s word that it may go/)).toBeNull()
  closeAll()
  handOverBook('owner', unpaid)
  openAt(`/jobs/${ID.job}/hand-over`)
  expect(await screen.findByLabelText(/owner’s word that it may go/)).toBeTruthy()
})
