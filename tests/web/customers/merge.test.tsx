import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import type { Customer } from '#contract/customers.ts'
import { hollis, ID } from '#tests/web/jobs/sample-job.ts'
import { closeAll, openAt, refusal, type ShopBook, shopBook } from '#tests/web/shop-book.tsx'

afterEach(closeAll)

const OTHER = '0198f3a0-0000-7000-8000-000000000099'
const anna: Customer = { id: OTHER, name: 'Anna Hollis', phone: '0161 496 7777', hearBy: 'phone', cranksHere: 1, owes: 0, version: 2 }

function bookOfTwo(): ShopBook {
  const book = shopBook('owner')
  book.answer('GET /api/customers', () => ({ rows: [anna], next: null }))
  book.answer('GET /api/customers/:id', (_asked, { id }) => (id === OTHER ? anna : hollis))
  book.answer('GET /api/cranks', () => [])
  return book
}

test('the other is found by name, both stand side by side, and one is chosen with a reason', async () => {
  const book = bookOfTwo()
  // From then on the book answers both addresses with the one that stays.
  book.answer('POST /api/customers/:id/merge', (_asked, { id }) => {
    const stays = id === OTHER ? anna : { ...hollis, version: 5 }
    book.answer('GET /api/customers/:id', () => stays)
    return stays
  })
  const { router } = openAt(`/customers/${ID.customer}`)
  fireEvent.click(await screen.findByRole('link', { name: 'The same as another entry' }))
  fireEvent.change(await screen.findByLabelText('Name'), { target: { value: 'anna' } })
  fireEvent.click(await screen.findByRole('option', { name: /Anna Hollis/ }))
  const form = await screen.findByRole('form', { name: 'Make two entries one' })
  expect(router.state.location.search).toBe(`?with=${OTHER}`)
  expect(within(form).getByRole('region', { name: 'Entry Hollis, A.' }).textContent).toContain('0161 496 0103')
  expect(within(form).getByRole('region', { name: 'Entry Anna Hollis, the other' }).textContent).toContain('0161 496 7777')
  fireEvent.click(within(form).getByRole('button', { name: 'Make them one' }))
  expect((await within(form).findAllByText('Choose which entry stays.')).length).toBeGreaterThan(0)
  expect(book.sent('POST', `/api/customers/${ID.customer}/merge`)).toEqual([])
  fireEvent.click(within(form).getByLabelText('Hollis, A.'))
  expect(form.textContent).toContain('Also known: as Anna Hollis; phone 0161 496 7777')
  fireEvent.change(within(form).getByLabelText('How do you know that they are one?'), { target: { value: 'same number' } })
  fireEvent.click(within(form).getByRole('button', { name: 'Make them one' }))
  await waitFor(() => expect(router.state.location.pathname).toBe(`/customers/${ID.customer}`))
  const [sent] = book.sent('POST', `/api/customers/${ID.customer}/merge`)
  expect(sent?.body).toEqual({ gone: OTHER, goneVersion: 2, reason: 'same number' })
  expect(sent?.headers.get('if-match')).toBe('"4"')
})

test('the other may be the one that stays', async () => {
  const book = bookOfTwo()
  book.answer('POST /api/customers/:id/merge', () => {
    book.answer('GET /api/customers/:id', () => anna)
    return anna
  })
  const { router } = openAt(`/customers/${ID.customer}/merge?with=${OTHER}`)
  const form = await screen.findByRole('form', { name: 'Make two entries one' })
  fireEvent.click(within(form).getByLabelText('Anna Hollis'))
  fireEvent.change(within(form).getByLabelText('How do you know that they are one?'), { target: { value: 'same number' } })
  fireEvent.click(within(form).getByRole('button', { name: 'Make them one' }))
  await waitFor(() => expect(router.state.location.pathname).toBe(`/customers/${OTHER}`))
  expect(book.sent('POST', `/api/customers/${OTHER}/merge`)[0]?.body).toMatchObject({ gone: ID.customer, goneVersion: 4 })
})

test('somebody changed one meanwhile: both are read anew and nothing typed is lost', async () => {
  const book = bookOfTwo()
  book.answer('POST /api/customers/:id/merge', () => refusal('stale-version', { version: 3 }))
  openAt(`/customers/${ID.customer}/merge?with=${OTHER}`)
  const form = await screen.findByRole('form', { name: 'Make two entries one' })
  fireEvent.click(within(form).getByLabelText('Anna Hollis'))
  const reason = within(form).getByLabelText('How do you know that they are one?') as HTMLTextAreaElement
  fireEvent.change(reason, { target: { value: 'same number' } })
  book.answer('GET /api/customers/:id', (_asked, { id }) => (id === OTHER ? { ...anna, phone: '0161 496 8888', version: 3 } : hollis))
  fireEvent.click(within(form).getByRole('button', { name: 'Make them one' }))
  await within(form).findByText(/Somebody changed one of them meanwhile/)
  await waitFor(() => expect(form.textContent).toContain('0161 496 8888'))
  expect(reason.value).toBe('same number')
  fireEvent.click(within(form).getByRole('button', { name: 'Make them one' }))
  await waitFor(() => expect(book.sent('POST', `/api/customers/${OTHER}/merge`)).toHaveLength(2))
  expect(book.sent('POST', `/api/customers/${OTHER}/merge`)[1]?.headers.get('if-match')).toBe('"3"')
})

test('an entry that became another leads on to it, and the counter merges nobody', async () => {
  const book = shopBook('counter')
  book.answer('GET /api/customers/:id', () => hollis)
  book.answer('GET /api/cranks', () => [])
  const { router } = openAt(`/customers/${OTHER}`)
  await screen.findByRole('heading', { name: 'Hollis, A.' })
  expect(router.state.location.pathname).toBe(`/customers/${ID.customer}`)
  expect(screen.queryByRole('link', { name: 'The same as another entry' })).toBeNull()
  closeAll()
  shopBook('counter')
  openAt(`/customers/${ID.customer}/merge`)
  await screen.findByRole('heading', { name: 'Not your page' })
})
