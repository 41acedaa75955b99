import { fireEvent, screen, waitFor } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import { ID } from '#tests/web/jobs/sample-job.ts'
import { closeAll, openAt, type ShopBook, shopBook } from '#tests/web/shop-book.tsx'

afterEach(closeAll)

const RESULTS = [
  { what: 'job', id: ID.job, title: '318-V', says: 'Hollis, A. · Ruskhammar R449-4X' },
  { what: 'customer', id: ID.customer, title: 'Hollis, A.', says: '0161 496 0103' },
]

function bookWith(rows: unknown[]): ShopBook {
  const book = shopBook('counter')
  book.answer('GET /api/customers', () => ({ rows: [], next: null }))
  book.answer('GET /api/find', () => ({ rows }))
  return book
}

async function box(): Promise<HTMLInputElement> {
  return (await screen.findByRole('searchbox', { name: /^Find/ })) as HTMLInputElement
}

test('“/” and Ctrl+K go to the box from anywhere, and “/” is a letter inside a field', async () => {
  bookWith(RESULTS)
  openAt('/customers')
  const find = await box()
  fireEvent.keyDown(document.body, { key: '/' })
  expect(document.activeElement).toBe(find)
  const other = await screen.findByLabelText('Find by name, phone or mail')
  other.focus()
  fireEvent.keyDown(other, { key: '/' })
  expect(document.activeElement).toBe(other)
  fireEvent.keyDown(other, { key: 'k', ctrlKey: true })
  expect(document.activeElement).toBe(find)
})

test('what is found stands beneath while one types; arrow keys go down and back up', async () => {
  const book = bookWith(RESULTS)
  openAt('/customers')
  const find = await box()
  find.focus()
  fireEvent.change(find, { target: { value: 'holl' } })
  const job = await screen.findByRole('link', { name: /^318-V/ })
  expect(screen.getByText('2 found. Arrow keys choose, Enter opens.')).toBeTruthy()
  fireEvent.keyDown(find, { key: 'ArrowDown' })
  expect(document.activeElement).toBe(job)
  fireEvent.keyDown(job, { key: 'ArrowDown' })
  const customer = screen.getByRole('link', { name: /^Hollis, A\./ })
  expect(document.activeElement).toBe(customer)
  fireEvent.keyDown(customer, { key: 'ArrowUp' })
  fireEvent.keyDown(job, { key: 'ArrowUp' })
  expect(document.activeElement).toBe(find)
  // Typing quickly asks once, for what stands there in the end.
  expect(book.sent('GET', '/api/find').map((one) => one.query.get('q'))).toEqual(['holl'])
})

test('Enter opens the first, even before the list is there', async () => {
  bookWith(RESULTS)
  const { router } = openAt('/customers')
  const find = await box()
  fireEvent.change(find, { target: { value: '318v' } })
  fireEvent.submit(find.closest('form')!)
  await waitFor(() => expect(router.state.location.pathname).toBe(`/jobs/${ID.job}`))
  expect((await box()).value).toBe('')
})

test('nothing found says what to try; a tag with a wrong letter says that', async () => {
  bookWith([])
  openAt('/customers')
  const find = await box()
  fireEvent.change(find, { target: { value: 'zz' } })
  await screen.findByText('Nothing found for “zz”. Part of a name, a phone, an engine number or a model will do.')
  fireEvent.change(find, { target: { value: '318-B' } })
  await screen.findByText('318-B is no tag of ours: look at the number and the letter again.')
})

test('Escape from the list goes back to the box and shuts it', async () => {
  bookWith(RESULTS)
  openAt('/customers')
  const find = await box()
  fireEvent.change(find, { target: { value: 'holl' } })
  const job = await screen.findByRole('link', { name: /^318-V/ })
  job.focus()
  fireEvent.keyDown(job, { key: 'Escape' })
  expect(document.activeElement).toBe(find)
  expect(screen.queryByRole('link', { name: /^318-V/ })).toBeNull()
  expect(find.value).toBe('holl')
})
