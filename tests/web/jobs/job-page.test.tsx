import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import type { Gate, Job } from '#contract/jobs.ts'
import type { Role } from '#contract/people.ts'
import { asReceived, asTheBenchSees, ID, job, sheet } from '#tests/web/jobs/sample-job.ts'
import { closeAll, openAt, refusal, type ShopBook, shopBook } from '#tests/web/shop-book.tsx'

afterEach(closeAll)

const SHUT: Gate = {
  next: 'together',
  act: 'to press together',
  missing: [
    { code: 'kit-lot', detail: 'The lot of the rod kit is not named.', pass: 'owner' },
    { code: 'width', detail: 'The width over webs is not read yet.', pass: 'owner' },
  ],
}

function jobBook(role: Role, shown: Job, gate: Gate = SHUT): ShopBook {
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

async function open() {
  const opened = openAt(`/jobs/${ID.job}`)
  await screen.findByRole('heading', { level: 1, name: /318-V/ })
  return opened
}

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

test('a job that is not there says so and offers to ask again', async () => {
  shopBook('counter')
  openAt(`/jobs/${ID.job}`)
  await screen.findByText('The job could not be fetched.')
  expect(screen.getByRole('button', { name: 'Try again' })).toBeTruthy()
})

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

test('the bench is not told whose it is', async () => {
  jobBook('bench', job)
  await open()
  expect(screen.queryByRole('region', { name: 'Whose it is' })).toBeNull()
})
