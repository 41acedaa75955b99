import type { Query, QueryClient } from '@tanstack/react-query'
import { agedBy, agedByGap } from '#web/lib/live-keys.ts'
import { shareStream } from '#web/lib/live-sharing.ts'
import { type Said, STREAM } from '#web/lib/live-stream.ts'

export const LIVE = {
  /** Events that come together are answered together. */
  gatherMs: 120,
  /** The stream may be away this long before anybody is told. */
  quietMs: 10_000,
} as const

export interface LiveOptions {
  client: QueryClient
  /** Asks the book who is signed in, in sight of everybody: false (and the sign-in opens) when nobody is. */
  isSomebodyIn(): Promise<boolean>
  /** The session of this browser ended, or has another role now. */
  onEnd(): void
  /** The stream has been away for a while (since when it was last heard), or is back (undefined). */
  onAway(lastHeard: number | undefined): void
}

/**
 * Keeps what is on the screen as the book has it: an event makes the queries that it touches old, and those that are shown
 * are asked again. Fields in edit hold what was typed, since forms take from a query only when they open.
 */
export function startLive({ client, isSomebodyIn, onEnd, onAway }: LiveOptions): () => void {
  const old = new Set<string>()
  let timer: ReturnType<typeof setTimeout> | undefined
  let away: ReturnType<typeof setTimeout> | undefined
  let isDown = false

  const gather = () => {
    timer ??= setTimeout(flush, LIVE.gatherMs)
  }

  function flush(): void {
    timer = undefined
    const ready: string[] = []
    for (const hash of old) {
      const query = client.getQueryCache().get(hash)
      // An answer on its way may have been read before the change; it is let through, and asked once more after it.
      if (query?.state.fetchStatus === 'fetching') continue
      old.delete(hash)
      if (query !== undefined) ready.push(hash)
    }
    if (old.size > 0) gather()
    if (ready.length === 0) return
    // A page in the background is asked again when somebody looks at it.
    void client.invalidateQueries({
      predicate: (query) => ready.includes(query.queryHash),
      refetchType: document.hidden ? 'none' : 'active',
    })
  }

  const age = (isAged: (query: Query) => boolean) => {
    for (const query of client.getQueryCache().getAll()) if (isAged(query)) old.add(query.queryHash)
    if (old.size > 0) gather()
  }

  const hear = (said: Said) => {
    if (said.kind === 'news') age((query) => agedBy(said.news, query.queryKey))
    // What this page fetched before its stream began may have changed in between; it is seldom more than the first answer.
    else if (said.kind === 'gap') age((query) => agedByGap(query.queryKey) && query.state.dataUpdatedAt > 0)
    else if (said.kind === 'end') {
      if (said.why !== 'closing') onEnd()
    } else if (said.kind === 'up') {
      isDown = false
      onAway(undefined)
      // The tab that holds the stream may itself have been put to sleep.
      expectWithin(STREAM.silentMs + LIVE.quietMs, said.at)
    } else if (!isDown) {
      isDown = true
      expectWithin(LIVE.quietMs, said.at)
    }
  }

  function expectWithin(ms: number, lastHeard: number): void {
    clearTimeout(away)
    away = setTimeout(() => onAway(lastHeard), ms)
  }

  const stop = shareStream({ hear, isSomebodyIn })
  return () => {
    stop()
    clearTimeout(timer)
    clearTimeout(away)
  }
}
