import { QueryClient } from '@tanstack/react-query'
import { Problem, TookTooLong, Unreachable } from '#web/lib/problem.ts'

const TRIES = 2

/** Asking again helps when the book did not answer or was busy; it never helps when it said no. */
function worthAskingAgain(failures: number, error: unknown): boolean {
  if (failures >= TRIES) return false
  return error instanceof Unreachable || error instanceof TookTooLong || (error instanceof Problem && error.status === 503)
}

export function makeQueryClient(): QueryClient {
  return new QueryClient({
    defaultOptions: {
      // The book stands in the shop: whether the tablet thinks it is on the internet says nothing about reaching it.
      queries: { networkMode: 'always', retry: worthAskingAgain, staleTime: 15_000 },
      mutations: { networkMode: 'always', retry: false },
    },
  })
}
