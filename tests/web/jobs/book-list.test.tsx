import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import type { JobRow } from '#contract/jobs.ts'
import { row } from '#tests/web/jobs/sample-job.ts'
import { closeAll, openAt, refusal, shopBook } from '#tests/web/shop-book.tsx'

afterEach(closeAll)

const counts = { house: 3, late: 1, waitingKit: 1, waitingYes: 0, ready: 1 }
const idOf = (place: number) => `0198f3a0-0000-7000-8000-0000000001${String(place).padStart(2, '0')}`
const late: JobRow = {
  ...row,
  id: idOf(1),
  tag: '296-B',
  whose: 'Quillfen Racing',
  state: 'together',
  waiting: [],
  late: true,
  daysLate: 1,
  promisedOn: '2026-11-23',
}
const third: JobRow = { ...row, id: idOf(2), tag: '300-E', whose: 'Walden, M.', state: 'booked', waiting: [] }

function page(rows: JobRow[], next: string | null = null) {
  return { rows, next, counts, today: '2026-11-24' }
}

test('the house by promise: tag, whose, act word, why it stands, promise, and a link to each', async () => {
  const book = shopBook('counter')
  book.answer('GET /api/jobs', () => page([late, row]))
  openAt('/counter')
  await screen.findByRole('heading', { name: 'In the house: 3, by promise' })
  const rows = screen.getAllByRole('row').slice(1)
  expect(rows).toHaveLength(2)
  expect(within(rows[0]!).getByRole('link', { name: '296-B' }).getAttribute('href')).toBe(`/jobs/${late.id}`)
  expect(rows[0]!.textContent).toContain('Quillfen Racing')
  expect(rows[0]!.textContent).toContain('to true')
  expect(rows[0]!.textContent).toContain('Mon 23 Nov')
  expect(within(rows[0]!).getByText('1 day late').className).toBe('over')
  expect(rows[1]!.textContent).toContain('to press together · waiting for kit, since Mon 23 Nov, due Thu 26 Nov')
  expect(rows[1]!.textContent).toContain('rack A · deposit 100.00')
  // The done word of the next step is nowhere on the row.
  expect(rows[1]!.textContent).not.toContain('together·')
})

test('the lists stand in the address, carry their counts, and ask for their own rows', async () => {
  const book = shopBook('counter')
  book.answer('GET /api/jobs', ({ query }) => page(query.get('list') === 'late' ? [late] : [late, row]))
  const { router } = openAt('/counter')
  const lists = await screen.findByRole('navigation', { name: 'Lists' })
  await waitFor(() => expect(within(lists).getByRole('link', { name: 'Late 1' })).toBeTruthy())
  fireEvent.click(within(lists).getByRole('link', { name: 'Late 1' }))
  await screen.findByRole('heading', { name: 'Late: 1, by promise' })
  await waitFor(() => expect(screen.getAllByRole('row')).toHaveLength(2))
  expect(router.state.location.search).toBe('?list=late')
  expect(document.title).toBe('Late: 1, by promise · Throwbook')
})

test('an unknown list in the address is the house', async () => {
  const book = shopBook('counter')
  book.answer('GET /api/jobs', () => page([row]))
  openAt('/counter?list=colour')
  await screen.findByRole('heading', { name: 'In the house: 3, by promise' })
  expect(book.sent('GET', '/api/jobs')[0]?.query.get('list')).toBe('house')
})

test('more rows follow by the cursor of the last ones', async () => {
  const book = shopBook('counter')
  book.answer('GET /api/jobs', ({ query }) => (query.get('after') === 'c2' ? page([third]) : page([late, row], 'c2')))
  openAt('/counter')
  await screen.findByText('showing 2 of 3')
  fireEvent.click(screen.getByRole('button', { name: 'Show more' }))
  await screen.findByText('showing 3 of 3')
  expect(screen.getByRole('link', { name: '300-E' })).toBeTruthy()
  expect(screen.queryByRole('button', { name: 'Show more' })).toBeNull()
})

test('an empty list says what would stand there; a refused one says why and asks again', async () => {
  const book = shopBook('counter')
  book.answer('GET /api/jobs', () => page([]))
  openAt('/counter?list=waiting-kit')
  await screen.findByText('No crank waits for a kit.')
  closeAll()
  const other = shopBook('counter')
  other.answer('GET /api/jobs', () => refusal('internal'))
  openAt('/counter')
  await screen.findByText('The book could not be fetched.')
  other.answer('GET /api/jobs', () => page([row]))
  fireEvent.click(screen.getByRole('button', { name: 'Try again' }))
  await screen.findByRole('link', { name: '318-V' })
})

test('the bench is told that the counter is not its page', async () => {
  shopBook('bench')
  openAt('/counter')
  await screen.findByRole('heading', { name: 'Not your page' })
  expect(screen.queryByRole('table')).toBeNull()
})
