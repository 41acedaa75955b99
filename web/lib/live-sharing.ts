import { liveNews, openStream, type Said, type Stream } from '#web/lib/live-stream.ts'

const NAME = 'throwbook-live'

/** What one tab tells the others. */
type Word = Said | { kind: 'ask' } | { kind: 'last'; seq: number }

export interface Shared {
  hear(said: Said): void
  isSomebodyIn(): Promise<boolean>
}

/**
 * One stream for all tabs of a browser, since HTTP/1.1 gives them six connections together: whoever holds the lock keeps
 * the stream and tells the others; when that tab goes, the next one goes on where it left off. Where the browser has no
 * locks (plain http) each tab has a stream of its own while it is looked at.
 */
export function shareStream(shared: Shared): () => void {
  if (typeof EventSource === 'undefined') return () => {}
  const { locks } = navigator as { locks?: LockManager | null }
  if (!locks || typeof BroadcastChannel === 'undefined') return whileLookedAt(shared)

  const channel = new BroadcastChannel(NAME)
  const gone = new AbortController()
  let stream: Stream | undefined
  let last: number | undefined
  let state: Said | undefined

  const heard = (said: Said) => {
    if (said.kind === 'news') last = said.news.seq
    if (said.kind === 'up' || said.kind === 'down') state = said
    shared.hear(said)
  }
  channel.addEventListener('message', ({ data }: MessageEvent<Word>) => {
    if (data.kind === 'ask') {
      if (stream === undefined) return
      if (state !== undefined) channel.postMessage(state)
      const seq = stream.last()
      if (seq !== undefined) channel.postMessage({ kind: 'last', seq } satisfies Word)
    } else if (data.kind === 'last') last = Math.max(last ?? 0, data.seq)
    else if (stream === undefined && isSaid(data)) heard(data)
  })
  channel.postMessage({ kind: 'ask' } satisfies Word)

  const holdStream = () =>
    new Promise<void>((release) => {
      const open = openStream({
        after: last,
        isSomebodyIn: shared.isSomebodyIn,
        hear: (said) => {
          heard(said)
          channel.postMessage(said)
          const seq = said.kind === 'gap' ? stream?.last() : undefined
          if (seq !== undefined) channel.postMessage({ kind: 'last', seq } satisfies Word)
        },
      })
      stream = open
      gone.signal.addEventListener('abort', () => {
        open.close()
        stream = undefined
        release()
      })
    })
  locks
    .request(NAME, { signal: gone.signal }, () => (gone.signal.aborted ? undefined : holdStream()))
    .catch(() => {
      // Gone before it was this tab's turn.
    })

  return () => {
    gone.abort()
    channel.close()
  }
}

/** Another tab may run an older or newer page; what it says is looked at before it is believed. */
function isSaid(word: { kind: string; news?: unknown }): word is Said {
  return word.kind === 'news' ? liveNews(word.news) : ['gap', 'end', 'up', 'down'].includes(word.kind)
}

function whileLookedAt(shared: Shared): () => void {
  let stream: Stream | undefined
  let last: number | undefined
  const look = () => {
    if (document.hidden) {
      last = stream?.last() ?? last
      stream?.close()
      stream = undefined
    } else stream ??= openStream({ ...shared, after: last })
  }
  look()
  document.addEventListener('visibilitychange', look)
  return () => {
    document.removeEventListener('visibilitychange', look)
    stream?.close()
  }
}
