import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import type { Job } from '#contract/jobs.ts'
import { jobBook, open } from '#tests/web/jobs/job-page.ts'
import { ID, job } from '#tests/web/jobs/sample-job.ts'
import { closeAll, openAt, refusal, shopBook } from '#tests/web/shop-book.tsx'

afterEach(closeAll)

test('the counter sees whose, what is promised, how far it is and what is missing, in plain words', async () => {
  jobBook('counter', job)
  await open()
  expect(document.title).toBe('318-V Ruskhammar R449-4X · Throwbook')
  expect(screen.getByRole('link', { name: 'Hollis, A.' })).toBeTruthy()
  expect(screen.getByRole('img', { name: /^Done: apart\. Next: to press together, waits for kit, due Thu 26 Nov/ })).toBeTruthy()
  const next = await screen.findByRole('region', { name: 'What comes next' })
  await waitFor(() => expect(next.textContent).toContain('Next: to press together. Still missing:'))
  expect(next.textContent).toContain('The lot of the rod kit is not named.')
  // The next gate's done word is not said as if it were reached.
  expect(next.textContent).not.toContain('It is together')
  expect(screen.getByText('412.00 agreed, 0.00 taken, 312.00 to pay')).toBeTruthy()
})

test('the bench sees the same page without names, phones and prices', async () => {
  jobBook('bench', job)
  await open()
  await screen.findByText('The lot of the rod kit is not named.')
  const page = document.querySelector('main')?.textContent ?? ''
  expect(page).not.toMatch(/Hollis|0161|412|place\.example/)
  for (const name of ['Quotes', 'Money']) expect(screen.queryByRole('region', { name })).toBeNull()
  expect(screen.queryByRole('button', { name: 'Correct it' })).toBeNull()
  expect(screen.queryByRole('button', { name: /^Tell/ })).toBeNull()
  expect(screen.getByRole('region', { name: 'Where it is' })).toBeTruthy()
})

test('a correction that came second keeps what was typed, takes what only they changed, and shows the clash', async () => {
  const book = jobBook('counter', { ...job, usedFor: 'enduro' })
  const theirs: Job = { ...job, usedFor: 'road', whoFits: 'the owner', version: 8 }
  let stale = true
  book.answer('PATCH /api/jobs/:id', ({ headers }) => {
    if (headers.get('if-match') === '"7"') return refusal('stale-version', { version: 8 })
    return { ...theirs, usedFor: 'kart' }
  })
  await open()
  fireEvent.click(screen.getByRole('button', { name: 'Correct it' }))
  const form = screen.getByRole('form', { name: 'Correct what was booked' })
  fireEvent.change(within(form).getByLabelText('Use'), { target: { value: 'kart' } })
  book.answer('GET /api/jobs/:id', () => (stale ? theirs : job))
  fireEvent.click(within(form).getByRole('button', { name: 'Write it so' }))
  const clash = await within(form).findByRole('alert')
  expect(clash.textContent).toContain('Somebody else changed what was booked meanwhile.')
  expect(within(clash).getByRole('row', { name: /Use road kart/ })).toBeTruthy()
  expect((within(form).getByLabelText('Use') as HTMLInputElement).value).toBe('kart')
  expect((within(form).getByLabelText('Who fits it') as HTMLInputElement).value).toBe('the owner')
  fireEvent.click(within(form).getByRole('button', { name: 'Write it so' }))
  await waitFor(() => expect(book.sent('PATCH', `/api/jobs/${ID.job}`)).toHaveLength(2))
  stale = false
  const last = book.sent('PATCH', `/api/jobs/${ID.job}`)[1]
  expect(last?.headers.get('if-match')).toBe('"8"')
  expect(last?.body).toEqual({ usedFor: 'kart' })
})

test('drawing and table say the same figures, and the address says which is shown', async () => {
  jobBook('counter', job)
  const { router } = await open()
  const measured = await screen.findByRole('region', { name: 'What we measured' })
  const drawing = within(measured).getByRole('img')
  expect(drawing.textContent).toContain('full swing 0.19 at 81°')
  fireEvent.click(within(measured).getByRole('button', { name: 'As a table' }))
  expect(router.state.location.search).toBe('?as=table')
  const table = await within(measured).findByRole('table', { name: 'What we measured, all in mm' })
  expect(table.textContent).toContain('0.19 at 81°')
  expect(table.textContent).toContain('0.61')
})

test('a job that is not there says so and offers to ask again', async () => {
  shopBook('counter')
  openAt(`/jobs/${ID.job}`)
  await screen.findByText('The job could not be fetched.')
  expect(screen.getByRole('button', { name: 'Try again' })).toBeTruthy()
})
