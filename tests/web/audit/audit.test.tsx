import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import type { AuditCheck, AuditLine } from '#contract/audit.ts'
import { ID } from '#tests/web/jobs/sample-job.ts'
import { closeAll, HANA, openAt, refusal, shopBook } from '#tests/web/shop-book.tsx'

afterEach(closeAll)

const changed: AuditLine = {
  seq: 12,
  at: '2025-11-24T09:05:00Z',
  by: 'Hana',
  byId: HANA,
  action: 'change customer',
  did: 'changed a customer',
  about: { thing: 'customer', id: ID.customer, says: 'Hollis, A.' },
  changes: [
    { field: 'phone', label: 'phone', before: '0161 496 0103', after: '0161 496 7777' },
    { field: 'note', label: 'note', after: 'rings late' },
  ],
  reason: 'they rang',
  kept: 'whole',
}
const booked: AuditLine = {
  ...changed,
  seq: 11,
  did: 'booked a crank in',
  about: { thing: 'job', id: ID.job, says: '318-V' },
  changes: ['kind', 'oil', 'hours', 'use', 'place'].map((label) => ({ field: label, label, after: `${label} said` })),
}
const { by: _by, byId: _byId, reason: _reason, ...alone } = changed
const hidden: AuditLine = { ...alone, seq: 10, did: 'took readings', about: { says: '' }, changes: [], kept: 'out-of-sight' }

function bookWith(rows: AuditLine[], next: string | null = null) {
  const book = shopBook('owner')
  book.answer('GET /api/people', () => [
    {
      id: HANA,
      signIn: 'counter',
      name: 'Hana',
      role: 'counter',
      maySign: false,
      cranksBefore: 0,
      hasPin: false,
      barred: false,
      version: 1,
    },
  ])
  book.answer('GET /api/audit', ({ query }) =>
    query.get('after') === null ? { rows, next } : { rows: [{ ...hidden, seq: 1 }], next: null },
  )
  return book
}

test('a line says who, when, what, to which and why, with what stood before and after', async () => {
  bookWith([changed, booked, hidden])
  openAt('/office/audit')
  const table = await screen.findByRole('table', { name: 'What changed: changed a customer, Hollis, A.' })
  const [phone, note] = within(table).getAllByRole('row').slice(1)
  expect(
    within(phone!)
      .getAllByRole('cell')
      .map((cell) => cell.textContent),
  ).toEqual(['0161 496 0103', '0161 496 7777'])
  expect(
    within(note!)
      .getAllByRole('cell')
      .map((cell) => cell.textContent),
  ).toEqual(['nothing', 'rings late'])
  const line = table.closest('li')
  expect(line?.textContent).toContain('Mon 24 Nov 2025, 09:05 Hana changed a customer: Hollis, A. · why: “they rang”')
  expect(screen.getByRole('link', { name: 'Hollis, A.' }).getAttribute('href')).toBe(`/customers/${ID.customer}`)
  expect(screen.getByText('5 fields: kind, oil, hours, use …')).toBeTruthy()
  expect(screen.getByText('A first reading: its figures are hidden until the second is in.')).toBeTruthy()
  expect(screen.getByText('The book itself')).toBeTruthy()
})

test('what is looked at stands in the address, and only known words of it are asked for', async () => {
  const book = bookWith([changed])
  const { router } = openAt('/office/audit?thing=fence&from=yesterday&person=hana')
  fireEvent.change(await screen.findByLabelText('Who'), { target: { value: HANA } })
  await screen.findByText('rings late')
  fireEvent.change(screen.getByLabelText('What kind of thing'), { target: { value: 'customer' } })
  fireEvent.change(screen.getByLabelText('What was done'), { target: { value: 'change customer' } })
  fireEvent.change(screen.getByLabelText(/^From/), { target: { value: '2026-11-20' } })
  await waitFor(() => expect(book.sent('GET', '/api/audit').at(-1)?.query.get('from')).toBe('2026-11-20'))
  expect(Object.fromEntries(book.sent('GET', '/api/audit').at(-1)?.query ?? [])).toEqual({
    person: HANA,
    thing: 'customer',
    action: 'change customer',
    from: '2026-11-20',
    limit: '50',
  })
  expect(Object.fromEntries(book.sent('GET', '/api/audit')[0]?.query ?? [])).toEqual({ limit: '50' })
  expect(router.state.location.search).toContain('thing=customer')
  fireEvent.click(screen.getByRole('button', { name: 'Show everything' }))
  await waitFor(() => expect(router.state.location.search).toBe(''))
})

test('the history of one thing is named, and a long list goes on', async () => {
  const book = bookWith([changed], '12')
  openAt(`/office/audit?thing=customer&id=${ID.customer}`)
  await waitFor(() => expect(document.querySelector('.audit-only')?.textContent).toContain('Only Hollis, A..'))
  expect(screen.queryByRole('link', { name: 'history' })).toBeNull()
  fireEvent.click(screen.getByRole('button', { name: 'Show more' }))
  await screen.findByText('showing 2')
  expect(book.sent('GET', '/api/audit').at(-1)?.query.get('after')).toBe('12')
})

test('nothing written, nothing of a kind, and no answer are told apart', async () => {
  bookWith([])
  openAt('/office/audit')
  await screen.findByText('Nothing has been written down yet.')
  closeAll()
  bookWith([])
  openAt('/office/audit?thing=tablet')
  await screen.findByText('Nothing of this kind has been written down.')
  closeAll()
  bookWith([]).answer('GET /api/audit', () => refusal('internal'))
  openAt('/office/audit')
  await screen.findByText('The audit could not be fetched.')
})

test('the chain is followed piece by piece to its end, or to where it breaks', async () => {
  const book = bookWith([changed])
  const piece: AuditCheck = { after: 0, upTo: 5000, rows: 6200, head: 'a'.repeat(64), fault: null, next: 5000 }
  let second: AuditCheck = { ...piece, after: 5000, upTo: 6200, head: 'b'.repeat(64), next: null }
  book.answer('GET /api/audit/check', ({ query }) => (query.get('after') === '0' ? piece : second))
  openAt('/office/audit')
  fireEvent.click(await screen.findByRole('button', { name: 'Check the chain' }))
  await screen.findByText(/The chain holds: 6200 lines/)
  expect(screen.getByText('b'.repeat(64))).toBeTruthy()
  second = { ...second, upTo: 5006, fault: { seq: 5007, says: 'what it says was changed' } }
  fireEvent.click(screen.getByRole('button', { name: 'Check the chain' }))
  await screen.findByText(/breaks at line 5007: what it says was changed. Up to line 5006 it holds/)
})

test('the audit is the owner’s', async () => {
  const book = shopBook('counter')
  openAt('/office/audit')
  await screen.findByRole('heading', { name: 'Not your page' })
  expect(book.sent('GET', '/api/audit')).toEqual([])
})
