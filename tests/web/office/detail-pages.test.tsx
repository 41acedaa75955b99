import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { comebacks, earning, firstCheck, flow, LOT, MAREK, running } from '#tests/web/office/sample-office.ts'
import { opened } from '#tests/web/office/sample-opened.ts'
import { type Asked, closeAll, openAt, shopBook } from '#tests/web/shop-book.tsx'

beforeEach(() => vi.useFakeTimers({ toFake: ['Date'], now: new Date('2026-11-24T08:05:00Z') }))
afterEach(() => {
  closeAll()
  vi.useRealTimers()
})

function asks(all: readonly Asked[]): string[] {
  return all.map((asked) => asked.query.toString())
}

function chosen(group: string): string | undefined {
  const radios = within(screen.getByRole('radiogroup', { name: group })).getAllByRole('radio') as HTMLInputElement[]
  return radios.find((radio) => radio.checked)?.parentElement?.textContent ?? undefined
}

describe('what came back', () => {
  function open(address: string) {
    const book = shopBook('owner')
    book.answer('GET /api/office/comebacks', ({ query }) => comebacks((query.get('by') ?? 'cause') as 'lot'))
    book.answer('GET /api/office/running', ({ query }) => running(query.get('lot') ?? undefined))
    return { book, ...openAt(address) }
  }

  test('months, days and what it is by live in the address, and the way back is exact', async () => {
    const { book, router } = open('/office/came-back')
    await screen.findByRole('row', { name: /^All 288 9/ })
    fireEvent.click(screen.getByRole('radio', { name: '3 months' }))
    await waitFor(() => expect(chosen('How far back')).toBe('3 months'))
    expect(router.state.location.search).toBe('?months=3')
    fireEvent.click(screen.getByRole('radio', { name: 'persons' }))
    await waitFor(() => expect(chosen('By')).toBe('persons'))
    expect(router.state.location.search).toBe('?months=3&by=person')
    fireEvent.click(screen.getByRole('radio', { name: 'from a day to a day' }))
    fireEvent.change(await screen.findByLabelText('First day'), { target: { value: '2026-01-01' } })
    fireEvent.change(screen.getByLabelText('Last day'), { target: { value: '2026-03-31' } })
    expect(router.state.location.search).toBe('?from=2025-11-24&to=2026-11-29&by=person')
    fireEvent.click(screen.getByRole('button', { name: 'Show these days' }))
    await waitFor(() => expect(router.state.location.search).toBe('?from=2026-01-01&to=2026-03-31&by=person'))
    await waitFor(() =>
      expect(asks(book.sent('GET', '/api/office/comebacks'))).toEqual([
        'by=lot',
        'from=2026-08-24&by=lot',
        'from=2026-08-24&by=person',
        'from=2025-11-24&to=2026-11-29&by=person',
        'from=2026-01-01&to=2026-03-31&by=person',
      ]),
    )
    await router.navigate(-2)
    await waitFor(() => expect([chosen('How far back'), chosen('By')]).toEqual(['3 months', 'persons']))
    await router.navigate(-1)
    await waitFor(() => expect(chosen('By')).toBe('lots'))
  })

  test('an address opened afresh shows the same', async () => {
    const { book } = open(`/office/came-back?months=24&by=cause&lot=${LOT}`)
    expect(await screen.findByRole('row', { name: /^the kit 288 4/ })).toBeTruthy()
    expect(chosen('How far back')).toBe('24 months')
    expect(chosen('By')).toBe('causes')
    expect(asks(book.sent('GET', '/api/office/comebacks'))).toEqual(['from=2024-11-24&by=cause'])
    expect(asks(book.sent('GET', '/api/office/running'))).toEqual([`lot=${LOT}`])
    expect(await screen.findByText(/^Stellmarch lot S-0936 against all other kits/)).toBeTruthy()
  })

  test('days the wrong way round ask nothing of the book', async () => {
    const { book } = open('/office/came-back?from=2026-01-01&to=2026-03-31')
    await screen.findByRole('row', { name: /^All 288 9/ })
    fireEvent.change(screen.getByLabelText('Last day'), { target: { value: '2025-12-31' } })
    fireEvent.click(screen.getByRole('button', { name: 'Show these days' }))
    expect(await screen.findByText(/The last day is before the first/)).toBeTruthy()
    expect(asks(book.sent('GET', '/api/office/comebacks'))).toHaveLength(1)
  })

  test('the line of one lot is a click away, and all kits in one line another', async () => {
    const { router } = open('/office/came-back')
    fireEvent.click(await screen.findByRole('button', { name: /^its line ?, Stellmarch lot S-0936$/ }))
    expect(await screen.findByRole('img', { name: /lot S-0936 46\.4 at 63 h/ })).toBeTruthy()
    expect(router.state.location.search).toBe(`?lot=${LOT}`)
    fireEvent.click(screen.getByRole('button', { name: 'All kits in one line' }))
    expect(await screen.findByRole('img', { name: /all kits 96\.5 at 93 h/ })).toBeTruthy()
  })

  test('many lots are shown a dozen at a time', async () => {
    const { book } = open('/office/came-back')
    const lots = Array.from({ length: 30 }, (_nothing, place) => ({
      ...comebacks().rows[1]!,
      key: `${LOT.slice(0, -2)}${place + 10}`,
      name: `lot ${place}`,
    }))
    book.answer('GET /api/office/comebacks', () => comebacks('lot', { rows: lots, left: 4 }))
    await screen.findByText('showing 12 of 34')
    const rows = () => within(screen.getByRole('table', { name: 'What came back, by lot' })).getAllByRole('row').length - 2
    expect(rows()).toBe(12)
    fireEvent.click(screen.getByRole('button', { name: 'Show more' }))
    fireEvent.click(screen.getByRole('button', { name: 'Show more' }))
    expect(screen.getByText('showing 30 of 34')).toBeTruthy()
    expect(rows()).toBe(30)
    expect(screen.queryByRole('button', { name: 'Show more' })).toBeNull()
  })

  test('a window in which none went home says so, other than a book in which none ever did', async () => {
    const { book } = open('/office/came-back?months=3')
    book.answer('GET /api/office/comebacks', () => opened.comebacks)
    expect(await screen.findByText('No crank went home in these days.')).toBeTruthy()
  })
})

describe('in and out', () => {
  test('weeks and kind go to the book and stand in the address', async () => {
    const book = shopBook('owner')
    book.answer('GET /api/office/flow', () => flow)
    const { router } = openAt('/office/flow')
    await screen.findByRole('img', { name: /12 weeks/ })
    fireEvent.click(screen.getByRole('radio', { name: '52 weeks' }))
    await waitFor(() => expect(chosen('How far back')).toBe('52 weeks'))
    fireEvent.click(screen.getByRole('radio', { name: 'true only' }))
    await waitFor(() => expect(router.state.location.search).toBe('?weeks=52&kind=true-only'))
    await waitFor(() => expect(asks(book.sent('GET', '/api/office/flow'))).toEqual(['weeks=12', 'weeks=52', 'weeks=52&kind=true-only']))
  })

  test('days in the house by kind of job', async () => {
    const book = shopBook('owner')
    book.answer('GET /api/office/flow', () => flow)
    openAt('/office/flow')
    const table = await screen.findByRole('table', { name: 'Days in the house' })
    expect(
      within(table)
        .getAllByRole('row')
        .slice(1)
        .map((row) => Array.from(row.children, (cell) => cell.textContent)),
    ).toEqual([
      ['All', '84', '9', '16', '9.8'],
      ['rebuild', '80', '9.5', '16.2', '10.1'],
      ['check and report', '4', '2', '3', '2.3'],
    ])
  })
})

describe('true at first check', () => {
  test('a person narrows it, and all come back', async () => {
    const book = shopBook('owner')
    book.answer('GET /api/office/first-check', ({ query }) =>
      query.get('person') === null ? firstCheck() : firstCheck({ person: MAREK, byPerson: firstCheck().byPerson.slice(0, 1) }),
    )
    const { router } = openAt('/office/first-check?months=6')
    fireEvent.click(await screen.findByRole('button', { name: 'only Marek' }))
    expect(await screen.findByText(/^Only cranks that Marek called true\./)).toBeTruthy()
    expect(router.state.location.search).toBe(`?months=6&person=${MAREK}`)
    expect(asks(book.sent('GET', '/api/office/first-check'))).toEqual(['from=2026-05-24', `from=2026-05-24&person=${MAREK}`])
    fireEvent.click(screen.getByRole('button', { name: 'All persons and engines' }))
    await waitFor(() => expect(router.state.location.search).toBe('?months=6'))
  })
})

test('what earns: its window goes to the book', async () => {
  const book = shopBook('owner')
  book.answer('GET /api/office/earning', () => earning)
  openAt('/office/earns?months=24')
  expect(await screen.findByRole('row', { name: /^Velk F124 22 3\.8 290\.00 76\.32/ })).toBeTruthy()
  expect(asks(book.sent('GET', '/api/office/earning'))).toEqual(['from=2024-11-24'])
})
