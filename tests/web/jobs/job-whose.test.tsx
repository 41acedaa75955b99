import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import { jobBook, open } from '#tests/web/jobs/job-page.ts'
import { ID, job } from '#tests/web/jobs/sample-job.ts'
import { closeAll, refusal } from '#tests/web/shop-book.tsx'

afterEach(closeAll)

test('a job on the wrong customer is moved by the counter, with a reason and with the crank unless said otherwise', async () => {
  const book = jobBook('counter', job)
  const anna = {
    id: '0198f3a0-0000-7000-8000-000000000099',
    name: 'Anna Hollis',
    phone: '1',
    hearBy: 'phone',
    cranksHere: 0,
    owes: 0,
    version: 1,
  }
  book.answer('GET /api/customers', () => ({ rows: [anna], next: null }))
  book.answer('GET /api/customers/:id', () => anna)
  let stale = true
  book.answer('POST /api/jobs/:id/customer', () => (stale ? refusal('stale-version', { version: job.version + 1 }) : job))
  await open()
  const whose = screen.getByRole('region', { name: 'Whose it is' })
  fireEvent.click(within(whose).getByRole('button', { name: 'It is somebody else’s' }))
  fireEvent.click(within(whose).getByRole('button', { name: 'Move it' }))
  await within(whose).findByText(/Find whose it is/)
  expect(within(whose).getByText('Write the reason in a few words.')).toBeTruthy()
  fireEvent.change(within(whose).getByLabelText('Name'), { target: { value: 'anna' } })
  fireEvent.click(await within(whose).findByRole('option', { name: /Anna Hollis/ }))
  await within(whose).findByRole('button', { name: 'It is somebody else' })
  fireEvent.change(within(whose).getByLabelText('How did it come to the wrong one?'), { target: { value: 'wrong Hollis' } })
  fireEvent.click(within(whose).getByRole('button', { name: 'Move it' }))
  await within(whose).findByText(/Somebody changed this job meanwhile/)
  stale = false
  fireEvent.click(within(whose).getByRole('button', { name: 'Move it' }))
  await waitFor(() => expect(within(whose).queryByRole('form')).toBeNull())
  const [sent] = book.sent('POST', `/api/jobs/${ID.job}/customer`)
  expect(sent?.body).toEqual({ customerId: anna.id, withCrank: true, reason: 'wrong Hollis' })
  expect(sent?.headers.get('if-match')).toBe(`"${job.version}"`)
})

test('the bench is not told whose it is', async () => {
  jobBook('bench', job)
  await open()
  expect(screen.queryByRole('region', { name: 'Whose it is' })).toBeNull()
})
