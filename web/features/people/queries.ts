import { queryOptions } from '@tanstack/react-query'
import { z } from 'zod'
import { type ownPasswordNew, type ownPin, type PersonNew, person, type personChange } from '#contract/people.ts'
import { get, patch, post, put } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

export const peopleQuery = queryOptions({ queryKey: ['people'], queryFn: ({ signal }) => get('/api/people', z.array(person), { signal }) })

export function usePersonNew() {
  return useAct((given: PersonNew, key) => post('/api/people', given, person, { key }), [['people']])
}

export function usePersonChange(id: string) {
  return useAct(
    (given: { change: z.infer<typeof personChange>; version: number }, key) =>
      patch(`/api/people/${id}`, given.change, person, { version: given.version, key }),
    [['people']],
  )
}

/** Whose session asks; it says whether a PIN is set. */
export function useOwnPin() {
  return useAct(
    (given: z.infer<typeof ownPin>, key) => put('/api/people/me/pin', given, person, { version: undefined, key }),
    [['people'], ['session']],
  )
}

/** Other sessions of this person end with it. */
export function useOwnPassword() {
  return useAct(
    (given: z.infer<typeof ownPasswordNew>, key) => put('/api/people/me/password', given, person, { version: undefined, key }),
    [['people'], ['sessions']],
  )
}
