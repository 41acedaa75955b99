import { cleanup, render, screen, within } from '@testing-library/react'
import fc from 'fast-check'
import { MemoryRouter } from 'react-router'
import { afterEach, describe, expect, test } from 'vitest'
import { type ChartWeek, WeeksChart } from '#web/ui/weeks-chart.tsx'
import { weeksLayout } from '#web/ui/weeks-layout.ts'

afterEach(cleanup)

function weeksOf(counts: readonly (readonly [number, number])[]): ChartWeek[] {
  return counts.map(([cameIn, wentOut], place) => ({ key: `w${place}`, label: String(place + 1), name: `${place + 1}`, cameIn, wentOut }))
}

const counts = fc.array(fc.tuple(fc.nat(400), fc.nat(400)), { minLength: 1, maxLength: 110 })
const rooms = fc.record({ width: fc.integer({ min: 280, max: 1200 }), letter: fc.constantFrom(12.7, 15, 20) })

describe('the layout of the weeks', () => {
  test('no bar is ever cut off, and one scale holds both halves', () => {
    fc.assert(
      fc.property(counts, rooms, (given, room) => {
        const drawn = weeksLayout(weeksOf(given), room)
        const perCrank = drawn.weeks.flatMap((week, place) => {
          const [cameIn, wentOut] = given[place]!
          expect(week.cameIn.x).toBeGreaterThanOrEqual(drawn.left - 1e-9)
          expect(week.cameIn.x + week.cameIn.width).toBeLessThanOrEqual(drawn.right + 1e-9)
          expect(week.cameIn.y).toBeGreaterThanOrEqual(0)
          expect(week.wentOut.y + week.wentOut.height).toBeLessThanOrEqual(drawn.height)
          expect(week.cameIn.y + week.cameIn.height).toBeCloseTo(drawn.axisY, 6)
          expect(week.wentOut.y).toBe(drawn.axisY)
          return [...(cameIn > 0 ? [week.cameIn.height / cameIn] : []), ...(wentOut > 0 ? [week.wentOut.height / wentOut] : [])]
        })
        for (const one of perCrank) expect(one).toBeCloseTo(perCrank[0]!, 6)
      }),
    )
  })

  test('labels never lie on one another, and the last week always has one', () => {
    fc.assert(
      fc.property(counts, rooms, (given, room) => {
        const { labels } = weeksLayout(weeksOf(given), room)
        expect(labels.at(-1)?.key).toBe(`w${given.length - 1}`)
        labels.slice(1).forEach((label, place) => {
          expect(label.x - labels[place]!.x).toBeGreaterThanOrEqual(room.letter * 1.9 - 1e-6)
        })
      }),
    )
  })

  test('the rules stand at whole counts with room between', () => {
    const { rules, axisY } = weeksLayout(weeksOf([[40, 9]]), { width: 520, letter: 15 })
    expect(rules.filter((rule) => rule.y < axisY).map((rule) => rule.count)).toEqual([10, 20, 30, 40])
    expect(rules.filter((rule) => rule.y > axisY)).toEqual([])
  })

  test('without a week there is an axis and nothing on it', () => {
    const drawn = weeksLayout([], { width: 390, letter: 15 })
    expect(drawn.weeks).toEqual([])
    expect(drawn.labels).toEqual([])
    expect(Number.isFinite(drawn.axisY)).toBe(true)
  })
})

test('the picture and the table carry the same counts', () => {
  const given = [
    [6, 5],
    [0, 7],
    [9, 0],
  ] as const
  render(<WeeksChart weeks={weeksOf(given)} caption="3 weeks." />)
  const rows = within(screen.getByRole('table', { name: 'In and out, by week' })).getAllByRole('row')
  expect(rows.slice(1).map((row) => Array.from(row.children, (cell) => cell.textContent))).toEqual([
    ['1', '6', '5'],
    ['2', '0', '7'],
    ['3', '9', '0'],
  ])
  const picture = screen.getByRole('img', { name: 'In and out, by week. 3 weeks: 15 in, 12 out; last, week 3: 9 in, 0 out.' })
  const bars = Array.from(picture.querySelectorAll('rect'), (bar) => ({
    outline: bar.getAttribute('stroke') === 'var(--ink)',
    height: Number(bar.getAttribute('height')),
  }))
  expect(bars.map((bar) => bar.outline)).toEqual([true, false, false, true])
  // 6 in, 5 out, 7 out, 9 in, in proportion.
  const heights = bars.map((bar) => bar.height)
  for (const [place, count] of [6, 5, 7, 9].entries()) expect(heights[place]! / heights[0]!).toBeCloseTo(count / 6, 6)
})

test('no week yet is said in its name', () => {
  render(<WeeksChart weeks={[]} caption="No crank yet." />)
  expect(screen.getByRole('img', { name: 'In and out, by week: no week yet.' })).toBeTruthy()
})

test('a count of the table opens its cranks, a nought opens nothing', () => {
  const weeks = weeksOf([[2, 0]]).map((week) => ({ ...week, inHref: '/office/cranks?figure=in', outHref: '/office/cranks?figure=out' }))
  render(
    <MemoryRouter>
      <WeeksChart weeks={weeks} caption="1 week." />
    </MemoryRouter>,
  )
  expect(screen.getAllByRole('link').map((link) => [link.textContent, link.getAttribute('href')])).toEqual([
    ['2', '/office/cranks?figure=in'],
  ])
})
