import { fireEvent, screen, within } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { cranksPage, listed } from '#tests/web/office/sample-cranks.ts'
import { LOT, MAREK } from '#tests/web/office/sample-office.ts'
import { closeAll, openAt, refusal, shopBook } from '#tests/web/shop-book.tsx'

beforeEach(() => vi.useFakeTimers({ toFake: ['Date'], now: new Date('2026-11-24T08:05:00Z') }))
afterEach(() => {
  closeAll()
  vi.useRealTimers()
})

function asks(all: readonly { query: URLSearchParams }[]): string[] {
  return all.map((asked) => asked.query.toString())
}

describe('the cranks behind a figure', () => {
  const MANY = Array.from({ length: 63 }, (_nothing, place) =>
    listed(240 + place, place === 0 ? { outOn: '2026-10-20', days: 15, backOn: '2026-11-20', backHours: 41, cause: 'kit' } : {}),
  )

  test('the filters of the address go to the book, and a long list is shown fifty at a time', async () => {
    const book = shopBook('owner')
    book.answer('GET /api/office/cranks', ({ query }) =>
      query.get('after') === null ? cranksPage(MANY.slice(0, 50), { n: 63, next: '50' }) : cranksPage(MANY.slice(50), { n: 63 }),
    )
    openAt(`/office/cranks?figure=comebacks&lot=${LOT}&back=yes&from=2025-11-24`)
    expect(await screen.findByRole('heading', { level: 1, name: 'Went home and came back: 63' })).toBeTruthy()
    const table = screen.getByRole('table', { name: 'Went home and came back' })
    expect(within(table).getAllByRole('row')).toHaveLength(51)
    expect(screen.getByText('showing 50 of 63')).toBeTruthy()
    fireEvent.click(screen.getByRole('button', { name: 'Show more' }))
    expect(await screen.findByText('showing 63 of 63')).toBeTruthy()
    expect(within(table).getAllByRole('row')).toHaveLength(64)
    const filters = `figure=comebacks&from=2025-11-24&lot=${LOT}&back=yes`
    expect(asks(book.sent('GET', '/api/office/cranks'))).toEqual([`${filters}&limit=50`, `${filters}&after=50&limit=50`])
  })

  test('a row tells what the book knows of its crank, and heads that no row speaks to are left out', async () => {
    const book = shopBook('owner')
    book.answer('GET /api/office/cranks', () => cranksPage(MANY.slice(0, 2)))
    openAt('/office/cranks?figure=comebacks')
    const table = within(await screen.findByRole('table'))
    expect(table.getAllByRole('columnheader').map((head) => head.textContent)).toEqual([
      'tag',
      'whose, what',
      'stands',
      'booked, promised',
      'since then',
    ])
    const told = within(table.getByRole('row', { name: /240-B/ }))
    expect(told.getAllByRole('listitem').map((line) => line.textContent)).toEqual([
      'gone',
      'Tue 20 Oct, after 15 days',
      'booked Mon 5 Oct',
      'came back Fri 20 Nov at 41 h, the kit',
    ])
    expect(table.getByRole('link', { name: '240-B' }).getAttribute('href')).toBe(`/jobs/${MANY[0]?.id}`)
    expect(screen.getByText(/^Rule of comebacks\./)).toBeTruthy()
    const csv = screen.getAllByRole('link', { name: /^CSV/ }).map((link) => [link.getAttribute('href'), link.hasAttribute('download')])
    expect(csv).toEqual([
      ['/api/office/cranks.csv?figure=comebacks', true],
      ['/api/office/cranks.csv?figure=comebacks&separator=semicolon', true],
    ])
  })

  test('what is over a limit carries the mark, and the money is the shop’s', async () => {
    const book = shopBook('owner')
    const row = listed(300, {
      checkedOn: '2026-10-19',
      firstCheck: 'over',
      truedBy: 'Jonas',
      benchHours: 2.45,
      priceMinor: 41_200,
      owesMinor: 1_200,
    })
    book.answer('GET /api/office/cranks', () => cranksPage([row]))
    openAt(`/office/cranks?figure=first-check&person=${MAREK}&back=no`)
    expect((await screen.findByText('first check over our limit')).className).toBe('over')
    const told = within(screen.getByRole('row', { name: /300-B/ })).getAllByRole('listitem')
    expect(told.map((line) => line.textContent).slice(-5)).toEqual([
      'called true by Jonas',
      'first check over our limit, Mon 19 Oct',
      '2.4 h at the bench',
      'price 412.00',
      '12.00 to pay',
    ])
    expect(screen.getByText('Mon 24 Nov 2025 to Sun 29 Nov · called true by Jonas · not back')).toBeTruthy()
  })

  test('none, refused, and no figure named', async () => {
    const book = shopBook('owner')
    book.answer('GET /api/office/cranks', () => cranksPage([], { title: 'Late' }))
    const first = openAt('/office/cranks?figure=late')
    expect(await screen.findByText('No crank is counted here.')).toBeTruthy()
    await first.router.navigate('/office/cranks?figure=made-up')
    expect((await screen.findByText(/names no figure/)).textContent).toMatch(/The office/)
    book.answer('GET /api/office/cranks', () => refusal('validation', { detail: 'This list knows no lot.' }))
    await first.router.navigate(`/office/cranks?figure=house&lot=${LOT}`)
    expect((await screen.findByRole('alert')).textContent).toMatch(/The cranks could not be fetched\. This list knows no lot\./)
    expect(screen.getByRole('button', { name: 'Try again' })).toBeTruthy()
  })

  test('another person’s page for the counter', async () => {
    const book = shopBook('counter')
    openAt('/office/cranks?figure=late')
    expect(await screen.findByRole('heading', { name: 'Not your page' })).toBeTruthy()
    expect(book.asked.filter((asked) => asked.path.startsWith('/api/office'))).toEqual([])
  })
})
