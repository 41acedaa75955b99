import { screen, waitFor } from '@testing-library/react'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { benchBook, JOB_ID, jobAt } from '#tests/web/bench-sample.ts'
import { closeAll, openAt, shopBook } from '#tests/web/shop-book.tsx'

beforeEach(() => localStorage.clear())
afterEach(closeAll)

const OTHER = '0198f3a0-0000-7000-8000-0000000000ff'

/** All at once, as a scanner does; nobody's hands are so fast. */
function scan(text: string): void {
  for (const key of text) document.body.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true, cancelable: true }))
  document.body.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true, cancelable: true }))
}

test('a label scanned while a reading is keyed opens its crank at the bench, and keys nothing', async () => {
  const book = benchBook('bench')
  const { router } = openAt(`/bench/${JOB_ID}/read/width`)
  await screen.findByRole('group', { name: 'Keypad' })
  book.answer('GET /api/jobs/:id', (_asked, { id }) => ({ ...jobAt('booked'), id }))
  scan(`https://book.shop.lan/jobs/${OTHER}`)
  await waitFor(() => expect(router.state.location.pathname).toBe(`/bench/${OTHER}`))
  expect(JSON.stringify(localStorage)).not.toMatch(/318/)
})

test('a tag scanned at the counter opens its job', async () => {
  const book = shopBook('counter')
  book.answer('GET /api/find', ({ query }) => ({ rows: [{ what: 'job', id: JOB_ID, title: query.get('q'), says: 'Zandrello' }] }))
  const { router } = openAt('/customers')
  await screen.findByRole('main')
  scan('1318-F')
  await waitFor(() => expect(router.state.location.pathname).toBe(`/jobs/${JOB_ID}`))
})

test.each([
  [`https://elsewhere.example/jobs/${OTHER}`, 'This label is of no crank in this book.'],
  ['001318-F', 'No crank in the book has this tag.'],
  ['1318-G', '1318-G is no tag of ours: look at the number and the letter again.'],
  ['JJD0099999', 'This code is no tag and no label of the book.'],
])('%s opens nothing: the page stays and says why', async (code, why) => {
  const book = shopBook('counter')
  book.answer('GET /api/find', () => ({ rows: [] }))
  const { router } = openAt('/customers')
  await screen.findByRole('main')
  scan(code)
  expect(await screen.findByText(`Scanned: ${why}`)).toBeTruthy()
  expect(router.state.location.pathname).toBe('/customers')
})
