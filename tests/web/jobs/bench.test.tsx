import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { JobRow } from '#contract/jobs.ts'
import { MISSING_CODES } from '#core/gates/missing.ts'
import { benchBook, JOB_ID, jobAt, sheet } from '#tests/web/bench-sample.ts'
import { closeAll, openAt, refusal } from '#tests/web/shop-book.tsx'
import { byAct } from '#web/features/jobs/bench-list.tsx'
import { byWay, wayFor } from '#web/features/jobs/bench-ways.ts'

beforeEach(() => localStorage.clear())
afterEach(closeAll)

const JOB = `/api/jobs/${JOB_ID}`
const job = { id: JOB_ID, engineId: sheet.id }

function row(tag: string, over: Partial<JobRow>): JobRow {
  const { engine, waiting, kind, bookedAt, comeback, toldLate } = jobAt('booked')
  const id = `0198f3a0-0000-7000-8000-0000000001${tag.slice(0, 2)}`
  return { id, tag, kind, engine, waiting, bookedAt, comeback, toldLate, state: 'booked', late: false, ...over }
}

function bookOf(rows: JobRow[], next: string | null = null) {
  const book = benchBook('bench')
  book.answer('GET /api/jobs', ({ query }) => ({
    rows: query.get('after') === null ? rows : [row('99-Z', { promisedOn: '2026-12-20' })],
    next: query.get('after') === null ? next : null,
    counts: { house: 3, late: 0, waitingKit: 0, waitingYes: 0, ready: 0 },
    today: '2026-11-24',
  }))
  return book
}

describe('the list of the bench', () => {
  test('by act word, in the order of the oldest promise; the next step is never called done', async () => {
    const rows = [
      row('11-A', { state: 'together', promisedOn: '2026-11-23', late: true, daysLate: 1, holder: 'Marek' }),
      row('12-B', { state: 'booked', promisedOn: '2026-11-25' }),
      row('13-C', { state: 'together', promisedOn: '2026-11-26', place: 'rack A' }),
    ]
    expect(byAct(rows).map((group) => [group.act, group.rows.map((one) => one.tag)])).toEqual([
      ['to true', ['11-A', '13-C']],
      ['to measure', ['12-B']],
    ])
    bookOf(rows)
    openAt('/bench')
    const first = await screen.findByRole('link', { name: /11-A/ })
    expect(first.getAttribute('href')).toBe(`/bench/${rows[0]?.id}`)
    expect(within(first).getByText('1 day late').className).toBe('over')
    expect(within(first).getByText('Marek has it')).toBeTruthy()
    expect(screen.queryByText('true')).toBeNull()
  })

  test('a long list goes on; an empty one says why', async () => {
    const book = bookOf([row('11-A', {})], 'more')
    openAt('/bench')
    fireEvent.click(await screen.findByRole('button', { name: 'Show more' }))
    expect(await screen.findByRole('link', { name: /99-Z/ })).toBeTruthy()
    expect(book.asked.filter((one) => one.path === '/api/jobs').map((one) => one.query.get('list'))).toEqual(['bench', 'bench'])
    closeAll()
    bookOf([])
    openAt('/bench')
    expect(await screen.findByText(/Nothing is for the bench just now/)).toBeTruthy()
  })

  test('a tag opens its crank', async () => {
    const book = bookOf([])
    book.answer('GET /api/find', () => ({ rows: [{ what: 'job', id: JOB_ID, title: '318-V', says: 'Ruskhammar R449-4X' }] }))
    const { router } = openAt('/bench')
    const find = await screen.findByRole('searchbox')
    fireEvent.change(find, { target: { value: '318v' } })
    fireEvent.submit(find)
    await waitFor(() => expect(router.state.location.pathname).toBe(`/bench/${JOB_ID}`))
  })
})

describe('what is missing', () => {
  test('everything that the bench can take has a way; what the counter takes has none', () => {
    const counters = ['quote', 'yes', 'yes-to-the-present-quote', 'yes-by-whom-and-how', 'box-list', 'paid']
    const without = MISSING_CODES.filter((code) => wayFor(code, job) === undefined)
    expect(without).toEqual(counters)
  })

  test('ways', () => {
    expect(wayFor('runout-left-as-received', job)?.to).toBe(`/bench/${JOB_ID}/read/runout`)
    expect(wayFor('runout-left-older-than-last-move', job)?.to).toBe(`/bench/${JOB_ID}/true`)
    expect(wayFor('width-out-of-window', job)?.to).toBe(`/bench/${JOB_ID}/read/width`)
    expect(wayFor('width-window', job)?.to).toBe(`/engines/${sheet.id}`)
    expect(wayFor('fit-right-not-of-the-kit-pin', job)?.to).toBe(`/bench/${JOB_ID}/read/pin`)
    expect(wayFor('oil-hole-masked', job)?.to).toBe(`/bench/${JOB_ID}/press#oil-hole`)
    expect(wayFor('instrument-overdue', job)?.to).toBe('/bench/instruments')
  })

  test('things with the same way stand together', () => {
    const thing = (code: string) => ({ code, detail: code, pass: 'owner' as const })
    const groups = byWay([thing('peak-tonnage-left'), thing('kit-lot'), thing('web-marks')], job)
    expect(groups.map((group) => group.things.map((one) => one.code))).toEqual([['peak-tonnage-left', 'web-marks'], ['kit-lot']])
  })
})

const lacking = [
  { code: 'width-as-received', detail: 'The width as received is not read yet.', pass: 'owner' as const },
  { code: 'big-end-play', detail: 'It came for a knock: big-end play is not read yet.', pass: 'owner' as const },
]

describe('the job at the bench', () => {
  test('what is next, what it needs and where each is taken; our notes; the bench sheet', async () => {
    benchBook('bench', { gate: { missing: lacking } })
    openAt(`/bench/${JOB_ID}`)
    expect(await screen.findByRole('heading', { name: 'Next: to measure' })).toBeTruthy()
    const missing = screen.getByRole('list', { name: 'Still missing' })
    expect(within(missing).getByText('The width as received is not read yet.')).toBeTruthy()
    const way = within(missing).getByRole('link', { name: 'Read the width' })
    expect(way.getAttribute('href')).toBe(`/bench/${JOB_ID}/read/width`)
    expect(way.className).toBe('go')
    expect(within(missing).getByRole('link', { name: 'Read the play' }).className).toBe('quiet')
    expect(screen.getByText('The right web comes loose on this one.')).toBeTruthy()
    expect(screen.getByRole('link', { name: 'Print the bench sheet' }).getAttribute('href')).toBe(`${JOB}/bench-sheet.pdf`)
  })

  test('Measured takes the step; a gate that is shut says what is missing', async () => {
    const book = benchBook('bench')
    book.answer('POST /api/jobs/:id/steps', () => refusal('gate-not-met', { detail: 'Not measured yet: 2 missing.', missing: lacking }))
    openAt(`/bench/${JOB_ID}`)
    fireEvent.click(await screen.findByRole('button', { name: 'Measured' }))
    expect(await screen.findByText('It came for a knock: big-end play is not read yet.')).toBeTruthy()
    expect(book.sent('POST', `${JOB}/steps`)[0]?.body).toMatchObject({ to: 'measured' })
  })

  test('the owner lets things pass, each with a reason; the bench is not asked', async () => {
    const book = benchBook('owner', { gate: { missing: lacking } })
    book.answer('POST /api/jobs/:id/steps', () => jobAt('measured'))
    openAt(`/bench/${JOB_ID}`)
    fireEvent.click(await screen.findByRole('button', { name: 'Let it pass, with a reason' }))
    for (const one of lacking) fireEvent.change(screen.getByLabelText(one.detail), { target: { value: 'rod is broken' } })
    fireEvent.click(screen.getByRole('button', { name: 'Let it pass: to measure' }))
    await waitFor(() => expect(book.sent('POST', `${JOB}/steps`)).toHaveLength(1))
    expect(book.sent('POST', `${JOB}/steps`)[0]?.body).toMatchObject({
      to: 'measured',
      passes: lacking.map((one) => ({ code: one.code, reason: 'rod is broken' })),
    })
    closeAll()
    benchBook('bench', { gate: { missing: lacking } })
    openAt(`/bench/${JOB_ID}`)
    await screen.findByRole('list', { name: 'Still missing' })
    expect(screen.queryByRole('button', { name: 'Let it pass, with a reason' })).toBeNull()
  })

  test('a yes is the counter’s: the bench is told that it waits', async () => {
    benchBook('bench', {
      job: jobAt('measured'),
      gate: { next: 'agreed', act: 'to agree', missing: [{ code: 'yes', detail: 'No yes.', pass: 'owner' }] },
    })
    openAt(`/bench/${JOB_ID}`)
    expect(await screen.findByText(/waits for a yes to the price/)).toBeTruthy()
    expect(screen.queryByRole('button', { name: /agreed/ })).toBeNull()
  })

  test('one press says who has it', async () => {
    const book = benchBook('bench')
    book.answer('POST /api/jobs/:id/place', () => jobAt('booked', { holder: 'Jonas' }))
    openAt(`/bench/${JOB_ID}`)
    fireEvent.click(await screen.findByRole('button', { name: 'I have it' }))
    await waitFor(() => expect(book.sent('POST', `${JOB}/place`)).toHaveLength(1))
  })
})
