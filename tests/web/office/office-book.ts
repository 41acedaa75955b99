import { within } from '@testing-library/react'
import type { ComebackKey } from '#core/office-rules.ts'
import { comebacks, earning, firstCheck, flow, running, today } from '#tests/web/office/sample-office.ts'
import { opened } from '#tests/web/office/sample-opened.ts'
import { type ShopBook, shopBook } from '#tests/web/shop-book.tsx'

/** A book that answers the office with the sample's figures. */
export function officeBook(): ShopBook {
  const book = shopBook('owner')
  book.answer('GET /api/office', () => today)
  book.answer('GET /api/office/flow', () => flow)
  book.answer('GET /api/office/comebacks', ({ query }) => comebacks((query.get('by') ?? 'cause') as ComebackKey))
  book.answer('GET /api/office/running', ({ query }) => running(query.get('lot') ?? undefined))
  book.answer('GET /api/office/first-check', () => firstCheck())
  book.answer('GET /api/office/earning', () => earning)
  return book
}

/** The book of a shop that opened today. */
export function openedToday(): ShopBook {
  const book = shopBook('owner')
  book.answer('GET /api/office', () => opened.today)
  book.answer('GET /api/office/flow', () => opened.flow)
  book.answer('GET /api/office/comebacks', () => opened.comebacks)
  book.answer('GET /api/office/running', () => opened.running)
  book.answer('GET /api/office/first-check', () => opened.firstCheck)
  book.answer('GET /api/office/earning', () => opened.earning)
  return book
}

/** What each cell of a table says. */
export function rowsOf(table: HTMLElement): string[][] {
  return within(table)
    .getAllByRole('row')
    .map((row) => Array.from(row.children, (cell) => cell.textContent ?? ''))
}
