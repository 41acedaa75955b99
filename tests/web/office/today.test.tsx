import { screen, within } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { officeBook, rowsOf } from '#tests/web/office/office-book.ts'
import { today } from '#tests/web/office/sample-office.ts'
import { closeAll, openAt } from '#tests/web/shop-book.tsx'

beforeEach(() => vi.useFakeTimers({ toFake: ['Date'], now: new Date('2026-11-24T08:05:00Z') }))
afterEach(() => {
  closeAll()
  vi.useRealTimers()
})

/** What a link says, and what is said after it to those who hear it. */
function named(says: string, of: string): RegExp {
  return new RegExp(`^${says} ?, ${of}$`)
}

describe('today', () => {
  test('the date is the heading, and what is late is named with why, since when and the way to the crank', async () => {
    officeBook()
    openAt('/office')
    expect(await screen.findByRole('heading', { level: 1, name: 'Tuesday 24 November' })).toBeTruthy()
    const lines = within(await screen.findByRole('list', { name: 'Today' }))
    expect(lines.getByText('5 late').className).toBe('over')
    expect(lines.getByText(/^right web pressed apart twice; apart since Fri 20 Nov/).textContent).toMatch(
      /promised Mon 9 Nov, 15 days late, told$/,
    )
    expect(lines.getByText(/pin on order.*due Thu 26 Nov/).textContent).toMatch(/promised Mon 23 Nov, 1 day late, not told yet$/)
    expect(lines.getAllByRole('link', { name: '296-B' })[0]?.getAttribute('href')).toBe('/jobs/0198f3a0-0000-7000-8000-0000000000a1')
    expect(lines.getByText('and 3 more')).toBeTruthy()
  })

  test('every line carries its rule, its number, the way to its cranks and its CSV', async () => {
    officeBook()
    openAt('/office')
    const lines = within(await screen.findByRole('list', { name: 'Today' }))
    for (const [rule, of, many, href] of [
      ['Rule of late.', 'late', '5 cranks', '/office/cranks?figure=late'],
      ['Rule of promised.', 'promised this week', '5 cranks', '/office/cranks?figure=promised'],
      ['Rule of waiting.', 'waiting', '4 cranks', '/office/cranks?figure=waiting'],
      ['Rule of ready.', 'ready, not fetched', '4 cranks', '/office/cranks?figure=ready'],
    ] as const) {
      expect(lines.getByText(new RegExp(`^${rule.replaceAll('.', '\\.')}`))).toBeTruthy()
      expect(lines.getByRole('link', { name: named(many, of) }).getAttribute('href')).toBe(href)
      const csv = lines.getByRole('link', { name: named('CSV', of) })
      expect(csv.getAttribute('href')).toMatch(/^\/api\/office\/.+\.csv$/)
      expect(csv.hasAttribute('download')).toBe(true)
    }
    expect(lines.getByText(/^Promised this week: 5 cranks, 11\.6 h/)).toBeTruthy()
    expect(lines.queryByText('More than the bench has left')).toBeNull()
    expect(lines.getByText(/Dial 3 is due for its check/)).toBeTruthy()
    expect(lines.getByText('Book last proven restorable: Tue 24 Nov, 02:10.')).toBeTruthy()
    expect(lines.getByRole('link', { name: 'those for a kit' }).getAttribute('href')).toBe('/office/cranks?figure=waiting&waiting=kit')
  })

  test('more promised than the bench has left, and a book long not proven, are said with the word and the mark', async () => {
    const book = officeBook()
    book.answer('GET /api/office', () => ({
      ...today,
      promised: { ...today.promised, fits: false },
      proof: { ...today.proof, warning: 'The last proof is more than 48 hours old.' },
    }))
    openAt('/office')
    expect((await screen.findByText('More than the bench has left')).className).toBe('over')
    expect(screen.getByText('Book last proven restorable: Tue 24 Nov, 02:10').className).toBe('over')
    expect(screen.getByText(/The last proof is more than 48 hours old\./)).toBeTruthy()
    expect(screen.getByRole('link', { name: 'see to the backup' }).getAttribute('href')).toBe('/office/backup')
  })

  test('the table beneath a line has the same cranks', async () => {
    officeBook()
    openAt('/office')
    const lines = within(await screen.findByRole('list', { name: 'Today' }))
    const late = lines.getByRole('table', { name: 'late', hidden: true })
    expect(rowsOf(late).map((row) => [row[0], row[3]])).toEqual([
      ['tag', 'late by'],
      ['296-B', '15 days'],
      ['302-A', '1 day'],
    ])
    expect(lines.getByText(/The first 2 of 5/)).toBeTruthy()
  })

  test('money held, on the shelf and out', async () => {
    officeBook()
    openAt('/office')
    const money = within(await screen.findByRole('list', { name: 'Money' }))
    expect(money.getByText(/^Deposits held/).textContent).toBe('Deposits held: 520.00 EUR, 6 cranks.')
    expect(money.getByText(/^Done, on the shelf/).textContent).toBe('Done, on the shelf, not paid: 731.00 EUR, 3 cranks.')
    expect(money.getByText('Nothing that went home is left to pay.')).toBeTruthy()
  })
})

test('what is kept here is a click away', async () => {
  officeBook()
  openAt('/office')
  const kept = within(await screen.findByRole('region', { name: 'Kept here' }))
  expect(kept.getAllByRole('link').map((link) => [link.textContent, link.getAttribute('href')])).toEqual([
    ['People', '/office/people'],
    ['Settings', '/office/settings'],
    ['Bench tablets', '/office/tablets'],
    ['Instruments', '/bench/instruments'],
    ['Engines', '/engines'],
    ['Came back', '/office/comebacks'],
    ['Who changed what', '/office/audit'],
    ['Backup', '/office/backup'],
  ])
})
