import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import type { Job } from '#contract/jobs.ts'
import { jobBook, open, SHUT } from '#tests/web/jobs/job-page.ts'
import { ID, job } from '#tests/web/jobs/sample-job.ts'
import { closeAll } from '#tests/web/shop-book.tsx'

afterEach(closeAll)

test('“Kit is in” asks for the lot and ends the wait', async () => {
  const book = jobBook('counter', job)
  book.answer('POST /api/jobs/:id/waits/end', () => ({ ...job, waiting: [] }))
  await open()
  const next = await screen.findByRole('region', { name: 'What comes next' })
  fireEvent.click(within(next).getByRole('button', { name: 'Kit is in' }))
  fireEvent.change(within(next).getByLabelText('Lot'), { target: { value: ' A-2417 ' } })
  fireEvent.click(within(next).getByRole('button', { name: 'Kit is in, on the shelf' }))
  await waitFor(() => expect(book.sent('POST', `/api/jobs/${ID.job}/waits/end`)).toHaveLength(1))
  expect(book.sent('POST', `/api/jobs/${ID.job}/waits/end`)[0]?.body).toEqual({ what: 'kit', lot: 'A-2417' })
})

test('an open gate is one press, with one key for every try of it', async () => {
  const ready = { ...job, state: 'measured' as const, waiting: [] }
  const book = jobBook('counter', ready, { next: 'agreed', act: 'to agree', missing: [] })
  let tries = 0
  book.answer('POST /api/jobs/:id/steps', () => {
    tries += 1
    if (tries === 1) throw new TypeError('the line is down')
    return { ...ready, state: 'agreed' }
  })
  await open()
  fireEvent.click(await screen.findByRole('button', { name: 'It is agreed' }))
  await screen.findByText(/The book cannot be reached/)
  fireEvent.click(screen.getByRole('button', { name: 'It is agreed' }))
  await waitFor(() => expect(tries).toBe(2))
  const [one, two] = book.sent('POST', `/api/jobs/${ID.job}/steps`)
  expect(one?.body).toMatchObject({ to: 'agreed' })
  expect(two?.headers.get('idempotency-key')).toBe(one?.headers.get('idempotency-key'))
  expect(two?.body).toEqual(one?.body)
})

test('without a yes the one thing to do is to enter it, and it is entered by whom and how', async () => {
  const open_ = { ...job, state: 'measured' as const, waiting: [], quotes: (job.quotes ?? []).map(({ yes: _yes, ...quote }) => quote) }
  const book = jobBook('counter', open_, {
    next: 'agreed',
    act: 'to agree',
    missing: [{ code: 'yes', detail: 'Nobody has said yes to quote 1 yet.', pass: 'owner' }],
  })
  book.answer('POST /api/jobs/:id/yes', () => open_)
  await open()
  expect((await screen.findByRole('link', { name: 'Enter the yes' })).getAttribute('href')).toBe('#money')
  fireEvent.click(screen.getByRole('button', { name: 'Yes to 412.00' }))
  fireEvent.click(screen.getByRole('button', { name: 'They said yes' }))
  expect(screen.getByText('Say how the yes came.')).toBeTruthy()
  fireEvent.click(screen.getByLabelText('by phone'))
  fireEvent.click(screen.getByRole('button', { name: 'They said yes' }))
  await waitFor(() => expect(book.sent('POST', `/api/jobs/${ID.job}/yes`)).toHaveLength(1))
  expect(book.sent('POST', `/api/jobs/${ID.job}/yes`)[0]?.body).toEqual({ quoteVersion: 1, by: 'Hollis, A.', how: 'by phone' })
})

test('the owner lets a gate pass with a reason for every missing thing; nobody else is offered it', async () => {
  const book = jobBook('owner', job)
  book.answer('POST /api/jobs/:id/steps', () => ({ ...job, state: 'together' }))
  await open()
  fireEvent.click(await screen.findByRole('button', { name: 'Let it pass, with a reason' }))
  const send = screen.getByRole('button', { name: 'Let it pass: to press together' })
  fireEvent.change(screen.getByLabelText('The lot of the rod kit is not named.'), { target: { value: 'bag was thrown away' } })
  fireEvent.click(send)
  expect(screen.getByText('Write the reason in a few words.')).toBeTruthy()
  expect(book.sent('POST', `/api/jobs/${ID.job}/steps`)).toEqual([])
  fireEvent.change(screen.getByLabelText('The width over webs is not read yet.'), { target: { value: 'micrometer is away' } })
  fireEvent.click(screen.getByLabelText('has been told'))
  fireEvent.click(send)
  await waitFor(() => expect(book.sent('POST', `/api/jobs/${ID.job}/steps`)).toHaveLength(1))
  const sent = book.sent('POST', `/api/jobs/${ID.job}/steps`)[0]?.body as {
    to: string
    passes: { code: string; reason: string; customerToldAt?: string }[]
  }
  expect(sent.to).toBe('together')
  expect(sent.passes.map(({ code, reason }) => [code, reason])).toEqual([
    ['kit-lot', 'bag was thrown away'],
    ['width', 'micrometer is away'],
  ])
  expect(sent.passes[0]?.customerToldAt).toBeTruthy()
  closeAll()
  jobBook('counter', job)
  await open()
  await screen.findByText('The lot of the rod kit is not named.')
  expect(screen.queryByRole('button', { name: 'Let it pass, with a reason' })).toBeNull()
  expect(screen.queryByRole('button', { name: 'Take a step back' })).toBeNull()
})

test('what nobody can let pass is not offered to the owner either', async () => {
  jobBook('owner', job, { ...SHUT, missing: [{ code: 'crack', detail: 'A crack was seen in a web.', pass: 'never' }] })
  await open()
  await screen.findByText(/Nobody can let this pass/)
  expect(screen.queryByRole('button', { name: 'Let it pass, with a reason' })).toBeNull()
})

test('a step back and an end ask for a reason', async () => {
  const book = jobBook('owner', job)
  book.answer('POST /api/jobs/:id/steps/back', () => job)
  await open()
  fireEvent.click(screen.getByRole('button', { name: 'Take a step back' }))
  fireEvent.click(screen.getByRole('button', { name: 'Take it back to agreed' }))
  expect(screen.getByText('Write the reason in a few words.')).toBeTruthy()
  fireEvent.change(screen.getByLabelText('Why does it go back?'), { target: { value: 'wrong kit ordered' } })
  fireEvent.click(screen.getByRole('button', { name: 'Take it back to agreed' }))
  await waitFor(() =>
    expect(book.sent('POST', `/api/jobs/${ID.job}/steps/back`)[0]?.body).toEqual({ to: 'agreed', reason: 'wrong kit ordered' }),
  )
  fireEvent.click(screen.getByRole('button', { name: 'Give it back or scrap it' }))
  expect(screen.getByRole('button', { name: 'It is given back unbuilt' })).toBeTruthy()
})

test('the owner is told what a step back leaves standing, and finds who changed what', async () => {
  const signed: Job = { ...job, state: 'signed', steps: [...job.steps, { step: 'signed', at: '2026-11-24T09:00:00Z', by: 'Ewa' }] }
  jobBook('owner', signed)
  await open()
  const word = screen.getByRole('region', { name: 'The owner’s word' })
  expect(within(word).getByRole('link', { name: 'Who changed what on it' }).getAttribute('href')).toBe(
    `/office/audit?thing=job&id=${ID.job}`,
  )
  fireEvent.click(within(word).getByRole('button', { name: 'Take a step back' }))
  expect(within(word).getByText(/The sheet stands as it is/)).toBeTruthy()
  expect(within(word).getByRole('link', { name: 'where it was signed' }).getAttribute('href')).toBe(`/bench/${ID.job}/sign`)
})
