import { infiniteQueryOptions, keepPreviousData } from '@tanstack/react-query'
import type { z } from 'zod'
import type { AuditCheck, auditPage } from '#contract/audit.ts'
import type { AuditSearch } from '#web/features/audit/search.ts'
import { get } from '#web/lib/http.ts'

const LINES = 50

export function auditQuery(asked: AuditSearch) {
  const query = Object.fromEntries(Object.entries(asked).map(([name, value]) => [name, value === '' ? undefined : value]))
  return infiniteQueryOptions({
    queryKey: ['audit', asked],
    queryFn: ({ pageParam, signal }) =>
      get<z.infer<typeof auditPage>>('/api/audit', { signal, query: { ...query, after: pageParam, limit: LINES } }),
    initialPageParam: undefined as string | undefined,
    getNextPageParam: (last) => last.next ?? undefined,
    placeholderData: keepPreviousData,
  })
}

/** Follows the chain piece by piece to its end or its first fault, telling how far it is. */
export async function checkChain(onPiece: (piece: AuditCheck) => void, signal: AbortSignal): Promise<AuditCheck> {
  for (let after = 0; ; ) {
    const piece = await get<AuditCheck>('/api/audit/check', { signal, query: { after } })
    onPiece(piece)
    if (piece.next === null) return piece
    after = piece.next
  }
}
