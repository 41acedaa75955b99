import { fireEvent, screen, waitFor } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import { jobBook, open } from '#tests/web/jobs/job-page.ts'
import { ID, job } from '#tests/web/jobs/sample-job.ts'
import { closeAll } from '#tests/web/shop-book.tsx'

afterEach(closeAll)

const LATE = {
  seq: 3,
  kind: 'read',
  says: 'Runout: read.',
  by: 'Jonas',
  occurredAt: '2026-11-24T09:02:00Z',
  recordedAt: '2026-11-24T10:40:00Z',
}

test('a reading that came in late says in the history when it was read and when the book got it', async () => {
  const book = jobBook('counter', job)
  const apart = { ...LATE, seq: 2, kind: 'told', says: 'Told by phone.' }
  book.answer('GET /api/jobs/:id/events', () => ({ rows: [LATE, apart], next: null }))
  await open()
  const line = (await screen.findByText('Runout: read.')).closest('li')
  expect(line?.textContent).toContain('came in late: read 09:02, in the book 10:40')
  expect((await screen.findByText('Told by phone.')).closest('li')?.textContent).not.toContain('late')
})

test('the history is read to its end, and a line can be written', async () => {
  const book = jobBook('counter', job)
  book.answer('POST /api/jobs/:id/notes', () => ({
    seq: 3,
    kind: 'note',
    says: 'rang, nobody there',
    by: 'Hana',
    occurredAt: '2026-11-24T10:00:00Z',
    recordedAt: '2026-11-24T10:00:00Z',
  }))
  await open()
  await screen.findByText('Apart.', { exact: false })
  fireEvent.click(screen.getByRole('button', { name: 'Show more' }))
  await screen.findByText('Booked in.', { exact: false })
  fireEvent.click(screen.getByRole('button', { name: 'Write a line' }))
  fireEvent.change(screen.getByLabelText('What to write into the history'), { target: { value: 'rang, nobody there' } })
  fireEvent.click(screen.getByRole('button', { name: 'Write it down' }))
  await waitFor(() => expect(book.sent('POST', `/api/jobs/${ID.job}/notes`)[0]?.body).toEqual({ says: 'rang, nobody there' }))
})

test('what is told is suggested, changed before it is said, and written down with how', async () => {
  const book = jobBook('counter', job)
  book.answer('POST /api/jobs/:id/told', () => job)
  await open()
  fireEvent.click(screen.getByRole('button', { name: /^Tell: “Your crank 318-V is apart/ }))
  fireEvent.change(screen.getByLabelText('What they are told'), { target: { value: 'Apart; the kit comes on Thursday.' } })
  expect((screen.getByLabelText('by mail') as HTMLInputElement).checked).toBe(true)
  expect(screen.getByRole('link', { name: 'Mail it to a.hollis@place.example' }).getAttribute('href')).toContain(
    'the%20kit%20comes%20on%20Thursday',
  )
  fireEvent.click(screen.getByRole('button', { name: 'They are told' }))
  await waitFor(() =>
    expect(book.sent('POST', `/api/jobs/${ID.job}/told`)[0]?.body).toEqual({ says: 'Apart; the kit comes on Thursday.', how: 'by mail' }),
  )
})
