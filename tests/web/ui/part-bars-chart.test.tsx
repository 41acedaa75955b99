import { cleanup, render, screen, within } from '@testing-library/react'
import fc from 'fast-check'
import { MemoryRouter } from 'react-router'
import { afterEach, expect, test } from 'vitest'
import { PartBarsChart } from '#web/ui/part-bars-chart.tsx'
import { partBarsLayout } from '#web/ui/part-bars-layout.ts'

afterEach(cleanup)

const some = fc
  .array(fc.tuple(fc.nat(300), fc.double({ min: 0, max: 1, noNaN: true })), { minLength: 1, maxLength: 40 })
  .map((all) => all.map(([of, share], place) => ({ key: `m${place}`, label: 'Nov', of, count: Math.floor(of * share) })))

test('no bar is cut off, and the part lies within its whole on one scale', () => {
  fc.assert(
    fc.property(some, fc.integer({ min: 280, max: 1200 }), (parts, width) => {
      const drawn = partBarsLayout(parts, { width, letter: 15 })
      const most = Math.max(1, ...parts.map((part) => part.of))
      drawn.bars.forEach((bar, place) => {
        expect(bar.whole.y).toBeGreaterThanOrEqual(0)
        expect(bar.whole.x + bar.whole.width).toBeLessThanOrEqual(width)
        expect(bar.part.height).toBeLessThanOrEqual(bar.whole.height + 1e-9)
        expect(bar.part.y + bar.part.height).toBeCloseTo(drawn.bottom, 6)
        const fullHeight = bar.whole.height * (most / Math.max(1, parts[place]!.of))
        if (parts[place]!.of > 0) expect(bar.part.height).toBeCloseTo((parts[place]!.count / most) * fullHeight, 6)
      })
    }),
  )
})

const parts = [
  { key: '2026-10', label: 'Oct', name: 'October 2026', count: 3, of: 4, href: '/office/cranks?figure=first-check' },
  { key: '2026-11', label: 'Nov', name: 'November 2026', count: 0, of: 2 },
  { key: '2026-12', label: 'Dec', name: 'December 2026', count: 0, of: 0 },
]

test('the picture says its counts and the table has the same', () => {
  render(
    <MemoryRouter>
      <PartBarsChart title="True at first check, by month" heads={['month', 'true', 'checked']} parts={parts} caption="6 cranks." />
    </MemoryRouter>,
  )
  const picture = screen.getByRole('img', { name: 'True at first check, by month: 3 of 6; last, December 2026: 0 of 0.' })
  expect(within(picture).getByText('3 of 4')).toBeTruthy()
  expect(within(picture).getByText('0 of 2')).toBeTruthy()
  expect(within(picture).queryByText('0 of 0')).toBeNull()
  const rows = within(screen.getByRole('table', { name: 'True at first check, by month' })).getAllByRole('row')
  expect(rows.map((row) => Array.from(row.children, (cell) => cell.textContent))).toEqual([
    ['month', 'true', 'checked'],
    ['October 2026', '3', '4'],
    ['November 2026', '0', '2'],
    ['December 2026', '0', '0'],
  ])
  expect(screen.getAllByRole('link').map((link) => link.textContent)).toEqual(['4'])
})
