import { cleanup, fireEvent, screen, waitFor } from '@testing-library/react'
import { afterEach, expect, test, vi } from 'vitest'
import { hollis, ID, job, sheet } from '#tests/web/jobs/sample-job.ts'
import { closeAll, openAt, refusal, type ShopBook, shopBook } from '#tests/web/shop-book.tsx'

afterEach(closeAll)

const engineRow = { id: ID.engine, maker: 'Ruskhammar', code: 'R449-4X', cycle: '4T', strokeMm: 62.4, widthMm: 64, cranksHere: 3 }
const hit = {
  id: ID.crank,
  engineId: ID.engine,
  engine: 'Ruskhammar R449-4X',
  engineNumber: 'R4-20718',
  customerId: ID.customer,
  whose: 'Hollis, A.',
  jobs: [
    { id: ID.quote, tag: '187-L', bookedAt: '2025-03-04T08:00:00Z', state: 'gone', kit: 'Ardenlow K1, lot A-2417', certificate: '41' },
  ],
  welded: false,
}

function counterBook(): ShopBook {
  const book = shopBook('counter')
  let draft: unknown
  book.answer('GET /api/drafts/booking', () => ({ draft: draft === undefined ? null : { data: draft, changedAt: '2026-11-24T09:00:00Z' } }))
  book.answer('PUT /api/drafts/booking', ({ body }) => {
    draft = (body as { data: unknown }).data
    return { data: draft, changedAt: '2026-11-24T09:00:00Z' }
  })
  book.answer('DELETE /api/drafts/booking', () => {
    draft = undefined
    return undefined
  })
  book.answer('GET /api/customers', ({ query }) => ({ rows: (query.get('q') ?? '').startsWith('hol') ? [hollis] : [], next: null }))
  book.answer('GET /api/customers/:id', () => hollis)
  book.answer('GET /api/engines', ({ query }) => ({
    rows: (query.get('q') ?? '').toLowerCase().startsWith('r44') ? [engineRow] : [],
    next: null,
  }))
  book.answer('GET /api/engines/:id', () => sheet)
  book.answer('GET /api/cranks', () => [])
  book.answer('GET /api/jobs/:id', () => job)
  book.answer('GET /api/jobs/:id/photos', () => [])
  book.answer('POST /api/jobs', () => job)
  return book
}

const type = (label: string | RegExp, text: string) => fireEvent.change(screen.getByLabelText(label), { target: { value: text } })

async function open() {
  const opened = openAt('/counter/book-in')
  await screen.findByLabelText('Name')
  return opened
}

async function chooseEngine() {
  type('Engine', 'r449')
  await screen.findByRole('option', { name: /Ruskhammar R449-4X.*four-stroke, 62.4 stroke, width 64.00/ })
  fireEvent.keyDown(screen.getByLabelText('Engine'), { key: 'ArrowDown' })
  fireEvent.keyDown(screen.getByLabelText('Engine'), { key: 'Enter' })
}

test('somebody known is offered while typing and taken with two keys; what to know of them stands there', async () => {
  counterBook()
  await open()
  type('Name', 'holl')
  await screen.findByRole('option', { name: /Hollis, A\./ })
  fireEvent.keyDown(screen.getByLabelText('Name'), { key: 'ArrowDown' })
  fireEvent.keyDown(screen.getByLabelText('Name'), { key: 'Enter' })
  await screen.findByText(/3 cranks here before, last 187-L March 2025, paid · wants mail, not calls/)
  // Nothing more is asked about somebody known, and the next field has the focus.
  expect(screen.queryByLabelText('Phone')).toBeNull()
  await waitFor(() => expect(document.activeElement).toBe(screen.getByLabelText('Engine')))
})

test('a name, a phone and an engine are tagged with Ctrl+Enter, once, and the tag is shown large', async () => {
  const book = counterBook()
  const { router } = await open()
  type('Name', 'Petit, J.')
  type('Phone', '0161 496 0107')
  await chooseEngine()
  type(/^Hours on this crank/, '12,5')
  fireEvent.keyDown(screen.getByLabelText('Name'), { key: 'Enter', ctrlKey: true })
  await waitFor(() => expect(router.state.location.pathname).toBe(`/jobs/${ID.job}/tagged`))
  const sent = book.sent('POST', '/api/jobs')
  expect(sent).toHaveLength(1)
  expect(sent[0]?.body).toMatchObject({
    customer: { name: 'Petit, J.', phone: '0161 496 0107', hearBy: 'phone' },
    crank: { engineId: ID.engine },
    hours: 12.5,
    hoursHow: 'declared',
    kind: 'rebuild',
  })
  expect(sent[0]?.headers.get('idempotency-key')).toBeTruthy()
  await screen.findByText('318-V', { selector: '.tag-large' })
  expect(screen.getByRole('link', { name: 'Print the label' }).getAttribute('href')).toBe(`/api/jobs/${ID.job}/label.pdf`)
  expect(screen.getByRole('link', { name: 'Print the receipt' }).getAttribute('href')).toBe(`/api/jobs/${ID.job}/receipt.pdf`)
  expect(book.sent('DELETE', '/api/drafts/booking')).toHaveLength(1)
})

test('what is missing is listed at the head, in focus, and nothing is sent', async () => {
  const book = counterBook()
  await open()
  fireEvent.keyDown(screen.getByLabelText('Name'), { key: 'Enter', ctrlKey: true })
  const head = await screen.findByRole('alert')
  expect(document.activeElement).toBe(head)
  expect(head.textContent).toContain('Whose is it? A name is enough.')
  expect(head.textContent).toContain('one way to reach them')
  expect(head.textContent).toContain('Which engine?')
  fireEvent.click(screen.getByRole('button', { name: 'Which engine? Choose its sheet, or make one.' }))
  expect(document.activeElement).toBe(screen.getByLabelText('Engine'))
  expect(book.sent('POST', '/api/jobs')).toEqual([])
})

test('Enter goes to the next field and never sends', async () => {
  const book = counterBook()
  await open()
  const phone = screen.getByLabelText('Phone')
  phone.focus()
  fireEvent.keyDown(phone, { key: 'Enter' })
  expect(document.activeElement).toBe(screen.getByLabelText('Mail'))
  expect(book.sent('POST', '/api/jobs')).toEqual([])
})

test('what is typed lies in the book within a moment and is there again on another day', async () => {
  const book = counterBook()
  await open()
  type('Name', 'Walden, M.')
  type('Use: enduro, road, kart, a race day', 'trials')
  await screen.findByText('Draft kept in the book.')
  closeAllScreens()
  await open()
  expect((screen.getByLabelText('Name') as HTMLInputElement).value).toBe('Walden, M.')
  expect((screen.getByLabelText('Use: enduro, road, kart, a race day') as HTMLInputElement).value).toBe('trials')
  expect(book.sent('PUT', '/api/drafts/booking').length).toBeGreaterThan(0)
  // Names of people never lie in the browser.
  expect(JSON.stringify({ ...localStorage, ...sessionStorage })).not.toContain('Walden')
})

test('a draft that the book does not take is said, and the typing stays', async () => {
  const book = counterBook()
  book.answer('PUT /api/drafts/booking', () => refusal('overloaded'))
  await open()
  type('Name', 'Walden, M.')
  await screen.findByText(/The draft could not be kept/)
  expect((screen.getByLabelText('Name') as HTMLInputElement).value).toBe('Walden, M.')
})

test('a refusal of the book finds its field, and pressing again sends the same act', async () => {
  const book = counterBook()
  let first = true
  book.answer('POST /api/jobs', () => {
    if (!first) return job
    first = false
    return refusal('validation', {
      errors: [{ pointer: '/promisedOn', code: 'past', detail: 'This day is over. Promise today or later.' }],
    })
  })
  await open()
  type('Name', 'Petit, J.')
  type('Phone', '0161 496 0107')
  await chooseEngine()
  fireEvent.click(screen.getByRole('button', { name: 'Tag it' }))
  await waitFor(() => expect(screen.getByLabelText('We promise').getAttribute('aria-invalid')).toBe('true'))
  expect((screen.getByLabelText('Name') as HTMLInputElement).value).toBe('Petit, J.')
  fireEvent.click(screen.getByRole('button', { name: 'Tag it' }))
  await waitFor(() => expect(book.sent('POST', '/api/jobs')).toHaveLength(2))
  const [one, two] = book.sent('POST', '/api/jobs')
  expect(two?.headers.get('idempotency-key')).toBe(one?.headers.get('idempotency-key'))
  expect(two?.body).toEqual(one?.body)
})

test('a crank is known by its number, brings its history, and may be marked as come back', async () => {
  const book = counterBook()
  book.answer('GET /api/cranks', ({ query }) =>
    query.get('number') === 'R4-20718' || query.get('customerId') === ID.customer ? [hit] : [],
  )
  await open()
  type('Engine or crank number', 'R4-20718')
  await screen.findByText('Found by number:')
  expect(screen.getByText(/187-L, Tue 4 Mar 2025, Ardenlow K1, lot A-2417, certificate 41/)).toBeTruthy()
  fireEvent.click(screen.getByRole('button', { name: 'It is this one: Ruskhammar R449-4X R4-20718' }))
  await screen.findByText(/wants mail, not calls/)
  expect((screen.getByLabelText(/^Rebuilt before/) as HTMLInputElement).value).toBe('by us, 187-L, Ardenlow K1, lot A-2417, not welded')
  fireEvent.click(await screen.findByLabelText('yes, after 187-L'))
  type('What they say is wrong', 'knock at 12 h')
  fireEvent.click(screen.getByRole('button', { name: 'Tag it' }))
  await waitFor(() => expect(book.sent('POST', '/api/jobs')).toHaveLength(1))
  expect(book.sent('POST', '/api/jobs')[0]?.body).toMatchObject({
    customer: { id: ID.customer },
    crank: { id: ID.crank },
    comebackOf: ID.quote,
    comebackWhy: 'knock at 12 h',
  })
})

test('a model without a sheet gets one with its name, without leaving the booking', async () => {
  const book = counterBook()
  book.answer('POST /api/engines', ({ body }) => ({ ...sheet, ...(body as object), figures: [], id: ID.quote, version: 1 }))
  book.answer('GET /api/engines/:id', () => ({ ...sheet, id: ID.quote, maker: 'Pellarc', code: 'P594', figures: [] }))
  await open()
  type('Engine', 'Pellarc P594')
  fireEvent.click(await screen.findByRole('button', { name: 'Make a sheet for it' }))
  fireEvent.click(screen.getByLabelText('two-stroke'))
  fireEvent.click(screen.getByRole('button', { name: 'Make the sheet' }))
  await waitFor(() => expect((screen.getByLabelText('Engine') as HTMLInputElement).value).toBe('Pellarc P594'))
  expect(book.sent('POST', '/api/engines')[0]?.body).toMatchObject({ maker: 'Pellarc', code: 'P594', cycle: '2T', figures: [] })
})

test('damage to the box is to be told today; keys are counted', async () => {
  counterBook()
  await open()
  fireEvent.click(screen.getByLabelText('box holed'))
  expect(screen.getByText('box damage: tell the carrier today').className).toBe('over')
  fireEvent.click(screen.getByLabelText('keys'))
  type('How many keys', '2')
  expect(screen.getByLabelText('keys: 2')).toBeTruthy()
})

test('photos taken before the tag go into the book after it, each with what it shows', async () => {
  vi.stubGlobal('URL', Object.assign(URL, { createObjectURL: () => 'blob:photo', revokeObjectURL: () => {} }))
  const book = counterBook()
  book.answer('POST /api/jobs/:id/photos', () => ({
    id: ID.hand,
    step: 'booked',
    caption: 'parcel as it came, shut',
    width: 10,
    height: 10,
    by: 'Hana',
    at: '2026-11-24T09:00:00Z',
  }))
  await open()
  fireEvent.change(screen.getByLabelText('Photos from files'), { target: { files: [new File(['x'], 'a.jpg', { type: 'image/jpeg' })] } })
  type('Photo 1 shows', 'parcel as it came, shut')
  expect(screen.getByText('1 photo to go with it.')).toBeTruthy()
  type('Name', 'Petit, J.')
  type('Phone', '0161 496 0107')
  await chooseEngine()
  fireEvent.click(screen.getByRole('button', { name: 'Tag it' }))
  await waitFor(() => expect(book.sent('POST', `/api/jobs/${ID.job}/photos`)).toHaveLength(1))
  const form = book.sent('POST', `/api/jobs/${ID.job}/photos`)[0]?.body as FormData
  expect(form.get('caption')).toBe('parcel as it came, shut')
  expect(form.get('photo')).toBeInstanceOf(Blob)
  await waitFor(() => expect(screen.queryByLabelText('Photo 1 shows')).toBeNull())
})

/** Shuts the page as closing the tab would; the book stays. */
function closeAllScreens() {
  window.dispatchEvent(new Event('pagehide'))
  cleanup()
}
