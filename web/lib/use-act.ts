import { type QueryKey, type UseMutationResult, useMutation, useQueryClient } from '@tanstack/react-query'
import { useRef } from 'react'
import { newKey } from '#web/lib/id.ts'
import { Problem } from '#web/lib/problem.ts'

/**
 * One act of the hand as a mutation. Pressing again after no answer sends the same thing with the same Idempotency-Key, so
 * that it is done once; a change in what is sent makes a new act. `ages` are the queries that the act makes old: they are
 * fetched anew before the act counts as done, so that the page never shows the old state without its “busy”. With
 * `anewWhenStale` they are also fetched anew where somebody else changed the thing first, for acts that show it as it stands.
 */
export function useAct<Given, Answer>(
  send: (given: Given, key: string) => Promise<Answer>,
  ages: readonly QueryKey[],
  { anewWhenStale = false }: { anewWhenStale?: boolean } = {},
): UseMutationResult<Answer, Error, Given> {
  const client = useQueryClient()
  const last = useRef<{ given: string; key: string } | undefined>(undefined)
  const fetchAnew = () => Promise.all(ages.map((queryKey) => client.invalidateQueries({ queryKey })))
  return useMutation({
    mutationFn: (given: Given) => {
      const written = JSON.stringify(given) ?? ''
      if (last.current?.given !== written) last.current = { given: written, key: newKey() }
      return send(given, last.current.key)
    },
    onSuccess: async () => {
      last.current = undefined
      await fetchAnew()
    },
    onError: async (error) => {
      if (anewWhenStale && error instanceof Problem && error.type === 'stale-version') await fetchAnew()
    },
  })
}
