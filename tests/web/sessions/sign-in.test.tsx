import { QueryClientProvider } from '@tanstack/react-query'
import { cleanup, fireEvent, render, screen, waitFor } from '@testing-library/react'
import { createMemoryRouter, RouterProvider } from 'react-router'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { PROBLEM_STATUS, PROBLEM_TITLES, type ProblemType } from '#contract/problem-types.ts'
import type { Me } from '#contract/sessions.ts'
import type { WayInFault } from '#contract/way-in.ts'
import { SignInAgain } from '#web/features/sessions/sign-in-again.tsx'
import { makeQueryClient } from '#web/lib/query-client.ts'
import { announceSignedOut } from '#web/lib/signed-out.ts'
import { SignInPage } from '#web/pages/sign-in.tsx'
import { Home, SignedIn, useMe } from '#web/pages/signed-in.tsx'

const hana: Me = {
  id: '0198f3a0-0000-7000-8000-000000000001',
  name: 'Hana',
  signIn: 'counter',
  role: 'counter',
  maySign: false,
  hasPin: false,
  endsAt: '2026-11-24T20:00:00Z',
  idleMinutes: 240,
  enrolled: false,
  demo: true,
}

/** The book, as far as this needs one: who is in, and what it says to a sign-in. */
const book = { in: null as Me | null, signIn: [] as Response[], asked: [] as string[], wayIn: [] as WayInFault[] }

function json(status: number, body: unknown, headers: Record<string, string> = {}): Response {
  return new Response(JSON.stringify(body), { status, headers })
}

function refusal(type: ProblemType, headers: Record<string, string> = {}): Response {
  return json(PROBLEM_STATUS[type], { type: `/problems/${type}`, title: PROBLEM_TITLES[type], status: PROBLEM_STATUS[type] }, headers)
}

beforeEach(() => {
  book.in = null
  book.signIn = []
  book.asked = []
  book.wayIn = []
  vi.stubGlobal('fetch', async (url: string, init: RequestInit) => {
    if (url === '/api/door') return json(200, { setUp: true, demo: true, shop: 'Kettle Row Crank Works', hands: [] })
    if (url.startsWith('/api/way-in?seen=')) return json(200, { faults: book.wayIn })
    if (url === '/api/session' && init.method === 'POST') {
      book.asked.push(String(init.body))
      const answer = book.signIn.shift()
      if (answer) return answer
      book.in = hana
      return json(200, hana)
    }
    if (url === '/api/session') return book.in === null ? refusal('signed-out') : json(200, book.in)
    throw new Error(`not asked for: ${url}`)
  })
})
afterEach(() => {
  cleanup()
  vi.unstubAllGlobals()
})

function Counter() {
  return (
    <>
      <h1>Counter of {useMe().name}</h1>
      <input aria-label="Note" />
    </>
  )
}

function open(at: string) {
  const router = createMemoryRouter(
    [
      { path: 'sign-in', Component: SignInPage },
      {
        Component: SignedIn,
        children: [
          { index: true, Component: Home },
          { path: 'counter', Component: Counter },
        ],
      },
    ],
    { initialEntries: [at] },
  )
  render(
    <QueryClientProvider client={makeQueryClient()}>
      <RouterProvider router={router} />
      <SignInAgain />
    </QueryClientProvider>,
  )
  return router
}

async function fill(name: string, password: string) {
  fireEvent.change(await screen.findByLabelText('Name'), { target: { value: name } })
  fireEvent.change(screen.getByLabelText('Password'), { target: { value: password } })
  fireEvent.click(screen.getByRole('button', { name: 'Sign in' }))
}

test('who is not in is sent to the door and afterwards to where they were going', async () => {
  const router = open('/counter?late=true')
  await screen.findByRole('heading', { name: 'Kettle Row Crank Works' })
  expect(router.state.location.pathname).toBe('/sign-in')
  await fill('counter', 'kettle row crank')
  await screen.findByRole('heading', { name: 'Counter of Hana' })
  expect(router.state.location.search).toBe('?late=true')
  expect(book.asked).toEqual(['{"name":"counter","password":"kettle row crank"}'])
})

test.each(['//elsewhere.example/x', '/\\elsewhere.example', 'https://elsewhere.example'])(
  'a link that would lead out of the book (%s) leads home instead',
  async (to) => {
    const router = open(`/sign-in?to=${encodeURIComponent(to)}`)
    await fill('counter', 'kettle row crank')
    await screen.findByRole('heading', { name: 'Counter of Hana' })
    expect(router.state.location.pathname).toBe('/counter')
  },
)

test('fields left empty are named, the summary has the focus, and nothing is asked of the book', async () => {
  open('/sign-in')
  await fill('counter', '')
  expect(screen.getByLabelText('Password').getAttribute('aria-invalid')).toBe('true')
  expect(document.activeElement).toBe(screen.getByRole('alert'))
  expect(screen.getByRole('alert').textContent).toContain('Your password here.')
  expect(book.asked).toEqual([])
})

test.each([
  ['wrong-sign-in', {}, 'Name and password do not go together, or this person may not sign in.'],
  ['forbidden', {}, 'Not for this person.'],
  ['rate-limited', { 'retry-after': '30' }, 'That was too often. Try again in 30 seconds.'],
  ['rate-limited', { 'retry-after': '900' }, 'That was too often. Try again in 15 minutes.'],
] as const)('%s is said in plain words and the name stays', async (type, headers, words) => {
  book.signIn = [refusal(type, headers)]
  open('/sign-in')
  await fill('counter', 'kettle row crank')
  await waitFor(() => expect(screen.getByRole('alert').textContent).toContain(words))
  expect((screen.getByLabelText('Name') as HTMLInputElement).value).toBe('counter')
})

test('a sign-in that the browser does not keep is said, instead of asking for it again and again (S10)', async () => {
  // The answer is yes, and the next request still comes without a sign-in.
  book.signIn = [json(200, hana)]
  open('/sign-in')
  await fill('counter', 'kettle row crank')
  await waitFor(() => expect(screen.getByRole('alert').textContent).toContain('this browser did not keep the sign-in'))
  expect(screen.getByLabelText('Password')).toBeTruthy()
})

test('what is set wrong between browser and book stands on the page (S10)', async () => {
  book.wayIn = [{ code: 'proto-missing', says: 'The proxy does not tell the book so.', mend: 'Let it send X-Forwarded-Proto.' }]
  open('/sign-in')
  await screen.findByText('The proxy does not tell the book so. Let it send X-Forwarded-Proto.')
})

test('when the session ends the sign-in opens over the page and what was typed stays', async () => {
  book.in = hana
  open('/counter')
  fireEvent.change(await screen.findByLabelText('Note'), { target: { value: 'half a sentence' } })
  book.in = null
  announceSignedOut()
  await screen.findByRole('heading', { name: 'Signed out while you were here' })
  expect((screen.getByLabelText('Name') as HTMLInputElement).value).toBe('counter')
  fireEvent.change(screen.getByLabelText('Password'), { target: { value: 'kettle row crank' } })
  fireEvent.click(screen.getByRole('button', { name: 'Sign in' }))
  await waitFor(() => expect(screen.queryByRole('heading', { name: 'Signed out while you were here' })).toBeNull())
  expect((screen.getByLabelText('Note') as HTMLInputElement).value).toBe('half a sentence')
})

test('the end of a session that never was opens nothing', async () => {
  open('/sign-in')
  await screen.findByLabelText('Name')
  announceSignedOut()
  expect(screen.queryByText('Signed out while you were here')).toBeNull()
})
