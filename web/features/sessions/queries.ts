import { type QueryClient, queryOptions, useMutation, useQueryClient } from '@tanstack/react-query'
import type { z } from 'zod'
import type { Door, Me, pinSignIn, signIn } from '#contract/sessions.ts'
import { get, post, remove } from '#web/lib/http.ts'
import { Problem } from '#web/lib/problem.ts'

/** What anybody may know at the door: the shop's name, whether it is the demo book. */
export const doorQuery = queryOptions({ queryKey: ['door'], queryFn: ({ signal }) => get<Door>('/api/door', { signal }) })

/** Who is signed in here; null when nobody is. */
export const meQuery = queryOptions({
  queryKey: ['session'],
  queryFn: async ({ signal }): Promise<Me | null> => {
    try {
      return await get<Me>('/api/session', { signal, quietWhenSignedOut: true })
    } catch (error) {
      if (error instanceof Problem && error.type === 'signed-out') return null
      throw error
    }
  },
  staleTime: 60_000,
})

/** Name and password were right, but the browser sends no sign-in back: signing in again would only do the same. */
export class SignInNotKept extends Error {
  override readonly name = 'SignInNotKept'
}

async function signInAndSee(given: z.infer<typeof signIn>): Promise<Me> {
  await post<Me>('/api/session', given, { quietWhenSignedOut: true })
  try {
    return await get<Me>('/api/session', { quietWhenSignedOut: true })
  } catch (error) {
    if (error instanceof Problem && error.type === 'signed-out') throw new SignInNotKept('the browser kept no sign-in')
    throw error
  }
}

export function useSignIn() {
  const client = useQueryClient()
  return useMutation({
    mutationFn: signInAndSee,
    onSuccess: (who) => {
      client.setQueryData(meQuery.queryKey, who)
    },
  })
}

/** What does not change with the person at the tablet. */
const OF_THE_TABLET: readonly string[] = ['session', 'door', 'settings']

/** Forgets what the book told the one before, and asks for it again: a first reading may be hidden from this one. */
export function forgetBefore(client: QueryClient): void {
  void client.resetQueries({ predicate: (query) => !OF_THE_TABLET.includes(String(query.queryKey[0])) })
}

/** Another hand takes the tablet over. What is typed and not sent lies with its own person and stays there. */
export function usePinSignIn() {
  const client = useQueryClient()
  return useMutation({
    mutationFn: (given: z.infer<typeof pinSignIn>) => post<Me>('/api/session/pin', given, { quietWhenSignedOut: true }),
    onSuccess: (who) => {
      client.setQueryData(meQuery.queryKey, who)
      forgetBefore(client)
    },
  })
}

export function useSignOut() {
  const client = useQueryClient()
  return useMutation({
    mutationFn: () => remove('/api/session', { version: undefined, quietWhenSignedOut: true }),
    // Whether or not the book heard it, nothing of this person stays in the browser.
    onSettled: () => {
      // The question who is here stays and is answered, so that the page that asks it hears; all else goes.
      client.setQueryData(meQuery.queryKey, null)
      client.removeQueries({ predicate: (query) => query.queryKey[0] !== meQuery.queryKey[0] })
      client.getMutationCache().clear()
    },
  })
}
