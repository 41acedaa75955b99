import { queryOptions } from '@tanstack/react-query'
import type { Proof, Proofs } from '#contract/proofs.ts'
import { get, post } from '#web/lib/http.ts'
import { useAct } from '#web/lib/use-act.ts'

const PROOFS = ['proofs'] as const
const WHILE_UNDER_WAY_MS = 2_000

export const proofsQuery = queryOptions({
  queryKey: PROOFS,
  queryFn: ({ signal }) => get<Proofs>('/api/proofs', { signal }),
  refetchInterval: (query) => (query.state.data?.underWay ? WHILE_UNDER_WAY_MS : false),
})

export function useProveNow() {
  return useAct((_given: undefined, key) => post<Proof>('/api/proofs', {}, { key }), [PROOFS])
}
