import { QueryClientProvider } from '@tanstack/react-query'
import { cleanup, configure, render } from '@testing-library/react'
import { createMemoryRouter, RouterProvider } from 'react-router'
import { vi } from 'vitest'
import type { Role } from '#contract/people.ts'
import { PROBLEM_STATUS, PROBLEM_TITLES, type ProblemType } from '#contract/problem-types.ts'
import type { Me } from '#contract/sessions.ts'
import { FIRST_SETTINGS } from '#contract/settings.ts'
import { makeQueryClient } from '#web/lib/query-client.ts'
import { routes } from '#web/router.tsx'

// A page is fetched the first time that it is opened, which on a busy machine takes longer than the usual second.
configure({ asyncUtilTimeout: 4000 })

/** What a screen asked of the book. */
export interface Asked {
  method: string
  path: string
  query: URLSearchParams
  body: unknown
  headers: Headers
}

type Answer = (asked: Asked, parts: Record<string, string>) => unknown

/** A refusal of the book, as the wire says it. */
export function refusal(type: ProblemType, more: object = {}): Response {
  const status = PROBLEM_STATUS[type]
  return new Response(JSON.stringify({ type: `/problems/${type}`, title: PROBLEM_TITLES[type], status, ...more }), {
    status,
    headers: { 'content-type': 'application/problem+json' },
  })
}

export const HANA = '0198f3a0-0000-7000-8000-000000000001'

function meOf(role: Role): Me {
  return {
    id: HANA,
    name: role === 'counter' ? 'Hana' : role === 'bench' ? 'Jonas' : 'Ewa',
    signIn: role,
    role,
    maySign: role === 'owner',
    hasPin: false,
    endsAt: '2026-11-24T20:00:00Z',
    idleMinutes: 240,
    enrolled: false,
    demo: false,
  }
}

/** Colons name the parts of an address: `/api/jobs/:id`. */
function matched(pattern: string, path: string): Record<string, string> | undefined {
  const names: string[] = []
  const shape = pattern.replace(/:([a-z]+)/gi, (_whole, name: string) => {
    names.push(name)
    return '([^/]+)'
  })
  const found = new RegExp(`^${shape}$`).exec(path)
  return found === null ? undefined : Object.fromEntries(names.map((name, place) => [name, found[place + 1] ?? '']))
}

export interface ShopBook {
  /** Everything asked so far, oldest first. */
  asked: Asked[]
  /** `GET /api/jobs/:id`; a later answer to the same takes the place of the earlier one. */
  answer(route: string, answer: Answer): void
  /** What was sent with one method to one address. */
  sent(method: string, path: string): Asked[]
}

/** A book at the level of the network: what no test answers is refused as not there. */
export function shopBook(role: Role): ShopBook {
  const answers = new Map<string, Answer>()
  const book: ShopBook = {
    asked: [],
    answer: (route, answer) => answers.set(route, answer),
    sent: (method, path) => book.asked.filter((one) => one.method === method && one.path === path),
  }
  book.answer('GET /api/session', () => meOf(role))
  book.answer('GET /api/door', () => ({ setUp: true, demo: false, shop: 'Kettle Row Crank Works', hands: [] }))
  book.answer('GET /api/settings', () => ({ ...FIRST_SETTINGS, shopName: 'Kettle Row Crank Works', version: 1 }))
  book.answer('GET /api/people', () => [])
  vi.stubGlobal('fetch', async (address: string, init: RequestInit) => {
    const url = new URL(address, 'http://book.example')
    const asked: Asked = {
      method: init.method ?? 'GET',
      path: url.pathname,
      query: url.searchParams,
      body: typeof init.body === 'string' ? JSON.parse(init.body) : init.body,
      headers: new Headers(init.headers),
    }
    book.asked.push(asked)
    for (const [route, answer] of answers) {
      const [method, pattern] = route.split(' ')
      const parts = method === asked.method ? matched(pattern ?? '', asked.path) : undefined
      if (parts === undefined) continue
      const given = answer(asked, parts)
      if (given instanceof Response) return given
      return given === undefined ? new Response(null, { status: 204 }) : new Response(JSON.stringify(given), { status: 200 })
    }
    return refusal('not-found')
  })
  return book
}

/** Opens a page of the shop at its address, with everything around it. */
export function openAt(address: string) {
  const router = createMemoryRouter(routes, { initialEntries: [address] })
  const client = makeQueryClient()
  render(
    <QueryClientProvider client={client}>
      <RouterProvider router={router} />
    </QueryClientProvider>,
  )
  return { router, client }
}

export function closeAll(): void {
  cleanup()
  vi.unstubAllGlobals()
}
