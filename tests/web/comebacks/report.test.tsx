import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { SinceHome } from '#contract/comebacks.ts'
import type { Role } from '#contract/people.ts'
import { NEW_JOB, report, reportRow, since } from '#tests/web/comebacks/sample-comeback.ts'
import { asReceived, asTheBenchSees, ID, job, sheet } from '#tests/web/jobs/sample-job.ts'
import { closeAll, openAt, refusal, type ShopBook, shopBook } from '#tests/web/shop-book.tsx'

beforeEach(() => vi.useFakeTimers({ toFake: ['Date'], now: new Date('2026-11-24T08:05:00Z') }))
afterEach(() => {
  vi.useRealTimers()
  closeAll()
})

const gone = {
  ...job,
  state: 'gone' as const,
  waiting: [],
  steps: [...job.steps, { step: 'gone' as const, at: '2026-06-03T10:00:00Z', by: 'Hana' }],
}

function goneBook(role: Role, heard: SinceHome = since): ShopBook {
  const book = shopBook(role)
  book.answer('GET /api/jobs/:id', () => (role === 'bench' ? asTheBenchSees(gone) : gone))
  book.answer('GET /api/jobs/:id/since-home', () => heard)
  book.answer('GET /api/jobs/:id/measurements', () => asReceived())
  book.answer('GET /api/jobs/:id/photos', () => [])
  book.answer('GET /api/jobs/:id/certificate', () => ({ mayIssue: false, missing: [], issued: [] }))
  book.answer('GET /api/engines/:id', () => sheet)
  book.answer('GET /api/jobs/:id/events', () => ({ rows: [], next: null }))
  return book
}

async function sinceHome() {
  openAt(`/jobs/${ID.job}`)
  return screen.findByRole('region', { name: 'Since it went home' })
}

test('“It came back” asks only what is said, and sends it once', async () => {
  const book = goneBook('counter')
  book.answer('POST /api/jobs/:id/comeback', () => report)
  const region = await sinceHome()
  expect(region.textContent).toContain('174 days ago')
  fireEvent.click(within(region).getByRole('button', { name: 'It came back' }))
  const form = within(region).getByRole('form', { name: 'It came back' })
  expect(form.textContent).toContain('never at the counter')
  for (const cause of ['Cause', 'Whose it is']) expect(within(form).queryByRole('radiogroup', { name: cause })).toBeNull()

  fireEvent.click(within(form).getByRole('button', { name: 'Write the report' }))
  expect(within(form).getByRole('alert').textContent).toContain('What do they say is wrong?')
  expect(book.sent('POST', `/api/jobs/${ID.job}/comeback`)).toHaveLength(0)

  fireEvent.change(within(form).getByLabelText('Hours since it went home, h'), { target: { value: '41 h' } })
  fireEvent.click(within(form).getByLabelText('off a meter'))
  fireEvent.change(within(form).getByLabelText('What they say is wrong'), { target: { value: ' knocks when warm ' } })
  fireEvent.change(within(form).getByLabelText('What you think of it'), { target: { value: 'thin premix' } })
  fireEvent.click(within(form).getByRole('button', { name: 'Write the report' }))
  await waitFor(() => expect(book.sent('POST', `/api/jobs/${ID.job}/comeback`)).toHaveLength(1))
  expect(book.sent('POST', `/api/jobs/${ID.job}/comeback`)[0]?.body).toEqual({
    id: expect.any(String),
    how: 'told',
    day: '2026-11-24',
    hours: 41,
    hoursHow: 'metered',
    says: 'knocks when warm',
    thought: 'thin premix',
  })
})

test('a crank that lies here is booked in instead; what comes unwashed comes with its caution', async () => {
  goneBook('counter')
  const region = await sinceHome()
  fireEvent.click(within(region).getByRole('button', { name: 'It came back' }))
  fireEvent.click(within(region).getByLabelText('it is here again'))
  expect(within(region).getByRole('link', { name: 'Book it in' }).getAttribute('href')).toBe('/counter/book-in')
  const caution = within(region).getByRole('note').textContent
  expect(caution).toContain('no flame or spark')
  expect(caution).toContain('Local rules')
})

test('what the book refuses stands beside its field, and nothing typed is lost', async () => {
  const book = goneBook('counter')
  book.answer('POST /api/jobs/:id/comeback', () =>
    refusal('validation', { errors: [{ pointer: '/day', code: 'ahead', detail: 'This day is still to come.' }] }),
  )
  const region = await sinceHome()
  fireEvent.click(within(region).getByRole('button', { name: 'It came back' }))
  fireEvent.change(within(region).getByLabelText('What they say is wrong'), { target: { value: 'rattles' } })
  fireEvent.click(within(region).getByRole('button', { name: 'Write the report' }))
  expect((await within(region).findAllByText('This day is still to come.')).length).toBeGreaterThan(0)
  expect((within(region).getByLabelText('What they say is wrong') as HTMLTextAreaElement).value).toBe('rattles')
})

test('a call that it runs is one act', async () => {
  const book = goneBook('counter', { ...since, callDue: true })
  book.answer('POST /api/jobs/:id/follow-ups', () => ({
    id: NEW_JOB,
    day: '2026-11-24',
    runs: true,
    hoursHow: 'unknown',
    by: 'Hana',
    recordedAt: '2026-11-24T09:00:00Z',
  }))
  const region = await sinceHome()
  expect(region.textContent).toContain('It is to be rung now.')
  fireEvent.click(within(region).getByRole('button', { name: 'They say how it runs' }))
  fireEvent.click(within(region).getByRole('button', { name: 'Write it down' }))
  expect((await within(region).findAllByText('Does it run well?')).length).toBeGreaterThan(0)
  fireEvent.click(within(region).getByLabelText('it runs well'))
  fireEvent.click(within(region).getByRole('button', { name: 'Write it down' }))
  await waitFor(() => expect(book.sent('POST', `/api/jobs/${ID.job}/follow-ups`)).toHaveLength(1))
  expect(book.sent('POST', `/api/jobs/${ID.job}/follow-ups`)[0]?.body).toEqual({
    id: expect.any(String),
    day: '2026-11-24',
    runs: true,
    hoursHow: 'unknown',
  })
  await waitFor(() => expect(within(region).queryByRole('form', { name: 'They say how it runs' })).toBeNull())
})

test('where a report stands there is no second one; the bench reads it and has no acts', async () => {
  goneBook('bench', { ...since, report: { ...reportRow, found: ['cage-broken'], cause: 'kit', share: 'part' } })
  const region = await sinceHome()
  expect(region.textContent).toContain('Found: cage broken.')
  expect(region.textContent).toContain('Decided: the kit; it is the part’s.')
  expect(within(region).queryAllByRole('button')).toEqual([])
  closeAll()
  goneBook('counter', { ...since, report: reportRow })
  const counters = await sinceHome()
  expect(within(counters).queryByRole('button', { name: 'It came back' })).toBeNull()
  expect(within(counters).getByRole('link', { name: 'We were told that it failed' }).getAttribute('href')).toBe(
    `/office/comebacks/${reportRow.id}`,
  )
})
