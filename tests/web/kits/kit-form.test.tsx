import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import { benchBook, JOB_ID, jobAt } from '#tests/web/bench-sample.ts'
import { closeAll, openAt, refusal } from '#tests/web/shop-book.tsx'
import { fittedWords } from '#web/features/kits/known-lots.ts'

afterEach(closeAll)

const KIT = `/api/jobs/${JOB_ID}/kit`
const known = [
  {
    id: '0198f3a0-0000-7000-8000-0000000000b1',
    maker: 'Ardenlow',
    part: 'R449-4X K1',
    lots: [{ id: '0198f3a0-0000-7000-8000-0000000000b2', lot: 'A-2417', fitted: 3 }],
  },
]

function open(over: Parameters<typeof benchBook>[1] = {}) {
  const book = benchBook('bench', { job: jobAt('apart'), ...over })
  book.answer('GET /api/kits', () => known)
  openAt(`/bench/${JOB_ID}/kit`)
  return book
}

test('how many cranks have a lot', () => {
  expect([0, 1, 3].map(fittedWords)).toEqual(['no crank has this lot yet', '1 crank has this lot', '3 cranks have this lot'])
})

test('a known lot is offered with how many cranks have it, and taken with one press', async () => {
  const book = open()
  book.answer('POST /api/jobs/:id/kit', ({ body }) => {
    const { maker, part, lot, whose } = body as Record<string, string>
    return { maker, part, lot, whose }
  })
  const lots = await screen.findByRole('region', { name: 'Lots known for this engine' })
  expect(within(lots).getByText('3 cranks have this lot')).toBeTruthy()
  fireEvent.click(within(lots).getByRole('button'))
  fireEvent.click(screen.getByRole('button', { name: 'Kit is in' }))
  await waitFor(() => expect(book.sent('POST', KIT)).toHaveLength(1))
  expect(book.sent('POST', KIT)[0]?.body).toMatchObject({ maker: 'Ardenlow', part: 'R449-4X K1', lot: 'A-2417', whose: 'ours' })
})

test('a kit without a lot is not named, and nothing typed is lost when the book says no', async () => {
  const book = open()
  book.answer('POST /api/jobs/:id/kit', () => refusal('conflict-state', { detail: 'This job is closed.' }))
  fireEvent.change(await screen.findByLabelText('Maker of the kit'), { target: { value: 'Stellmarch' } })
  fireEvent.change(screen.getByLabelText('Part number'), { target: { value: 'K2' } })
  fireEvent.click(screen.getByRole('button', { name: 'Kit is in' }))
  expect(book.sent('POST', KIT)).toHaveLength(0)
  expect(screen.getByRole('button', { name: 'Lot, from the rod or the bag: write it here.' })).toBeTruthy()
  fireEvent.change(screen.getByLabelText('Lot, from the rod or the bag'), { target: { value: 'S-0936' } })
  fireEvent.click(screen.getByRole('button', { name: 'Kit is in' }))
  expect(await screen.findByText('This job is closed.')).toBeTruthy()
  expect(screen.getByLabelText<HTMLInputElement>('Part number').value).toBe('K2')
})

test('a kit already named is shown, and another one replaces it', async () => {
  open({ bench: { kit: { maker: 'Ardenlow', part: 'R449-4X K1', lot: 'A-2417', whose: 'ours' } } })
  expect(await screen.findByText(/Named: Ardenlow R449-4X K1, lot/)).toBeTruthy()
  expect(screen.getByRole('button', { name: 'This kit it is' })).toBeTruthy()
})
