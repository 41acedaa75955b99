import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { asTheBenchReads, NEW_JOB, REPORT, report, reportRow, since } from '#tests/web/comebacks/sample-comeback.ts'
import { ID, job, sheet } from '#tests/web/jobs/sample-job.ts'
import { closeAll, openAt, refusal, shopBook } from '#tests/web/shop-book.tsx'

beforeEach(() => vi.useFakeTimers({ toFake: ['Date'], now: new Date('2026-11-24T08:05:00Z') }))
afterEach(() => {
  vi.useRealTimers()
  closeAll()
})

const PAGE = { counts: { open: 1, all: 2 }, today: '2026-11-24' }

test('the list is cut by what stands in the address, and goes on where it ended', async () => {
  const book = shopBook('owner')
  book.answer('GET /api/people', () => [
    {
      id: ID.hand,
      signIn: 'jonas',
      name: 'Jonas',
      role: 'bench',
      maySign: false,
      cranksBefore: 0,
      hasPin: false,
      barred: false,
      version: 1,
    },
  ])
  const decided = { ...reportRow, id: ID.crank, cause: 'lubrication', share: 'theirs', found: ['washers-both-blue'], counts: false }
  book.answer('GET /api/comebacks', ({ query }) =>
    query.get('after') === null ? { ...PAGE, rows: [reportRow], next: 'd 2026-11-24 x' } : { ...PAGE, rows: [decided], next: null },
  )
  const { router } = openAt('/office/comebacks')
  const table = await screen.findByRole('table', { name: 'What came back' })
  expect(within(table).getByRole('link', { name: '265-P' }).getAttribute('href')).toBe(`/office/comebacks/${REPORT}`)
  expect(table.textContent).toContain('cause open')
  expect(within(table).getByRole('link', { name: 'Ruskhammar R124-X' }).getAttribute('href')).toBe(`/office/comebacks?engine=${ID.engine}`)
  fireEvent.click(screen.getByRole('button', { name: 'Show more' }))
  await within(table).findByText('both washers blue')
  expect(table.textContent).toContain('oil, fuel or dirt; it is theirs')
  expect(table.textContent).toContain('not counted')

  fireEvent.change(screen.getByLabelText('Cause'), { target: { value: 'kit' } })
  fireEvent.change(screen.getByLabelText('Lot of the kit'), { target: { value: 'S-0936' } })
  fireEvent.change(screen.getByLabelText('Built by'), { target: { value: ID.hand } })
  expect(router.state.location.search).toBe(`?cause=kit&lot=S-0936&person=${ID.hand}`)
  await waitFor(() => expect(book.sent('GET', '/api/comebacks').at(-1)?.query.get('lot')).toBe('S-0936'))
  const asked = Object.fromEntries(book.sent('GET', '/api/comebacks').at(-1)?.query ?? [])
  expect(asked).toEqual({ list: 'all', cause: 'kit', lot: 'S-0936', person: ID.hand })
})

test('an empty list, and one that cannot be fetched, say so', async () => {
  const book = shopBook('counter')
  book.answer('GET /api/comebacks', () => ({ counts: { open: 0, all: 0 }, today: '2026-11-24', rows: [], next: null }))
  openAt('/office/comebacks?list=open')
  await screen.findByText('No report waits for its cause.')
  closeAll()
  shopBook('counter').answer('GET /api/comebacks', () => refusal('forbidden'))
  openAt('/office/comebacks')
  await screen.findByText(/The list could not be fetched/)
})

const due = {
  id: ID.job,
  tag: '275-L',
  kind: 'rebuild',
  engine: 'Mirabant M108-4P',
  goneOn: '2026-07-28',
  daysGone: 119,
  whose: 'Bellandria, R.',
  phone: '0221 4710 127',
  hearBy: 'phone',
}

test('a call that something is wrong keeps its place, and offers the report with what was typed', async () => {
  const book = shopBook('counter')
  let rows = [due]
  book.answer('GET /api/follow-ups/due', () => ({ rows, next: null, due: rows.length, rule: 'Rung once.', today: '2026-11-24' }))
  book.answer('POST /api/jobs/:id/follow-ups', () => {
    rows = []
    return { id: NEW_JOB, day: '2026-11-23', runs: false, hoursHow: 'unknown', by: 'Hana', recordedAt: '2026-11-24T09:00:00Z' }
  })
  book.answer('POST /api/jobs/:id/comeback', () => report)
  openAt('/counter/calls')
  expect((await screen.findByRole('link', { name: '0221 4710 127' })).getAttribute('href')).toBe('tel:02214710127')
  fireEvent.click(screen.getByRole('button', { name: 'They say how it runs: 275-L' }))
  fireEvent.click(screen.getByLabelText('something is wrong'))
  fireEvent.change(screen.getByLabelText('Day'), { target: { value: '2026-11-23' } })
  fireEvent.change(screen.getByLabelText('What they say'), { target: { value: 'rattles' } })
  fireEvent.click(screen.getByRole('button', { name: 'Write it down' }))
  await screen.findByText(/write the report too/)
  expect((screen.getByLabelText('What they say is wrong') as HTMLTextAreaElement).value).toBe('rattles')
  fireEvent.click(screen.getByRole('button', { name: 'Write the report' }))
  await screen.findByText('Nobody is to be rung today.')
  expect(book.sent('POST', `/api/jobs/${ID.job}/comeback`)[0]?.body).toMatchObject({ how: 'told', day: '2026-11-23', says: 'rattles' })
  await screen.findByText('275-L is done with.')
})

test('the counter has the way to both lists, with how many', async () => {
  const book = shopBook('counter')
  book.answer('GET /api/jobs', () => ({
    rows: [],
    next: null,
    counts: { house: 0, late: 0, waitingKit: 0, waitingYes: 0, ready: 0 },
    today: '2026-11-24',
  }))
  book.answer('GET /api/follow-ups/due', () => ({ rows: [], next: null, due: 13, rule: 'Rung once.', today: '2026-11-24' }))
  book.answer('GET /api/comebacks', () => ({ ...PAGE, rows: [], next: null }))
  openAt('/counter')
  const ways = await screen.findByRole('navigation', { name: 'After they went home' })
  expect((await within(ways).findByRole('link', { name: 'To ring 13' })).getAttribute('href')).toBe('/counter/calls')
  expect(within(ways).getByRole('link', { name: 'Came back 1' }).getAttribute('href')).toBe('/office/comebacks')
})

test('at the bench a crank that came back leads to what is found on it', async () => {
  const book = shopBook('bench')
  const back = {
    ...job,
    id: NEW_JOB,
    tag: '324-Z',
    state: 'booked' as const,
    comebackOf: { id: ID.job, tag: '265-P' },
    comebackWhy: 'knocks',
  }
  const { customer: _c, quotes: _q, payments: _p, owes: _o, deposit: _d, ...seen } = back
  book.answer('GET /api/jobs/:id', () => seen)
  book.answer('GET /api/jobs/:id/gate', () => ({ next: 'measured', act: 'to measure', missing: [] }))
  book.answer('GET /api/jobs/:id/events', () => ({ rows: [], next: null }))
  book.answer('GET /api/jobs/:id/photos', () => [])
  book.answer('GET /api/jobs/:id/since-home', () => ({
    calls: [],
    callDue: false,
    today: since.today,
    hereFor: asTheBenchReads(reportRow),
  }))
  book.answer('GET /api/comebacks/:id', () => ({ ...asTheBenchReads(report), newJob: { id: NEW_JOB, tag: '324-Z', state: 'booked' } }))
  book.answer('GET /api/engines/:id', () => sheet)
  book.answer('GET /api/instruments', () => [])
  book.answer('GET /api/clock', () => ({ running: null }))
  openAt(`/bench/${NEW_JOB}`)
  fireEvent.click(await screen.findByRole('link', { name: 'What you find on it' }))
  await screen.findByRole('heading', { name: /It was here as 265-P and came back/ })
  fireEvent.click(screen.getByRole('button', { name: 'Write down what you find' }))
  expect(within(screen.getByRole('form', { name: 'What you find' })).getByRole('note').textContent).toContain(
    'An unwashed crank brings fuel',
  )
  expect(screen.getByRole('region', { name: 'Our sheet then' }).textContent).toContain('0.34')
})
