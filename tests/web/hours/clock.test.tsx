import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { benchBook, clockEntry, JOB_ID, jobAt } from '#tests/web/bench-sample.ts'
import { closeAll, openAt, refusal } from '#tests/web/shop-book.tsx'
import { clockHere, clockWords } from '#web/features/hours/clock-words.ts'

beforeEach(() => localStorage.clear())
afterEach(closeAll)

const OTHER = '0198f3a0-0000-7000-8000-0000000000a2'

test('who, on what, for how long', () => {
  const now = Date.parse('2026-11-24T07:47:30Z')
  expect(clockWords('Jonas', clockEntry({ work: 'truing' }), JOB_ID, now)).toBe('Jonas · truing 0:47')
  expect(clockWords('Jonas', clockEntry({ work: 'truing', tag: '319-K' }), OTHER, now)).toBe('Jonas · truing 319-K 0:47')
  expect(clockWords('Jonas', null, JOB_ID, now)).toBe('Jonas')
})

test('how the running clock stands to a screen', () => {
  expect(clockHere(null, JOB_ID, 'truing')).toBe('none')
  expect(clockHere(clockEntry({ work: 'truing' }), JOB_ID, 'truing')).toBe('here')
  expect(clockHere(clockEntry({ work: 'pressing' }), JOB_ID, 'truing')).toBe('other-work')
  expect(clockHere(clockEntry(), OTHER, 'pressing')).toBe('other-crank')
})

test('the bar starts and stops the clock of this crank', async () => {
  const book = benchBook('bench', { job: jobAt('booked') })
  let running: ReturnType<typeof clockEntry> | null = null
  book.answer('GET /api/clock', () => ({ running, unanswered: [] }))
  book.answer('POST /api/clock/start', () => {
    running = clockEntry({ work: 'measuring' })
    return running
  })
  book.answer('POST /api/clock/stop', () => {
    const stopped = clockEntry({ work: 'measuring', stoppedAt: '2026-11-24T08:00:00.000Z', hours: 1 })
    running = null
    return stopped
  })
  openAt(`/bench/${JOB_ID}`)
  fireEvent.click(await screen.findByRole('button', { name: 'Start measuring' }))
  fireEvent.click(await screen.findByRole('button', { name: 'Stop' }))
  expect(await screen.findByRole('button', { name: 'Start measuring' })).toBeTruthy()
  expect(book.sent('POST', '/api/clock/start')[0]?.body).toEqual({ jobId: JOB_ID, work: 'measuring', occurredAt: expect.any(String) })
})

test('what went wrong with the clock is said in the bar', async () => {
  const book = benchBook('bench')
  book.answer('POST /api/clock/start', () => refusal('conflict-state', { detail: 'This crank is gone.' }))
  openAt(`/bench/${JOB_ID}`)
  fireEvent.click(await screen.findByRole('button', { name: 'Start measuring' }))
  expect(await screen.findByText('This crank is gone.')).toBeTruthy()
})

function forgotten() {
  const book = benchBook('bench')
  const entry = clockEntry({
    startedAt: '2026-11-23T15:20:00.000Z',
    stoppedAt: '2026-11-23T18:00:00.000Z',
    stoppedHow: 'closing-time',
    hours: 2.6667,
    version: 4,
  })
  book.answer('GET /api/clock', () => ({ running: null, unanswered: [entry] }))
  book.answer('GET /api/jobs', () => ({
    rows: [],
    next: null,
    counts: { house: 0, late: 0, waitingKit: 0, waitingYes: 0, ready: 0 },
    today: '2026-11-24',
  }))
  book.answer('PATCH /api/hours/:id', () => ({ ...entry, version: 5 }))
  return { book, entry }
}

test('a clock that closing time stopped is asked about, and put right with a reason', async () => {
  const { book, entry } = forgotten()
  openAt('/bench')
  expect(await screen.findByText(/the clock on 318-V was stopped at closing time\. When did you stop\?/)).toBeTruthy()
  fireEvent.click(screen.getByRole('button', { name: 'Put it right' }))
  expect(screen.getAllByText('A time, such as 17:40.').length).toBeGreaterThan(0)
  fireEvent.change(screen.getByLabelText(/I stopped at/), { target: { value: '17.40' } })
  fireEvent.click(screen.getByRole('button', { name: 'Put it right' }))
  await waitFor(() => expect(book.sent('PATCH', `/api/hours/${entry.id}`)).toHaveLength(1))
  const sent = book.sent('PATCH', `/api/hours/${entry.id}`)[0]
  expect(sent?.headers.get('if-match')).toBe('"4"')
  // The shop of this book keeps UTC.
  expect(sent?.body).toEqual({ startedAt: entry.startedAt, stoppedAt: '2026-11-23T17:40:00.000Z', why: 'forgot to stop it' })
})

test('closing time may have been right', async () => {
  const { book, entry } = forgotten()
  openAt('/bench')
  fireEvent.click(await screen.findByRole('button', { name: '18:00 is right' }))
  await waitFor(() => expect(book.sent('PATCH', `/api/hours/${entry.id}`)[0]?.body).toMatchObject({ stoppedAt: entry.stoppedAt }))
})

test('hours of a job: what was put right stands beside what the clock said; own stretches can be corrected', async () => {
  const book = benchBook('bench', { job: jobAt('apart') })
  const mine = clockEntry({ stoppedAt: '2026-11-24T08:30:00.000Z', stoppedHow: 'hand', hours: 1.5 })
  const his = clockEntry({
    id: '0198f3a0-0000-7000-8000-0000000000f2',
    personId: OTHER,
    person: 'Marek',
    work: 'truing',
    startedAt: '2026-11-24T09:00:00.000Z',
    stoppedAt: '2026-11-24T09:40:00.000Z',
    hours: 0.6667,
    corrected: {
      by: 'Ewa',
      at: '2026-11-24T12:00:00Z',
      why: 'tea',
      wasStartedAt: '2026-11-24T09:00:00Z',
      wasStoppedAt: '2026-11-24T10:00:00Z',
    },
  })
  book.answer('GET /api/jobs/:id/hours', () => ({
    entries: [mine, his],
    totalHours: 2.1667,
    byWork: [
      { work: 'pressing', hours: 1.5 },
      { work: 'truing', hours: 0.6667 },
    ],
  }))
  book.answer('PATCH /api/hours/:id', () => mine)
  openAt(`/bench/${JOB_ID}/hours`)
  expect(await screen.findByText('2.17 h')).toBeTruthy()
  expect(screen.getByText(/Put right by Ewa.*tea.*was 09:00 to 10:00/)).toBeTruthy()
  const stretches = screen.getByRole('list', { name: 'Stretches of bench clock' })
  fireEvent.click(within(stretches).getByRole('button', { name: 'Put it right' }))
  fireEvent.change(screen.getByLabelText('Stopped at'), { target: { value: '08:10' } })
  fireEvent.click(within(stretches).getAllByRole('button', { name: 'Put it right' })[1]!)
  expect(screen.getAllByText('Why it is put right, in a few words.').length).toBeGreaterThan(0)
  fireEvent.change(screen.getByLabelText('Why it is put right'), { target: { value: 'left for the counter' } })
  fireEvent.click(within(stretches).getAllByRole('button', { name: 'Put it right' })[1]!)
  await waitFor(() =>
    expect(book.sent('PATCH', `/api/hours/${mine.id}`)[0]?.body).toEqual({
      startedAt: mine.startedAt,
      stoppedAt: '2026-11-24T08:10:00.000Z',
      why: 'left for the counter',
    }),
  )
})
