import { QueryClientProvider } from '@tanstack/react-query'
import { render } from '@testing-library/react'
import type { ComponentType } from 'react'
import { createMemoryRouter, RouterProvider } from 'react-router'
import { vi } from 'vitest'
import { PROBLEM_STATUS, PROBLEM_TITLES, type ProblemType } from '#contract/problem-types.ts'
import type { Me } from '#contract/sessions.ts'
import { dial4, dial7, settings, sheet } from '#tests/web/truing/sample-bench.ts'
import { makeQueryClient } from '#web/lib/query-client.ts'
import { SignedIn } from '#web/pages/signed-in.tsx'

/** One request as the page sent it. */
export interface Sent {
  method: string
  path: string
  body: unknown
  key: string | null
}

type Answer = unknown | ((sent: Sent) => unknown)

/** The book at the network: what it answers by method and path, and everything that was sent to it. */
export interface FakeBook {
  answers: Map<string, Answer>
  sent: Sent[]
}

export class Refusal {
  readonly type: ProblemType
  readonly extra: Record<string, unknown>

  constructor(type: ProblemType, extra: Record<string, unknown> = {}) {
    this.type = type
    this.extra = extra
  }
}

/** No answer at all, as from a network that is gone. */
export class NoAnswer {}

export function fakeBook(me: Me | null, answers: Record<string, Answer>): FakeBook {
  const book: FakeBook = {
    answers: new Map<string, Answer>([
      ['GET /api/session', me ?? new Refusal('signed-out')],
      ['GET /api/door', { setUp: true, demo: true, shop: settings.shopName, hands: [] }],
      ['GET /api/settings', settings],
      ['GET /api/instruments', [dial4, dial7]],
      ['GET /api/clock', { running: null, unanswered: [] }],
      [`GET /api/engines/${sheet.id}`, sheet],
      ...Object.entries(answers),
    ]),
    sent: [],
  }
  vi.stubGlobal('fetch', async (address: string, init: RequestInit) => {
    const method = init.method ?? 'GET'
    const path = address.split('?')[0] ?? address
    const body = typeof init.body === 'string' ? JSON.parse(init.body) : undefined
    const sent: Sent = { method, path, body, key: new Headers(init.headers).get('idempotency-key') }
    book.sent.push(sent)
    const known = book.answers.get(`${method} ${path}`)
    const answer = typeof known === 'function' ? known(sent) : known
    if (answer instanceof NoAnswer) throw new TypeError('Failed to fetch')
    if (answer === undefined) return problem('not-found', {})
    return answer instanceof Refusal ? problem(answer.type, answer.extra) : new Response(JSON.stringify(answer), { status: 200 })
  })
  return book
}

function problem(type: ProblemType, extra: Record<string, unknown>): Response {
  const status = PROBLEM_STATUS[type]
  return new Response(JSON.stringify({ type: `/problems/${type}`, title: PROBLEM_TITLES[type], status, ...extra }), { status })
}

export function posts(book: FakeBook, path: string): Sent[] {
  return book.sent.filter((one) => one.method === 'POST' && one.path === path)
}

function Elsewhere() {
  return <h1>Somewhere else</h1>
}

/** The pages at their addresses, behind the sign-in or before it. */
export function openAt(address: string, pages: Record<string, ComponentType>, open = false) {
  const children = Object.entries(pages).map(([path, Page]) => ({ path, Component: Page }))
  const elsewhere = { path: '*', Component: Elsewhere }
  const router = createMemoryRouter(open ? [...children, elsewhere] : [{ Component: SignedIn, children: [...children, elsewhere] }], {
    initialEntries: [address],
  })
  render(
    <QueryClientProvider client={makeQueryClient()}>
      <RouterProvider router={router} />
    </QueryClientProvider>,
  )
  return router
}
