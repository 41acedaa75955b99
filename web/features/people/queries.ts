import { queryOptions } from '@tanstack/react-query'
import type { z } from 'zod'
import type { ownPasswordNew, ownPin, Person, PersonNew, personChange } from '#contract/people.ts'
import { get, patch, post, put } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

export const peopleQuery = queryOptions({ queryKey: ['people'], queryFn: ({ signal }) => get<Person[]>('/api/people', { signal }) })

export function usePersonNew() {
  return useAct((given: PersonNew, key) => post<Person>('/api/people', given, { key }), [['people']])
}

export function usePersonChange(id: string) {
  return useAct(
    (given: { change: z.infer<typeof personChange>; version: number }, key) =>
      patch<Person>(`/api/people/${id}`, given.change, { version: given.version, key }),
    [['people']],
  )
}

/** Whose session asks; it says whether a PIN is set. */
export function useOwnPin() {
  return useAct(
    (given: z.infer<typeof ownPin>, key) => put<Person>('/api/people/me/pin', given, { version: undefined, key }),
    [['people'], ['session']],
  )
}

/** Other sessions of this person end with it. */
export function useOwnPassword() {
  return useAct(
    (given: z.infer<typeof ownPasswordNew>, key) => put<Person>('/api/people/me/password', given, { version: undefined, key }),
    [['people'], ['sessions']],
  )
}
