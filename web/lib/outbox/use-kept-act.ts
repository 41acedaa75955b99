import { type QueryClient, type QueryKey, type UseMutationResult, useMutation, useQueryClient } from '@tanstack/react-query'
import { useRef } from 'react'
import { newKey } from '#web/lib/id.ts'
import type { KeptAnswer } from '#web/lib/outbox/post-kept.ts'

/** One press: the key it goes out with, and when it was. Pressed again after no answer it is the same press. */
export interface Press {
  key: string
  at: string
}

/**
 * One act of the hand that goes through the outbox, as a mutation: online and offline are one way. `ages` are the queries
 * that it makes old; they are fetched anew where the book has it. Where only the tablet has it the screens go on with what
 * is shown in its place, and the outbox sees to the rest.
 */
export function useKeptAct<Given, Answer>(
  send: (given: Given, press: Press, client: QueryClient) => Promise<KeptAnswer<Answer>>,
  ages: readonly QueryKey[],
): UseMutationResult<Answer, Error, Given> {
  const client = useQueryClient()
  const last = useRef<{ given: string; press: Press } | undefined>(undefined)
  const isInBook = useRef(true)
  return useMutation({
    mutationFn: async (given: Given) => {
      const written = JSON.stringify(given) ?? ''
      if (last.current?.given !== written) last.current = { given: written, press: { key: newKey(), at: new Date().toISOString() } }
      const kept = await send(given, last.current.press, client)
      isInBook.current = kept.isInBook
      return kept.answer
    },
    onSuccess: async () => {
      last.current = undefined
      if (isInBook.current) await Promise.all(ages.map((queryKey) => client.invalidateQueries({ queryKey })))
    },
  })
}
