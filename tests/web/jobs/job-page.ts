import { screen } from '@testing-library/react'
import type { Job } from '#contract/jobs.ts'
import type { Role } from '#contract/people.ts'
import type { Gate } from '#contract/steps.ts'
import { asReceived, asTheBenchSees, ID, sheet } from '#tests/web/jobs/sample-job.ts'
import { openAt, type ShopBook, shopBook } from '#tests/web/shop-book.tsx'

/** The gate of a crank whose kit and width are missing. */
export const SHUT: Gate = {
  next: 'together',
  act: 'to press together',
  missing: [
    { code: 'kit-lot', detail: 'The lot of the rod kit is not named.', pass: 'owner' },
    { code: 'width', detail: 'The width over webs is not read yet.', pass: 'owner' },
  ],
}

/** A book that answers what the page of one job asks. */
export function jobBook(role: Role, shown: Job, gate: Gate = SHUT): ShopBook {
  const book = shopBook(role)
  const now = { job: role === 'bench' ? asTheBenchSees(shown) : shown }
  book.answer('GET /api/jobs/:id', () => now.job)
  book.answer('GET /api/jobs/:id/gate', () => gate)
  book.answer('GET /api/jobs/:id/measurements', () => asReceived())
  book.answer('GET /api/jobs/:id/photos', () => [])
  book.answer('GET /api/jobs/:id/certificate', () => ({ mayIssue: false, missing: [], issued: [] }))
  book.answer('GET /api/engines/:id', () => sheet)
  book.answer('GET /api/jobs/:id/events', ({ query }) =>
    query.get('after') === null
      ? {
          rows: [
            { seq: 2, kind: 'step', says: 'Apart.', by: 'Jonas', occurredAt: '2026-11-24T09:05:00Z', recordedAt: '2026-11-24T09:05:00Z' },
          ],
          next: '2',
        }
      : {
          rows: [
            {
              seq: 1,
              kind: 'booked',
              says: 'Booked in.',
              by: 'Hana',
              occurredAt: '2026-11-20T08:20:00Z',
              recordedAt: '2026-11-20T08:20:00Z',
            },
          ],
          next: null,
        },
  )
  return book
}

export async function open() {
  const opened = openAt(`/jobs/${ID.job}`)
  await screen.findByRole('heading', { level: 1, name: /318-V/ })
  return opened
}
