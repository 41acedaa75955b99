import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, describe, expect, test } from 'vitest'
import type { MadeWith } from '#contract/instrument-checks.ts'
import type { Instrument } from '#contract/instruments.ts'
import { mike } from '#tests/web/bench-sample.ts'
import { closeAll, openAt, shopBook } from '#tests/web/shop-book.tsx'
import { foundWords, isDueSoon } from '#web/features/instruments/words.ts'
import { readWorth, worthOf } from '#web/features/instruments/worth.ts'

afterEach(closeAll)

const FAULT = '0198f3a0-0000-7000-8000-0000000000fa'
const EARLIER = '0198f3a0-0000-7000-8000-0000000000fb'
const doubted: Instrument = { ...mike, doubt: { fault: FAULT, kind: 'dropped', since: '2026-11-24T08:00:00.000Z' } }
const made: MadeWith = {
  since: '2026-10-14T00:00:00.000Z',
  until: null,
  n: 1,
  next: null,
  rows: [
    {
      id: '0198f3a0-0000-7000-8000-0000000000c1',
      number: '0042',
      jobId: '0198f3a0-0000-7000-8000-0000000000e1',
      tag: '318-V',
      issuedOn: '2026-11-20',
      verdict: 'within',
      marginMm: 0.0035,
      stands: true,
    },
  ],
}

function at(address: string, one: Instrument) {
  const book = shopBook('bench')
  book.answer('GET /api/clock', () => ({ running: null, unanswered: [] }))
  book.answer('GET /api/instruments', () => [one])
  book.answer('GET /api/instruments/:id', () => ({
    instrument: one,
    checks: [
      { id: FAULT, kind: 'dropped', note: 'off the bench', by: 'Jonas', occurredAt: '2026-11-24T08:00:00.000Z' },
      { id: EARLIER, kind: 'zero', held: false, offMm: -0.004, by: 'Marek', occurredAt: '2026-10-01T08:00:00.000Z' },
    ],
  }))
  book.answer('GET /api/instruments/:id/certificates', () => made)
  openAt(address)
  return book
}

describe('the zeroes of the day', () => {
  test('are taken with one tap', async () => {
    const book = at('/bench/instruments', mike)
    book.answer('POST /api/instruments/:id/checks', () => mike)
    const list = within(await screen.findByRole('list', { name: 'Zeroed today' }))
    expect(list.getByText('not yet today')).toBeTruthy()
    fireEvent.click(list.getByRole('button', { name: 'Zero holds: mike 2' }))
    await waitFor(() => expect(book.sent('POST', `/api/instruments/${mike.id}/checks`)[0]?.body).toEqual({ kind: 'zero', held: true }))
  })

  test('count those that hold today by the day of the shop', async () => {
    at('/bench/instruments', { ...mike, zeroedAt: new Date().toISOString() })
    expect(await screen.findByText('1 of 1')).toBeTruthy()
    expect(screen.getByText(/^holds,/)).toBeTruthy()
  })

  test('are counted on the start page of the bench, on the way to the list', async () => {
    const book = shopBook('bench')
    book.answer('GET /api/clock', () => ({ running: null, unanswered: [] }))
    book.answer('GET /api/instruments', () => [
      { ...mike, zeroedAt: new Date().toISOString() },
      { ...mike, id: FAULT, name: 'mike 3' },
    ])
    book.answer('GET /api/jobs', () => ({
      rows: [],
      next: null,
      counts: { house: 0, late: 0, waitingKit: 0, waitingYes: 0, ready: 0 },
      today: '2026-11-24',
    }))
    openAt('/bench')
    expect((await screen.findByRole('link', { name: '1 of 2 zeroed today' })).getAttribute('href')).toBe('/bench/instruments')
  })

  test('one that is off goes in doubt, with its figure', async () => {
    const book = at('/bench/instruments', mike)
    book.answer('POST /api/instruments/:id/checks', () => doubted)
    fireEvent.click(await screen.findByRole('button', { name: 'It is off: mike 2' }))
    fireEvent.change(screen.getByLabelText(/It reads more by/), { target: { value: '-0.004' } })
    fireEvent.click(screen.getByRole('button', { name: 'Put it in doubt' }))
    await waitFor(() =>
      expect(book.sent('POST', `/api/instruments/${mike.id}/checks`)[0]?.body).toEqual({ kind: 'zero', held: false, offMm: -0.004 }),
    )
  })
})

describe('the page of an instrument', () => {
  test('says why it is in doubt, and lists the certificates that rest on it', async () => {
    const book = at(`/bench/instruments/${mike.id}`, doubted)
    expect((await screen.findByText(/in doubt: it was dropped/)).className).toBe('over')
    const table = within(await screen.findByRole('table', { name: 'Certificates made with it' }))
    expect(table.getByRole('link', { name: '318-V' }).getAttribute('href')).toBe('/bench/0198f3a0-0000-7000-8000-0000000000e1')
    expect(table.getByText('0.0035')).toBeTruthy()
    expect(screen.getByRole('link', { name: /CSV/ }).getAttribute('href')).toBe(`/api/instruments/${mike.id}/certificates.csv`)
    const found = within(screen.getByRole('table', { name: 'What was found of it' }))
    expect(found.getByText('zeroed, did not hold, read 0.004 mm low').className).toBe('over')
    fireEvent.click(found.getAllByRole('button', { name: 'show below' })[1]!)
    await waitFor(() => expect(book.asked.some((one) => one.query.get('fault') === EARLIER)).toBe(true))
  })

  test('takes a fall with its why, and a check that found it good', async () => {
    const book = at(`/bench/instruments/${mike.id}`, mike)
    book.answer('POST /api/instruments/:id/checks', () => doubted)
    const sent = () => book.sent('POST', `/api/instruments/${mike.id}/checks`).map((one) => one.body)
    fireEvent.click(await screen.findByRole('button', { name: 'It fell' }))
    fireEvent.change(screen.getByLabelText('How it fell'), { target: { value: 'off the bench' } })
    fireEvent.click(screen.getByRole('button', { name: 'It was dropped' }))
    await waitFor(() => expect(sent()).toEqual([{ kind: 'dropped', note: 'off the bench' }]))
    fireEvent.click(screen.getByRole('button', { name: 'Check it' }))
    fireEvent.click(screen.getByRole('button', { name: 'It was checked' }))
    expect((await screen.findAllByText('Say whether it read right.')).length).toBeGreaterThan(0)
    fireEvent.click(screen.getByLabelText('It reads right'))
    fireEvent.change(screen.getByLabelText('Next check due'), { target: { value: '2027-03-24' } })
    fireEvent.click(screen.getByRole('button', { name: 'It was checked' }))
    await waitFor(() => expect(sent()[1]).toEqual({ kind: 'check', held: true, dueOn: '2027-03-24' }))
  })
})

test('words of what was found', () => {
  expect(foundWords({ kind: 'dropped' })).toBe('dropped')
  expect(foundWords({ kind: 'zero', held: true, offMm: 0 })).toBe('zeroed, held')
  expect(foundWords({ kind: 'check', held: false, offMm: 0.01 })).toBe('checked, did not hold, read 0.01 mm high')
})

test('a check is due soon in its last week, not when it is overdue', () => {
  const due = (dueOn: string, overdue = false) => isDueSoon({ dueOn, overdue, ended: false }, '2026-11-24')
  expect([due('2026-12-01'), due('2026-12-02'), due('2026-11-23', true)]).toEqual([true, false, false])
})

test('what a dial is worth is changed figure by figure', () => {
  const dial: Instrument = { ...mike, kind: 'dial', errorMm: 0.005, retraceMm: 0.003 }
  const typed = worthOf(dial)
  expect(typed).toEqual({ errorMm: '0.005', retraceMm: '0.003', repeatMm: '' })
  expect(readWorth(dial, typed)).toEqual({ change: {}, faults: {} })
  expect(readWorth(dial, { errorMm: '0,008', retraceMm: '', repeatMm: 'two' })).toEqual({
    change: { errorMm: 0.008, retraceMm: null },
    faults: { repeatMm: expect.any(String) },
  })
  expect(readWorth(dial, { ...typed, repeatMm: '2' }).faults).toEqual({ repeatMm: 'From 0 to 1 mm.' })
})
