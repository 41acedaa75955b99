/** An EventSource, a lock and a channel that do what a test says, in place of the browser's. */
import { vi } from 'vitest'

export class FakeSource extends EventTarget {
  static all: FakeSource[] = []
  readonly url: string
  closed = false

  constructor(url: string) {
    super()
    this.url = url
    FakeSource.all.push(this)
  }

  /** What the server says. An event without a name is a message. */
  says(data: object, event = 'message'): void {
    this.dispatchEvent(new MessageEvent(event, { data: JSON.stringify(data) }))
  }

  breaks(): void {
    this.dispatchEvent(new Event('error'))
  }

  close(): void {
    this.closed = true
  }
}

/** Streams that are open now. */
export const openSources = () => FakeSource.all.filter((source) => !source.closed)

export function fakeStreams(): void {
  FakeSource.all = []
  vi.stubGlobal('EventSource', FakeSource)
}

/** One browser of several tabs: a lock that one holds at a time, and a channel on which each hears the others. */
export function fakeTabs(): void {
  const queue: { run: () => Promise<void>; signal: AbortSignal; fail: (why: Error) => void }[] = []
  let busy = false
  const next = () => {
    const first = busy ? undefined : queue.shift()
    if (first === undefined) return
    busy = true
    void Promise.resolve(first.run()).finally(() => {
      busy = false
      next()
    })
  }
  vi.stubGlobal('navigator', {
    locks: {
      request: (_name: string, { signal }: { signal: AbortSignal }, work: () => Promise<void>) =>
        new Promise<void>((resolve, fail) => {
          const asked = { run: async () => resolve(await work()), signal, fail }
          signal.addEventListener('abort', () => {
            if (queue.includes(asked)) queue.splice(queue.indexOf(asked), 1)
            fail(new Error('gone'))
          })
          queue.push(asked)
          next()
        }),
    },
  })
  const channels = new Set<FakeChannel>()
  class FakeChannel extends EventTarget {
    constructor() {
      super()
      channels.add(this)
    }
    postMessage(data: unknown): void {
      for (const other of channels) if (other !== this) other.dispatchEvent(new MessageEvent('message', { data: structuredClone(data) }))
    }
    close(): void {
      channels.delete(this)
    }
  }
  vi.stubGlobal('BroadcastChannel', FakeChannel)
}
