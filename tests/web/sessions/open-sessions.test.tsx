import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import type { OpenSession } from '#contract/sessions.ts'
import { closeAll, openAt, refusal, shopBook } from '#tests/web/shop-book.tsx'

afterEach(closeAll)

const here: OpenSession = {
  id: '0'.repeat(32),
  byPin: false,
  startedAt: '2025-11-24T08:00:00Z',
  lastSeenAt: '2025-11-24T09:30:00Z',
  endsAt: '2025-11-24T13:30:00Z',
  endsLatestAt: '2025-11-24T20:00:00Z',
  here: true,
}
const tablet: OpenSession = { ...here, id: '1'.repeat(32), byPin: true, device: 'bench 1', startedAt: '2025-11-24T07:15:00Z', here: false }

test('one’s own sessions say where, since when, last seen and until when; another is ended, this one is not offered', async () => {
  const book = shopBook('counter')
  let open = [here, tablet]
  book.answer('GET /api/people/me/sessions', () => open)
  book.answer('POST /api/people/me/sessions/:session/end', () => {
    open = [here]
    return { ended: 1 }
  })
  openAt('/my-sign-in')
  const list = await screen.findByRole('table', { name: 'Where Hana is signed in' })
  const [mine, other] = within(list).getAllByRole('row').slice(1)
  expect(mine?.textContent).toContain('this device, here')
  expect(other?.textContent).toContain('bench 1, by PIN')
  expect(other?.textContent).toContain('Mon 24 Nov 2025, 07:15')
  expect(within(mine!).queryByRole('button')).toBeNull()
  expect(screen.getByRole('button', { name: 'Sign out everywhere else' })).toBeTruthy()
  fireEvent.click(within(other!).getByRole('button', { name: /^End the session of/ }))
  await screen.findByText('Ended. The next press there asks to sign in.')
  expect(book.sent('POST', `/api/people/me/sessions/${'1'.repeat(32)}/end`)).toHaveLength(1)
  expect(screen.queryByRole('button', { name: 'Sign out everywhere else' })).toBeNull()
})

test('everywhere else in one press', async () => {
  const book = shopBook('bench')
  book.answer('GET /api/people/me/sessions', () => [here, tablet])
  book.answer('POST /api/people/me/sessions/end', () => ({ ended: 1 }))
  openAt('/my-sign-in')
  fireEvent.click(await screen.findByRole('button', { name: 'Sign out everywhere else' }))
  await waitFor(() => expect(book.sent('POST', '/api/people/me/sessions/end')).toHaveLength(1))
})

test('a new password is typed twice and refused where it would be guessed, before it is sent', async () => {
  const book = shopBook('bench')
  let right = false
  book.answer('GET /api/people/me/sessions', () => [here])
  book.answer('PUT /api/people/me/password', () => {
    if (!right) return refusal('validation', { errors: [{ pointer: '/password', code: 'wrong', detail: 'This is not your password.' }] })
    const person = {
      signIn: 'bench',
      name: 'Jonas',
      role: 'bench',
      maySign: false,
      cranksBefore: 0,
      hasPin: false,
      barred: false,
      version: 2,
    }
    return { ...person, id: '0198f3a0-0000-7000-8000-000000000001' }
  })
  openAt('/my-sign-in')
  const type = (label: string, value: string) => fireEvent.change(screen.getByLabelText(label), { target: { value } })
  await screen.findByLabelText('Your password now')
  const send = () => fireEvent.click(screen.getByRole('button', { name: 'Change the password' }))
  type('Your password now', 'wrong words here')
  type('New password', 'kettle row crank works')
  send()
  expect((await screen.findAllByText(/The shop’s name or their own is guessed first/)).length).toBeGreaterThan(0)
  type('New password', 'short')
  send()
  expect((await screen.findAllByText(/At least 10 characters/)).length).toBeGreaterThan(0)
  type('New password', 'four other plain words')
  type('The new password again', 'four other plain word')
  send()
  expect((await screen.findAllByText('The two are not the same.')).length).toBeGreaterThan(0)
  expect(book.sent('PUT', '/api/people/me/password')).toEqual([])
  type('The new password again', 'four other plain words')
  send()
  expect((await screen.findAllByText('This is not your password.')).length).toBeGreaterThan(0)
  right = true
  type('Your password now', 'three plain words')
  send()
  await screen.findByText('Your password is changed. Everywhere else you are signed out.')
  expect(book.sent('PUT', '/api/people/me/password')[1]?.body).toEqual({
    password: 'three plain words',
    newPassword: 'four other plain words',
  })
  expect((screen.getByLabelText('New password') as HTMLInputElement).value).toBe('')
})
