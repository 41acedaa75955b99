import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, describe, expect, test } from 'vitest'
import type { Proof, Proofs } from '#contract/proofs.ts'
import { closeAll, openAt, refusal, shopBook } from '#tests/web/shop-book.tsx'
import { lasted, size, warning } from '#web/features/proofs/words.ts'

afterEach(closeAll)

const held: Proof = {
  id: '0198f3a0-0000-7000-8000-0000000000b1',
  kind: 'drill',
  startedAt: '2026-11-24T01:10:00Z',
  endedAt: '2026-11-24T01:10:04Z',
  held: true,
  says: 'Put back into a scratch database: 1204 rows of 46 tables, 12 files and the audit chain up to row 533 are all there.',
  file: 'throwbook-book-2026-11-24T0110Z-night.tbk',
  bytes: 3_140_000,
  rows: 1204,
  auditSeq: 533,
}
const written: Proof = {
  ...held,
  id: '0198f3a0-0000-7000-8000-0000000000b2',
  kind: 'backup',
  held: false,
  says: '1 of the files that the book names are not on the disk.',
}

function open(all: Partial<Proofs>, address = '/office/backup') {
  const book = shopBook('owner')
  const answer: Proofs = { lastHeld: held, overdue: false, underWay: null, nightAt: '02:10', rows: [held, written], ...all }
  book.answer('GET /api/proofs', () => answer)
  openAt(address)
  return { book, answer }
}

describe('words', () => {
  test('sizes in powers of ten, times in seconds or minutes', () => {
    expect(size(0)).toBe('0 kB')
    expect(size(312_400)).toBe('312 kB')
    expect(size(3_140_000)).toBe('3.1 MB')
    expect(size(12_340_000_000)).toBe('12.3 GB')
    expect(lasted(held)).toBe('4 s')
    expect(lasted({ ...held, endedAt: '2026-11-24T01:22:00Z' })).toBe('12 min')
  })

  test('nothing is said while the backups hold; else since when they do not', () => {
    const all: Proofs = { lastHeld: held, overdue: false, underWay: null, nightAt: '02:10', rows: [] }
    const now = Date.parse('2026-11-27T09:00:00Z')
    expect(warning(all, 'UTC', now)).toBeUndefined()
    expect(warning({ ...all, overdue: true }, 'UTC', now)).toBe('No backup has held for 3 days: the last was Tue 24 Nov, 01:10')
    expect(warning({ ...all, overdue: true, lastHeld: null }, 'UTC', now)).toContain('ever put back for trial')
  })
})

describe('the backups in the office', () => {
  test('say when one last held, and what did not, with the mark', async () => {
    open({})
    expect((await screen.findByText(/Last held/)).textContent).toMatch(/3\.1 MB, 1204 rows, audit chain up to row 533/)
    const rows = within(screen.getByRole('table', { name: /Backups and drills/ })).getAllByRole('row')
    expect(rows).toHaveLength(3)
    expect(within(rows[1]!).getByText('held')).toBeTruthy()
    expect(within(rows[2]!).getByText('not whole').className).toBe('over')
    expect(screen.queryByText(/no backup/i)).toBeNull()
    closeAll()
    open({ rows: [{ ...held, held: false, says: 'job holds other rows' }] })
    expect((await screen.findByText('did not hold')).className).toBe('over')
  })

  // B6: older than 48 h, or never, is a warning.
  test('warn when none ever held', async () => {
    open({ lastHeld: null, overdue: true, rows: [] })
    expect((await screen.findByText(/No backup of this book was ever put back/)).className).toBe('over')
    expect(screen.getByText(/No backup was written yet/)).toBeTruthy()
  })

  test('are proved at a press: the button waits while a drill is under way', async () => {
    const { book, answer } = open({ rows: [] })
    const asked: Proof = { id: '0198f3a0-0000-7000-8000-0000000000b3', kind: 'drill', startedAt: '2026-11-24T09:00:00Z' }
    book.answer('POST /api/proofs', () => {
      Object.assign(answer, { underWay: asked, rows: [asked] })
      return asked
    })
    fireEvent.click(await screen.findByRole('button', { name: 'Prove it now' }))
    expect(await screen.findByText(/A drill is under way/)).toBeTruthy()
    expect(screen.getByText('not ended')).toBeTruthy()
    fireEvent.click(screen.getByRole('button', { name: 'Prove it now' }))
    Object.assign(answer, { underWay: null, lastHeld: { ...held, id: asked.id }, rows: [{ ...held, id: asked.id }] })
    await waitFor(() => expect(screen.queryByText(/A drill is under way/)).toBeNull(), { timeout: 4000 })
    expect(book.sent('POST', '/api/proofs')).toHaveLength(1)
  })

  test('say why no drill was begun', async () => {
    const { book } = open({})
    book.answer('POST /api/proofs', () => refusal('overloaded', { detail: 'No background work runs on this book.' }))
    fireEvent.click(await screen.findByRole('button', { name: 'Prove it now' }))
    expect(await screen.findByText(/No background work runs on this book/)).toBeTruthy()
  })

  test('are not shown to anybody but the owner', async () => {
    shopBook('counter')
    openAt('/office/backup')
    expect(await screen.findByRole('heading', { name: 'Not your page' })).toBeTruthy()
  })
})
