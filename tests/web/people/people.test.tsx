import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import type { Person } from '#contract/people.ts'
import { closeAll, HANA, openAt, refusal, shopBook } from '#tests/web/shop-book.tsx'
import { personFormOf, readNewPerson, readPersonChange } from '#web/features/people/person-form.ts'

afterEach(closeAll)

const ewa: Person = {
  id: HANA,
  signIn: 'owner',
  name: 'Ewa',
  role: 'owner',
  maySign: true,
  cranksBefore: 300,
  hasPin: false,
  barred: false,
  version: 1,
}
const jonas: Person = {
  ...ewa,
  id: '0198f3a0-0000-7000-8000-000000000002',
  signIn: 'bench',
  name: 'Jonas',
  role: 'bench',
  maySign: false,
  cranksBefore: 0,
  version: 5,
}

test('only what differs is changed, and a short password is refused', () => {
  const base = personFormOf(jonas)
  expect(readPersonChange(base, { ...base, maySign: 'yes', cranksBefore: '12' })).toEqual({
    ok: true,
    value: { maySign: true, cranksBefore: 12 },
  })
  expect(readPersonChange(base, { ...base, password: 'short' })).toMatchObject({
    ok: false,
    faults: { password: expect.stringContaining('10') },
  })
})

test('somebody new is refused by field', () => {
  const read = readNewPerson({ ...personFormOf(jonas), signIn: 'Jonas B', password: '' })
  expect(read.ok ? [] : Object.keys(read.faults).sort()).toEqual(['password', 'signIn'])
})

test('the owner adds, changes and bars; nobody bars themselves', async () => {
  const book = shopBook('owner')
  book.answer('GET /api/people', () => [ewa, jonas])
  book.answer('POST /api/people', ({ body }) => ({
    ...jonas,
    ...(body as object),
    id: '0198f3a0-0000-7000-8000-000000000003',
    password: undefined,
  }))
  book.answer('PATCH /api/people/:id', () => ({ ...jonas, barred: true, version: 6 }))
  openAt('/office/people')
  await screen.findByText('Jonas')
  expect(screen.queryByRole('button', { name: /^Bar Ewa/ })).toBeNull()
  fireEvent.click(screen.getByRole('button', { name: /^Bar Jonas/ }))
  await waitFor(() => expect(book.sent('PATCH', `/api/people/${jonas.id}`)).toHaveLength(1))
  expect(book.sent('PATCH', `/api/people/${jonas.id}`)[0]?.body).toEqual({ barred: true })
  expect(book.sent('PATCH', `/api/people/${jonas.id}`)[0]?.headers.get('if-match')).toBe('"5"')
  fireEvent.click(screen.getByRole('button', { name: 'Somebody new' }))
  const form = screen.getByRole('form', { name: 'Somebody new' })
  fireEvent.change(within(form).getByLabelText('Name, as colleagues say it'), { target: { value: 'Marek' } })
  fireEvent.change(within(form).getByLabelText('Name at sign-in'), { target: { value: 'bench2' } })
  fireEvent.change(within(form).getByLabelText('Password'), { target: { value: 'three plain words' } })
  fireEvent.click(within(form).getByLabelText('may sign'))
  fireEvent.click(within(form).getByRole('button', { name: 'Put them in the book' }))
  await waitFor(() => expect(book.sent('POST', '/api/people')).toHaveLength(1))
  expect(book.sent('POST', '/api/people')[0]?.body).toEqual({
    signIn: 'bench2',
    name: 'Marek',
    role: 'bench',
    maySign: true,
    cranksBefore: 0,
    password: 'three plain words',
  })
})

test('the owner sees where somebody is signed in and signs them out, takes a PIN away, and is told why the last owner stays', async () => {
  const book = shopBook('owner')
  const session = { byPin: false, startedAt: '2026-11-24T08:00:00Z', lastSeenAt: '2026-11-24T09:00:00Z' }
  const ends = { endsAt: '2026-11-24T13:00:00Z', endsLatestAt: '2026-11-24T20:00:00Z', here: false }
  book.answer('GET /api/people', () => [ewa, { ...jonas, hasPin: true }])
  book.answer('GET /api/people/:id/sessions', () => ['a', 'b'].map((one) => ({ id: one.repeat(32), ...session, ...ends })))
  book.answer('POST /api/people/:id/sessions/end', () => ({ ended: 2 }))
  const only = 'Jonas is the only owner. Make somebody else an owner first; then this can be done.'
  book.answer('PATCH /api/people/:id', ({ body }) =>
    'barred' in (body as object) ? refusal('conflict-state', { detail: only }) : { ...jonas, version: 6 },
  )
  openAt('/office/people')
  fireEvent.click(await screen.findByRole('button', { name: 'Sessions of Jonas' }))
  fireEvent.click(await screen.findByRole('button', { name: 'Sign Jonas out everywhere' }))
  await screen.findByText('Ended. The next press there asks to sign in.')
  expect(book.sent('POST', `/api/people/${jonas.id}/sessions/end`)).toHaveLength(1)
  fireEvent.click(screen.getByRole('button', { name: /^Bar Jonas/ }))
  await screen.findByText(only)
  fireEvent.click(screen.getByRole('button', { name: /^Take the PIN of Jonas away/ }))
  await waitFor(() => expect(book.sent('PATCH', `/api/people/${jonas.id}`).at(-1)?.body).toEqual({ clearPin: true }))
  fireEvent.click(screen.getByRole('button', { name: 'Change Ewa' }))
  expect(within(screen.getByRole('form', { name: 'Change Ewa' })).queryByLabelText(/password/i)).toBeNull()
})

test('a sign-in name that is taken is said at its field', async () => {
  const book = shopBook('owner')
  book.answer('GET /api/people', () => [ewa])
  book.answer('POST /api/people', () =>
    refusal('validation', { errors: [{ pointer: '/signIn', code: 'taken', detail: 'Somebody signs in with this name. Choose another.' }] }),
  )
  openAt('/office/people')
  fireEvent.click(await screen.findByRole('button', { name: 'Somebody new' }))
  const form = screen.getByRole('form', { name: 'Somebody new' })
  fireEvent.change(within(form).getByLabelText('Name, as colleagues say it'), { target: { value: 'Marek' } })
  fireEvent.change(within(form).getByLabelText('Name at sign-in'), { target: { value: 'owner' } })
  fireEvent.change(within(form).getByLabelText('Password'), { target: { value: 'three plain words' } })
  fireEvent.click(within(form).getByRole('button', { name: 'Put them in the book' }))
  await waitFor(() => expect(within(form).getByLabelText('Name at sign-in').getAttribute('aria-invalid')).toBe('true'))
  expect((within(form).getByLabelText('Password') as HTMLInputElement).value).toBe('three plain words')
})

test('people are the owner’s', async () => {
  shopBook('counter')
  openAt('/office/people')
  await screen.findByRole('heading', { name: 'Not your page' })
})

test('the own PIN is typed twice, with the password asked again', async () => {
  const book = shopBook('bench')
  let right = false
  book.answer('PUT /api/people/me/pin', () => {
    if (right) return { ...jonas, hasPin: true }
    return refusal('validation', { errors: [{ pointer: '/password', code: 'wrong', detail: 'This is not your password.' }] })
  })
  openAt('/pin')
  fireEvent.change(await screen.findByLabelText('New PIN, four to six figures'), { target: { value: '4711' } })
  fireEvent.change(screen.getByLabelText('The same PIN again'), { target: { value: '4712' } })
  fireEvent.change(screen.getByLabelText('Your password'), { target: { value: 'wrong words here' } })
  fireEvent.click(screen.getByRole('button', { name: 'Set the PIN' }))
  expect(await screen.findByText('The two are not the same.')).toBeTruthy()
  expect(book.sent('PUT', '/api/people/me/pin')).toEqual([])
  fireEvent.change(screen.getByLabelText('The same PIN again'), { target: { value: '4711' } })
  fireEvent.click(screen.getByRole('button', { name: 'Set the PIN' }))
  await screen.findByText('This is not your password.')
  right = true
  fireEvent.change(screen.getByLabelText('Your password'), { target: { value: 'kettle row crank' } })
  fireEvent.click(screen.getByRole('button', { name: 'Set the PIN' }))
  await screen.findByText(/Your PIN is set/)
  expect(book.sent('PUT', '/api/people/me/pin')[1]?.body).toEqual({ pin: '4711', password: 'kettle row crank' })
})
