import type { LiveEnd, LiveNews, LivePoint } from '#contract/live.ts'
import { fields, figure, oneOf, optional, read, type Shape, text } from '#web/lib/shape.ts'

/** What the stream says, in the words of the wire. */
export type Said =
  | { kind: 'news'; news: LiveNews }
  /** Too much was missed, or the stream began afresh: what was fetched before it may be old. */
  | { kind: 'gap' }
  /** The server ended it: the session is over or has changed. */
  | { kind: 'end'; why: LiveEnd }
  | { kind: 'up'; at: number }
  /** It is away; `at` is when it was last heard. */
  | { kind: 'down'; at: number }

export const liveNews = fields<LiveNews>({ entity: text, id: text, jobId: optional(text), seq: figure })
const livePoint = fields<LivePoint>({ seq: figure })
const liveEnd = fields<{ why: LiveEnd }>({ why: oneOf('signed-out', 'changed', 'closing') })

export const STREAM = {
  /** Beats come every 15 s; a stream without a sign for this long is dead, whatever the browser thinks. */
  silentMs: 40_000,
  firstWaitMs: 1_000,
  mostWaitMs: 30_000,
} as const

export interface StreamOptions {
  hear(said: Said): void
  /** Where an earlier stream left off. */
  after?: number | undefined
  /** Asks the book who is signed in; false when nobody is. Anything thrown means that the book cannot be reached. */
  isSomebodyIn(): Promise<boolean>
  random?: () => number
}

export interface Stream {
  /** Number of the last event heard. */
  last(): number | undefined
  close(): void
}

/** One stream of server-sent events that comes back by itself, later each time, and gives up only when nobody is signed in. */
export function openStream({ hear, after, isSomebodyIn, random = Math.random }: StreamOptions): Stream {
  let last = after
  let source: EventSource | undefined
  let waiting: ReturnType<typeof setTimeout> | undefined
  let silence: ReturnType<typeof setTimeout> | undefined
  let tries = 0
  let closed = false
  let heardAt = Date.now()

  const leave = () => {
    clearTimeout(silence)
    source?.close()
    source = undefined
  }

  const alive = () => {
    tries = 0
    clearTimeout(silence)
    silence = setTimeout(fell, STREAM.silentMs)
    heardAt = Date.now()
    hear({ kind: 'up', at: heardAt })
  }

  const again = () => {
    if (closed) return
    const wait = Math.min(STREAM.mostWaitMs, STREAM.firstWaitMs * 2 ** tries++) * (0.8 + 0.4 * random())
    clearTimeout(waiting)
    waiting = setTimeout(connect, wait)
  }

  /** An EventSource does not say why it failed, so the book is asked whether anybody is signed in. */
  const fell = () => {
    leave()
    if (closed) return
    hear({ kind: 'down', at: heardAt })
    isSomebodyIn().then(
      (somebody) => {
        if (somebody) again()
      },
      () => again(),
    )
  }

  function connect(): void {
    if (closed) return
    const fresh = last === undefined
    const next = new EventSource(last === undefined ? '/api/live' : `/api/live?after=${last}`)
    source = next
    next.addEventListener('error', () => {
      if (source === next) fell()
    })
    next.addEventListener('message', (event) => {
      const news = dataOf(liveNews, event)
      if (news === undefined) return
      last = news.seq
      alive()
      hear({ kind: 'news', news })
    })
    next.addEventListener('here', (event) => {
      const point = dataOf(livePoint, event)
      if (fresh) last = point?.seq ?? last
      alive()
      if (fresh) hear({ kind: 'gap' })
    })
    next.addEventListener('all', (event) => {
      last = dataOf(livePoint, event)?.seq ?? last
      alive()
      hear({ kind: 'gap' })
    })
    next.addEventListener('beat', alive)
    next.addEventListener('end', (event) => {
      const why = dataOf(liveEnd, event)?.why ?? 'closing'
      leave()
      hear({ kind: 'end', why })
      if (why === 'closing') again()
      else fell()
    })
  }

  connect()
  return {
    last: () => last,
    close() {
      closed = true
      clearTimeout(waiting)
      leave()
    },
  }
}

function dataOf<Data>(shape: Shape<Data>, event: Event): Data | undefined {
  if (!(event instanceof MessageEvent) || typeof event.data !== 'string') return undefined
  try {
    return read(shape, JSON.parse(event.data))
  } catch {
    return undefined
  }
}
