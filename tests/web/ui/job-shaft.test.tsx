import { cleanup, render, screen, within } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import { JOB_KINDS, PATHS } from '#core/steps.ts'
import { JobShaft, shaftLabel } from '#web/ui/job-shaft.tsx'
import { APART_GAP, SHAFT_WIDTH, shaftOutline } from '#web/ui/job-shaft-outline.ts'

afterEach(cleanup)

function looks(): (string | null)[] {
  return Array.from(screen.getByRole('img').querySelectorAll('g'), (piece) => piece.getAttribute('data-look'))
}

test('the picture says what is done and what is next', () => {
  render(<JobShaft kind="rebuild" done="apart" waiting="waits for kit, due Thu 26 Nov" size="strip" />)
  expect(screen.getByRole('img', { name: 'Done: apart. Next: to press together, waits for kit, due Thu 26 Nov.' })).toBeTruthy()
})

test('a step not reached is never said as if it were', () => {
  expect(shaftLabel('rebuild', 'together')).toBe('Done: together. Next: to true.')
  expect(shaftLabel('rebuild', 'trued')).toBe('Done: true. Next: second check.')
  expect(shaftLabel('weld-only', 'agreed')).toBe('Done: agreed. Next: to weld and true.')
  expect(shaftLabel('check-and-report', 'measured')).toBe('Done: measured. Next: second check.')
  expect(shaftLabel('rebuild', 'gone')).toBe('Done: gone, out running.')
  expect(shaftLabel('rebuild', 'scrapped')).toBe('Ended: scrapped.')
})

test.each(JOB_KINDS)('%s has a part for each of its steps, side by side over the whole length', (kind) => {
  const { pieces, columns } = shaftOutline(kind, false)
  expect(pieces.map((piece) => piece.step)).toEqual(PATHS[kind])
  expect(pieces[0]!.from).toBe(0)
  for (const [place, piece] of pieces.entries()) if (place > 0) expect(piece.from).toBeCloseTo(pieces[place - 1]!.to, 9)
  expect(pieces.at(-1)!.to).toBeCloseTo(SHAFT_WIDTH, 9)
  expect(columns.reduce((sum, column) => sum + column.span, 0)).toBe(8)
})

test('while it is apart the second half stands off, the pin in the first', () => {
  const { pieces, columns } = shaftOutline('rebuild', true)
  const pin = pieces.find((piece) => piece.step === 'apart')!
  const web = pieces.find((piece) => piece.step === 'together')!
  expect((web.from - pin.to) / ((pin.to - pin.from) * APART_GAP)).toBeCloseTo(1, 9)
  expect(pieces.at(-1)!.to).toBeCloseTo(SHAFT_WIDTH, 9)
  expect(columns[4]).toEqual({ span: APART_GAP })
})

test('it is blued as far as the work is done, the next part ringed', () => {
  render(<JobShaft kind="rebuild" done="agreed" size="strip" />)
  expect(looks().filter((look) => look === 'done')).toHaveLength(3)
  expect(looks().filter((look) => look === 'next')).toHaveLength(1)
  expect(looks().filter((look) => look === 'later')).toHaveLength(4)
  expect(document.querySelector('.shaft-collar, .shaft-axis, .shaft-punch')).toBeNull()
})

test('collar while it waits, centre line once true, punch mark once signed', () => {
  render(<JobShaft kind="rebuild" done="agreed" waiting="waits for a yes" size="strip" />)
  expect(document.querySelectorAll('.shaft-collar')).toHaveLength(1)
  cleanup()
  render(<JobShaft kind="rebuild" done="trued" size="strip" />)
  expect(document.querySelector('.shaft-axis')).toBeTruthy()
  expect(document.querySelector('.shaft-punch')).toBeNull()
  cleanup()
  render(<JobShaft kind="rebuild" done="gone" size="strip" />)
  expect(document.querySelector('.shaft-punch')).toBeTruthy()
  expect(looks()).not.toContain('next')
})

test('a check has no truing of its own, so no centre line', () => {
  render(<JobShaft kind="check-and-report" done="signed" size="strip" />)
  expect(document.querySelector('.shaft-axis')).toBeNull()
})

test('the big one has words beneath: dates of what is done, why it stands, later steps marked as later', () => {
  render(<JobShaft kind="rebuild" done="apart" size="big" dates={{ booked: 'Fri 20 Nov', apart: 'today 09:05' }} waiting="waits for kit" />)
  const words = within(screen.getByRole('list'))
    .getAllByRole('listitem')
    .map((item) => item.textContent)
  expect(words).toEqual([
    'bookedFri 20 Nov',
    'measured',
    'agreed',
    'aparttoday 09:05',
    'next: to press togetherwaits for kit',
    'later: true',
    'later: signed',
    'later: gone',
  ])
  expect(document.querySelector('.shaft-line')?.textContent).toBe(
    'booked, measured, agreed, apart · next: to press together, waits for kit',
  )
})

test('a scrapped job keeps what was done and has nothing next', () => {
  render(<JobShaft kind="rebuild" done="scrapped" reached="measured" size="big" />)
  expect(looks().filter((look) => look === 'done')).toHaveLength(2)
  expect(looks()).not.toContain('next')
  expect(document.querySelector('.shaft-line')?.textContent).toBe('booked, measured · scrapped')
})
