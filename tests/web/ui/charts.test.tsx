import { cleanup, render, screen, within } from '@testing-library/react'
import { MemoryRouter } from 'react-router'
import { afterEach, expect, test } from 'vitest'
import { FitMarks, fitWord } from '#web/ui/fit-marks.tsx'
import { LearningChart, type LearningPoint } from '#web/ui/learning-chart.tsx'
import { RunChart } from '#web/ui/run-chart.tsx'
import { WidthBands } from '#web/ui/width-bands.tsx'

afterEach(cleanup)

function tableRows(): string[][] {
  return within(screen.getByRole('table'))
    .getAllByRole('row')
    .map((row) => Array.from(row.children, (cell) => cell.textContent ?? ''))
}

function numberOf(mark: Element, name: string): number {
  return Number(mark.getAttribute(name))
}

/** The limits of a picture, from its own viewBox. */
function frame(picture: Element): { width: number; height: number } {
  const [, , width, height] = picture.getAttribute('viewBox')!.split(' ').map(Number)
  return { width: width!, height: height! }
}

const sets = [
  { key: 'a', name: 'as received', leftMm: 0.31, rightMm: 0.34 },
  { key: 'b', name: 'set 2', leftMm: 0.17 },
  { key: 'c', name: 'set 3', leftMm: 0.12, rightMm: 0.14 },
]

test('the run has the same figures in its table, a set not read says so', () => {
  render(<RunChart sets={sets} limitMm={0.02} stepMm={0.01} />)
  expect(tableRows()).toEqual([
    ['set', 'left, mm', 'right, mm'],
    ['as received', '0.31', '0.34'],
    ['set 2', '0.17', 'not read'],
    ['set 3', '0.12', '0.14'],
  ])
  expect(screen.getByRole('img').getAttribute('aria-label')).toBe('3 sets. Last, set 3: left 0.12, right 0.14 mm. allowed 0.02 mm.')
})

test('the run draws each reading once, left discs and right squares, at heights in proportion to the reading', () => {
  render(<RunChart sets={sets} limitMm={0.02} stepMm={0.01} />)
  const picture = screen.getByRole('img')
  const discs = Array.from(picture.querySelectorAll('circle'))
  const squares = Array.from(picture.querySelectorAll('rect'))
  expect(discs).toHaveLength(3)
  expect(squares).toHaveLength(2)
  const [first, second, third] = discs.map((disc) => numberOf(disc, 'cy'))
  // 0.31, 0.17 and 0.12 on one straight scale.
  expect((second! - first!) / (third! - first!)).toBeCloseTo((0.31 - 0.17) / (0.31 - 0.12), 6)
})

test.each([0.005, 0.34, 3.7, 20])('a swing of %d mm is never cut off', (most) => {
  render(<RunChart sets={[{ key: 'a', name: 'now', leftMm: most, rightMm: 0 }]} limitMm={0.02} stepMm={0.001} />)
  const picture = screen.getByRole('img')
  const { height, width } = frame(picture)
  const disc = picture.querySelector('circle')!
  expect(numberOf(disc, 'cy')).toBeGreaterThanOrEqual(0)
  expect(numberOf(disc, 'cy')).toBeLessThanOrEqual(height)
  expect(numberOf(disc, 'cx')).toBeLessThanOrEqual(width)
})

test('two limits that differ are both named', () => {
  render(<RunChart sets={sets} limitMm={{ leftMm: 0.02, rightMm: 0.025 }} stepMm={0.001} />)
  expect(screen.getByText('allowed, L')).toBeTruthy()
  expect(screen.getByText('allowed, R')).toBeTruthy()
})

const widths = { cases: { minMm: 63.95, maxMm: 64.05 }, rod: { minMm: 63.97, maxMm: 64.22 }, clearance: { minMm: 0.25, maxMm: 0.5 } }

test('the widths have the same figures in their table and in their name', () => {
  render(<WidthBands {...widths} nowMm={64.06} aimMm={64.01} />)
  expect(tableRows().slice(1)).toEqual([
    ['width that fits the cases', '63.95', '64.05'],
    ['width that gives the rod 0.25 to 0.50', '63.97', '64.22'],
    ['now', '64.06', '64.06'],
    ['aim', '64.01', '64.01'],
  ])
  expect(screen.getByRole('img').getAttribute('aria-label')).toBe(
    'width that fits the cases: 63.95 to 64.05; width that gives the rod 0.25 to 0.50: 63.97 to 64.22; now 64.06; aim 64.01.',
  )
})

test.each([60.1, 64.06, 71])('a width now of %d lies within the picture', (nowMm) => {
  render(<WidthBands {...widths} nowMm={nowMm} />)
  const picture = screen.getByRole('img')
  const line = Array.from(picture.querySelectorAll('path')).find((path) => path.getAttribute('stroke') === 'var(--copper)')!
  const x = Number(/^M([\d.]+) /.exec(line.getAttribute('d')!)![1])
  expect(x).toBeGreaterThanOrEqual(0)
  expect(x).toBeLessThanOrEqual(frame(picture).width)
})

const floors = { scrapMm: 0.077, shopMm: 0.1, sheet: { minMm: 0.105, maxMm: 0.125 } }

test('the fits have the same figures in their table, with where they lie in words', () => {
  render(<FitMarks leftMm={0.109} rightMm={0.094} {...floors} />)
  expect(tableRows().slice(1, 3)).toEqual([
    ['left web', '0.109', 'in the sheet'],
    ['right web', '0.094', 'under the shop floor'],
  ])
  expect(screen.queryByText(/▲ 0\.0/)).toBeNull()
})

test('a scrap fit carries the mark as well as the word', () => {
  render(<FitMarks leftMm={0.07} {...floors} />)
  expect(screen.getByText('▲ 0.070')).toBeTruthy()
  expect(tableRows()[1]).toEqual(['left web', '0.070', 'scrap'])
  expect(tableRows()[2]).toEqual(['right web', 'not measured', ''])
})

test('a fit exactly at a floor is not under it', () => {
  expect(fitWord(0.077, floors)).toBe('under the shop floor')
  expect(fitWord(0.1, floors)).toBe('under the sheet')
  expect(fitWord(0.105, floors)).toBe('in the sheet')
  expect(fitWord(0.125, floors)).toBe('in the sheet')
  expect(fitWord(0.126, floors)).toBe('over the sheet')
  // 0.0022 of a pin of 35 mm, and the same floor as it is typed.
  expect(fitWord(0.0022 * 35, { ...floors, scrapMm: 0.077 })).toBe('under the shop floor')
})

const points: LearningPoint[] = [
  { n: 1, hours: 6.2, tag: '201-A', href: '/jobs/201-A' },
  { n: 2, hours: 0.21, tag: '202-K', href: '/jobs/202-K' },
  { n: 3, hours: 41, tag: '203-T', href: '/jobs/203-T', leftOut: 'practice' },
]

function learning(fitted = false) {
  const line = fitted ? [1, 2, 4, 8].map((n) => ({ n, hours: 6 / n ** 0.3, low: 3 / n ** 0.3, high: 12 / n ** 0.3 })) : []
  render(
    <MemoryRouter>
      <LearningChart points={points} fitted={line} targetHours={1.8} caption="3 cranks, 1 left out." />
    </MemoryRouter>,
  )
}

test('each point of the learning line opens its crank, and the table holds the same', () => {
  learning(true)
  const links = within(screen.getByRole('group', { name: /^Bench hours/ })).getAllByRole('link')
  expect(links.map((link) => [link.getAttribute('aria-label'), link.getAttribute('href')])).toEqual([
    ['crank 1, 201-A, 6.20 h', '/jobs/201-A'],
    ['crank 2, 202-K, 0.21 h', '/jobs/202-K'],
    ['crank 3, 203-T, 41.00 h, left out: practice', '/jobs/203-T'],
  ])
  expect(tableRows().slice(1)).toEqual([
    ['1', '201-A', '6.20', ''],
    ['2', '202-K', '0.21', ''],
    ['3', '203-T', '41.00', 'practice'],
  ])
})

test('every point lies within the axes, doublings are equally far apart, and what is left out is hollow', () => {
  learning()
  const picture = screen.getByRole('group', { name: /^Bench hours/ })
  const { width, height } = frame(picture)
  const marks = Array.from(picture.querySelectorAll('.chart-point'))
  for (const mark of marks) {
    expect(numberOf(mark, 'cx')).toBeGreaterThan(0)
    expect(numberOf(mark, 'cx')).toBeLessThan(width)
    expect(numberOf(mark, 'cy')).toBeGreaterThan(0)
    expect(numberOf(mark, 'cy')).toBeLessThan(height)
  }
  const [one, two, three] = marks.map((mark) => numberOf(mark, 'cx'))
  expect((three! - one!) / (two! - one!)).toBeCloseTo(Math.log2(3), 6)
  expect(marks.map((mark) => mark.getAttribute('fill'))).toEqual(['var(--ink)', 'var(--ink)', 'var(--paper)'])
})

test('without a line the points and the target still stand', () => {
  learning()
  expect(screen.getByText('target 1.8 h')).toBeTruthy()
  expect(screen.queryByText(/single cranks/)).toBeNull()
})
