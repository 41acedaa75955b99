/** Units at the bench (N2): what was typed stays as it was typed, and says the same length and the same verdict in every unit. */
import { cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { benchBook, JOB_ID } from '#tests/web/bench-sample.ts'
import { closeAll, openAt } from '#tests/web/shop-book.tsx'

const SETS = `/api/jobs/${JOB_ID}/measurements`
type Unit = 'mm' | 'thou' | 'tenths'

beforeEach(() => localStorage.clear())
afterEach(closeAll)

async function open(kind: string, heading: string) {
  const book = benchBook('bench')
  openAt(`/bench/${JOB_ID}/read/${kind}`)
  await screen.findByRole('heading', { name: heading })
  fireEvent.click(screen.getByText('Type it, in mm, thou or tenths'))
  return book
}

const choose = (unit: Unit) => fireEvent.click(screen.getByRole('radio', { name: unit }))
const typedInto = (says: string) => screen.getByLabelText<HTMLInputElement>(new RegExp(`^${says}, (mm|thou|tenths)$`))
const take = () => fireEvent.click(screen.getByRole('button', { name: 'Take what is typed' }))

function turnOver(ending: Unit) {
  const units = (['mm', 'thou', 'tenths'] as const).map((unit) => screen.getByRole('radio', { name: unit }))
  for (let n = 0; n < 100; n++) fireEvent.click(units[n % 3]!)
  choose(ending)
}

test('the unit changed a hundred times leaves what is typed and what was taken as they were', async () => {
  const book = await open('play', 'Big-end play')
  choose('thou')
  fireEvent.change(typedInto('up and down'), { target: { value: '2,50' } })
  turnOver('thou')
  expect(typedInto('up and down').value).toBe('2,50')
  take()
  const cells = screen.getByRole('list', { name: 'Figures of this set' })
  expect(within(cells).getByText('2,50 thou')).toBeTruthy()
  turnOver('mm')
  expect(within(cells).getByText('2,50 thou')).toBeTruthy()
  fireEvent.click(screen.getByRole('button', { name: 'Leave this one out' }))
  fireEvent.click(screen.getByRole('button', { name: 'Keep this set' }))
  await waitFor(() => expect(book.sent('POST', SETS)).toHaveLength(1))
  // 2.50 × 0.0254 by hand.
  expect(book.sent('POST', SETS)[0]?.body).toMatchObject({ values: [{ place: 'up-down', typed: '2,50', unit: 'thou', mm: 0.0635 }] })
})

// The sample sheet allows up to 0.50. 20 thou = 200 tenths = 0.508 mm, 15 thou = 150 tenths = 0.381 mm (an inch is 25.4 mm exactly, NIST SP 811).
test.each([
  { lengths: { mm: '0.508', thou: '20', tenths: '200' }, isOver: true },
  { lengths: { mm: '0.381', thou: '15', tenths: '150' }, isOver: false },
])('one length, typed in any unit, is told the same: over $isOver', async ({ lengths, isOver }) => {
  const told: string[] = []
  for (const [unit, typed] of Object.entries(lengths) as [Unit, string][]) {
    localStorage.clear()
    await open('clearance', 'Side clearance of the rod')
    choose(unit)
    fireEvent.change(typedInto('left of the rod'), { target: { value: typed } })
    take()
    const figures = screen.getByRole('region', { name: 'Figures' })
    within(figures).getByRole('list').remove()
    told.push(figures.textContent ?? '')
    cleanup()
  }
  expect(new Set(told).size).toBe(1)
  expect(told[0]).toMatch(/allowed/i)
  expect(/▲|over/.test(told[0] ?? '')).toBe(isOver)
})
