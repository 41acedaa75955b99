import { type DehydratedState, dehydrate, hydrate, type Query, type QueryClient } from '@tanstack/react-query'
import { clear, createStore, get, set, type UseStore } from 'idb-keyval'
import type { Me } from '#contract/sessions.ts'
import { outbox } from '#web/lib/outbox/outbox.ts'
import { withoutNames } from '#web/lib/outbox/without-names.ts'

/** Older than this nothing is shown any more as if it stood. */
export const KEPT_READS_MS = 7 * 24 * 3_600_000
const REST_MS = 1_000
const LAST = 'last'

/** Another build may read the same answers otherwise: its own file name, which carries a fingerprint, tells them apart. */
const BUILD = new URL(import.meta.url).pathname

interface KeptReads {
  build: string
  at: number
  personId: string
  state: DehydratedState
}

/** Of one job: what its bench screens need. History, photos and the second check speak of people and are fetched only. */
const OF_A_JOB: readonly unknown[] = ['job', 'gate', 'truing', 'measured']

function isKept({ queryKey: [first, second, , fourth], state }: Pick<Query, 'queryKey' | 'state'>): boolean {
  if (state.status !== 'success' && state.data === undefined) return false
  if (first === 'session' || first === 'settings' || first === 'instruments' || first === 'door') return true
  if (first === 'hours') return second === 'clock'
  if (first === 'engines') return second === 'one'
  if (first !== 'jobs') return false
  return second === 'one' ? OF_A_JOB.includes(fourth) : second === 'list'
}

function scrubbed(queryKey: readonly unknown[], data: unknown): unknown {
  if (queryKey[0] === 'session') return { ...(data as Me), name: 'you', signIn: '' }
  if (queryKey[0] === 'door') return { ...(data as object), hands: [] }
  return withoutNames(data)
}

function storeOf(): UseStore | undefined {
  return typeof indexedDB === 'undefined' ? undefined : createStore('throwbook-reads', 'reads')
}

function signedIn(client: QueryClient): Me | null | undefined {
  return client.getQueryData<Me | null>(['session'])
}

/**
 * Puts back what the bench screens of this tablet showed last, so that they open without the network. Whose it was is
 * answered, so that another hand does not see it once it is known who is here.
 */
export async function putBackReads(client: QueryClient, now: number): Promise<void> {
  const store = storeOf()
  if (store === undefined) return
  const kept = await get<KeptReads>(LAST, store)
  if (kept === undefined) return
  if (kept.build !== BUILD || now - kept.at > KEPT_READS_MS) await clear(store)
  else {
    hydrate(client, kept.state)
    // All of it is asked anew in any case: the book may have gone on, and the session ended, while the tablet slept.
    await client.invalidateQueries({ refetchType: 'none' })
  }
}

/** Keeps what the bench screens showed on the tablet, for the bench role alone: its answers hold no customers. */
export function keepReads(client: QueryClient): () => void {
  const store = storeOf()
  if (store === undefined) return () => {}
  let timer: ReturnType<typeof setTimeout> | undefined
  let keptFor: string | undefined

  const write = async () => {
    timer = undefined
    const who = signedIn(client)
    // Not known yet is not signed out: a tablet that opens without the network keeps what it has.
    if (who === undefined) return
    if (who?.role !== 'bench') {
      keptFor = undefined
      await clear(store)
      return
    }
    const state = dehydrate(client, {
      shouldDehydrateQuery: isKept,
      shouldDehydrateMutation: () => false,
      serializeData: (data) => data,
    })
    const queries = state.queries.map((query) => ({
      ...query,
      state: { ...query.state, data: scrubbed(query.queryKey, query.state.data), error: null, fetchFailureReason: null },
    }))
    keptFor = who.id
    const reads: KeptReads = { build: BUILD, at: Date.now(), personId: who.id, state: { mutations: [], queries } }
    await set(LAST, reads, store)
  }
  const plan = () => {
    timer ??= setTimeout(() => void write().catch(() => undefined), REST_MS)
  }
  const stop = client.getQueryCache().subscribe((event) => {
    if (event.type !== 'updated' || event.action.type !== 'success') return
    const isSession = event.query.queryKey[0] === 'session'
    if (isSession) {
      const box = outbox()
      // Signed in again over the page: what was held back for it goes out now.
      if (signedIn(client)?.id === box?.who()?.id) void box?.sendNow().catch(() => undefined)
      else box?.setWho(undefined)
    }
    if (isSession && signedIn(client)?.id !== keptFor) {
      // Signed out, or another hand: what the one before saw goes at once.
      clearTimeout(timer)
      timer = undefined
      void clear(store)
        .then(write)
        .catch(() => undefined)
    } else if (isKept(event.query)) plan()
  })
  return () => {
    stop()
    clearTimeout(timer)
  }
}
