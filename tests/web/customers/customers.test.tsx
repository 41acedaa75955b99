import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import { hollis, ID } from '#tests/web/jobs/sample-job.ts'
import { closeAll, openAt, refusal, shopBook } from '#tests/web/shop-book.tsx'
import { customerChangeOf, customerFormOf, readCustomer } from '#web/features/customers/customer-form.ts'
import { historyWords } from '#web/features/customers/words.ts'

afterEach(closeAll)

test('what we know of somebody in a line', () => {
  expect(historyWords(hollis, 'EUR')).toBe('3 cranks here before, last 187-L March 2025, paid')
  expect(historyWords({ ...hollis, cranksHere: 1, owes: 31_200 }, 'EUR')).toBe(
    '1 crank here before, last 187-L March 2025, 312.00 EUR agreed and not yet paid',
  )
  expect(historyWords({ ...hollis, cranksHere: 0 }, 'EUR')).toBe('no crank here before')
})

test('a change holds only what differs, and an emptied field takes it away', () => {
  const base = customerFormOf(hollis)
  expect(customerChangeOf(base, { ...base, phone: '', note: 'rings late' })).toEqual({ phone: null, note: 'rings late' })
})

test('a name and one way to reach them are asked for together', () => {
  const read = readCustomer({ ...customerFormOf(hollis), name: ' ', phone: '', mail: '', address: '' })
  expect(read.ok ? {} : Object.keys(read.faults).sort()).toEqual(['name', 'phone'])
})

test('the list finds by what is typed, which stands in the address', async () => {
  const book = shopBook('counter')
  book.answer('GET /api/customers', ({ query }) => ({
    rows: query.get('q') === 'hol' || query.get('q') === null ? [hollis] : [],
    next: null,
  }))
  const { router } = openAt('/customers')
  await screen.findByRole('link', { name: 'Hollis, A.' })
  fireEvent.change(screen.getByLabelText('Find by name, phone or mail'), { target: { value: 'zz' } })
  await screen.findByText('Nobody fits “zz”.')
  expect(router.state.location.search).toBe('?q=zz')
})

test('somebody’s page shows their cranks with every time here', async () => {
  const book = shopBook('counter')
  book.answer('GET /api/customers/:id', () => hollis)
  book.answer('GET /api/cranks', () => [
    {
      id: ID.crank,
      engineId: ID.engine,
      engine: 'Ruskhammar R449-4X',
      engineNumber: 'R4-20718',
      customerId: ID.customer,
      whose: 'Hollis, A.',
      welded: false,
      jobs: [{ id: ID.job, tag: '187-L', bookedAt: '2025-03-04T08:00:00Z', state: 'gone', certificate: '41' }],
    },
  ])
  openAt(`/customers/${ID.customer}`)
  const cranks = await screen.findByRole('region', { name: 'Their cranks' })
  await waitFor(() => expect(cranks.textContent).toContain('R4-20718'))
  expect(within(cranks).getByRole('link', { name: '187-L' }).getAttribute('href')).toBe(`/jobs/${ID.job}`)
  expect(cranks.textContent).toContain('certificate 41')
})

test('a change that came second shows theirs beside mine, and either can be taken', async () => {
  const book = shopBook('counter')
  const theirs = { ...hollis, phone: '0161 496 7777', note: 'rings late', version: 5 }
  book.answer('GET /api/customers/:id', () => hollis)
  book.answer('GET /api/cranks', () => [])
  book.answer('PATCH /api/customers/:id', ({ headers }) =>
    headers.get('if-match') === '"4"' ? refusal('stale-version', { version: 5 }) : theirs,
  )
  openAt(`/customers/${ID.customer}`)
  fireEvent.click(await screen.findByRole('button', { name: 'Change it' }))
  const form = screen.getByRole('form', { name: 'Change Hollis, A.' })
  const phone = within(form).getByRole('textbox', { name: 'Phone' }) as HTMLInputElement
  fireEvent.change(phone, { target: { value: '0161 496 9999' } })
  book.answer('GET /api/customers/:id', () => theirs)
  fireEvent.click(within(form).getByRole('button', { name: 'Write it so' }))
  await within(form).findByText('Somebody else changed this customer meanwhile.')
  expect(phone.value).toBe('0161 496 9999')
  expect((within(form).getByLabelText('What to remember about them') as HTMLTextAreaElement).value).toBe('rings late')
  fireEvent.click(within(form).getByRole('button', { name: 'Take theirs for Phone' }))
  expect(phone.value).toBe('0161 496 7777')
})

test('the bench has no customers', async () => {
  const book = shopBook('bench')
  openAt('/customers')
  await screen.findByRole('heading', { name: 'Not your page' })
  expect(book.sent('GET', '/api/customers')).toEqual([])
})
