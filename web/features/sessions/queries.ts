import { queryOptions, useMutation, useQueryClient } from '@tanstack/react-query'
import type { z } from 'zod'
import { door, type Me, me, type signIn } from '#contract/sessions.ts'
import { get, nothing, post, remove } from '#web/lib/http.ts'
import { Problem } from '#web/lib/problem.ts'

/** What anybody may know at the door: the shop's name, whether it is the demo book. */
export const doorQuery = queryOptions({ queryKey: ['door'], queryFn: ({ signal }) => get('/api/door', door, { signal }) })

/** Who is signed in here; null when nobody is. */
export const meQuery = queryOptions({
  queryKey: ['session'],
  queryFn: async ({ signal }): Promise<Me | null> => {
    try {
      return await get('/api/session', me, { signal, quietWhenSignedOut: true })
    } catch (error) {
      if (error instanceof Problem && error.type === 'signed-out') return null
      throw error
    }
  },
  staleTime: 60_000,
})

export function useSignIn() {
  const client = useQueryClient()
  return useMutation({
    mutationFn: (given: z.infer<typeof signIn>) => post('/api/session', given, me, { quietWhenSignedOut: true }),
    onSuccess: (who) => {
      client.setQueryData(meQuery.queryKey, who)
    },
  })
}

export function useSignOut() {
  const client = useQueryClient()
  return useMutation({
    mutationFn: () => remove('/api/session', nothing, { version: undefined, quietWhenSignedOut: true }),
    // Whether or not the book heard it, nothing of this person stays in the browser.
    onSettled: () => {
      client.clear()
      client.setQueryData(meQuery.queryKey, null)
    },
  })
}
