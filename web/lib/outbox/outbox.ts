import type { Role } from '#contract/people.ts'
import type { Me } from '#contract/sessions.ts'
import { get, hasFile, post } from '#web/lib/http.ts'
import { oneAtATime } from '#web/lib/outbox/one-at-a-time.ts'
import type { OutboxNew, OutboxRecord } from '#web/lib/outbox/record.ts'
import { makeSender, type Outcome } from '#web/lib/outbox/sender.ts'
import { type OutboxStore, tabletStore } from '#web/lib/outbox/store.ts'
import { type Verdict, verdictOf } from '#web/lib/outbox/verdict.ts'
import { NewerBook, Problem } from '#web/lib/problem.ts'
import { fields, read, text } from '#web/lib/shape.ts'
import { announceSignedOut } from '#web/lib/signed-out.ts'

const CHANNEL = 'throwbook-outbox'
/** The most that a record waits unasked in a tab that looks on while another sends. */
const LOOK_AGAIN_MS = 30_000

/** What one tab tells the others of this browser. */
type Word = { kind: 'changed' } | { kind: 'outcome'; outcome: Exclude<Outcome, { kind: 'refused' }> }

export interface WhoWaits {
  id: string
  role: Role
}

type Listener = () => void

/** What waits on this tablet, for the screens; one a page. */
export interface Outbox {
  /** Puts a record on the tablet and sends it as soon as it can be. Rejects where the tablet keeps nothing: then nothing is saved. */
  add(record: OutboxNew): Promise<OutboxRecord>
  /** A form of this page waits for the answer to this key: it hears each outcome, and the screens show nothing in its place yet. */
  watch(key: string, heard: (outcome: Outcome) => void): () => void
  isWatched(key: string): boolean
  /** Everything on this tablet, whoever it belongs to, oldest first. */
  records(): readonly OutboxRecord[]
  /** The book could not be reached at the last try. */
  isAway(): boolean
  who(): WhoWaits | undefined
  setWho(who: WhoWaits | undefined): void
  subscribe(listener: Listener): () => void
  /** Called with each record that the book has taken. */
  onTaken(listener: (record: OutboxRecord) => void): () => void
  sendNow(): Promise<void>
  /** A parked record goes out once more, as it is or with another body. */
  sendAgain(record: OutboxRecord, body?: unknown): Promise<void>
  /** Taken out for good: dropped by hand, or handed back into the form it came from. */
  drop(record: OutboxRecord): Promise<void>
  /** The list as it lies on the tablet now. */
  look(): Promise<readonly OutboxRecord[]>
}

const SEND_TIMEOUT_MS = 12_000

async function attempt(record: OutboxRecord): Promise<Verdict> {
  const { route, body, key } = record
  try {
    return {
      kind: 'taken',
      body: await post<object>(route, body, { key, quietWhenSignedOut: true, ...(hasFile(body) ? {} : { timeoutMs: SEND_TIMEOUT_MS }) }),
    }
  } catch (error) {
    // A newer book has taken it as well; only what it answered is not for this page.
    if (error instanceof NewerBook) return { kind: 'taken', body: undefined }
    return verdictOf(error, new Date().toISOString())
  }
}

async function isStill(personId: string): Promise<boolean> {
  try {
    return (await get<Me>('/api/session', { quietWhenSignedOut: true })).id === personId
  } catch (error) {
    if (error instanceof NewerBook) return read(fields<{ id: string }>({ id: text }), error.answer)?.id === personId
    if (error instanceof Problem && error.type === 'signed-out') announceSignedOut()
    return false
  }
}

export function makeOutbox(store: OutboxStore): Outbox {
  let records: readonly OutboxRecord[] = []
  let who: WhoWaits | undefined
  let away = false
  let timer: ReturnType<typeof setTimeout> | undefined
  const listeners = new Set<Listener>()
  const takenListeners = new Set<(record: OutboxRecord) => void>()
  const watchers = new Map<string, (outcome: Outcome) => void>()
  const channel = typeof BroadcastChannel === 'undefined' ? undefined : new BroadcastChannel(CHANNEL)

  const tell = () => {
    for (const listener of listeners) listener()
  }
  const say = (word: Word) => channel?.postMessage(word)

  async function look(): Promise<readonly OutboxRecord[]> {
    records = await store.all()
    tell()
    return records
  }

  const sender = makeSender({
    store,
    attempt,
    oneAtATime: oneAtATime(),
    now: () => Date.now(),
    random: () => Math.random(),
    personId: () => who?.id,
    isStill,
    onOutcome(outcome, record) {
      away = outcome.kind === 'later'
      if (outcome.kind === 'taken') for (const listener of takenListeners) listener(record)
      watchers.get(outcome.key)?.(outcome)
      // A refusal is read from the tablet by whoever looks; the page that waits for it is as a rule this one.
      say(outcome.kind === 'refused' ? { kind: 'changed' } : { kind: 'outcome', outcome })
      void look().catch(() => undefined)
    },
    onSignedOut: announceSignedOut,
  })

  function drain(hurry: boolean): Promise<void> {
    clearTimeout(timer)
    const done = sender.drain({ hurry })
    done.catch(() => undefined).finally(() => void plan())
    return done
  }

  async function plan(): Promise<void> {
    clearTimeout(timer)
    const at = await sender.nextAt().catch(() => undefined)
    if (at === undefined) return
    timer = setTimeout(() => void drain(false).catch(() => undefined), Math.min(LOOK_AGAIN_MS, Math.max(50, at - Date.now())))
  }

  channel?.addEventListener('message', ({ data }: MessageEvent<Word>) => {
    if (data.kind === 'outcome') {
      watchers.get(data.outcome.key)?.(data.outcome)
      const taken = data.outcome.kind === 'taken' ? records.find((one) => one.key === data.outcome.key) : undefined
      if (taken !== undefined) for (const listener of takenListeners) listener(taken)
    }
    void look()
      .then(plan)
      .catch(() => undefined)
  })
  if (typeof window !== 'undefined') {
    const comeBack = () => void drain(true).catch(() => undefined)
    window.addEventListener('online', comeBack)
    document.addEventListener('visibilitychange', () => {
      if (!document.hidden) comeBack()
    })
  }

  return {
    async add(record) {
      const kept = await store.add(record)
      records = [...records, kept]
      tell()
      say({ kind: 'changed' })
      void drain(false).catch(() => undefined)
      return kept
    },
    watch(key, heard) {
      watchers.set(key, heard)
      return () => {
        if (watchers.get(key) !== heard) return
        watchers.delete(key)
        tell()
      }
    },
    isWatched: (key) => watchers.has(key),
    records: () => records,
    isAway: () => away,
    who: () => who,
    setWho(next) {
      const isOther = next?.id !== who?.id
      who = next
      if (!isOther) return
      tell()
      void look()
        .then(() => drain(true))
        .catch(() => undefined)
    },
    subscribe(listener) {
      listeners.add(listener)
      return () => {
        listeners.delete(listener)
      }
    },
    onTaken(listener) {
      takenListeners.add(listener)
      return () => {
        takenListeners.delete(listener)
      }
    },
    sendNow: () => drain(true),
    async sendAgain(record, body) {
      const { lastError: _before, ...rest } = record
      await store.put({ ...rest, ...(body === undefined ? {} : { body }), state: 'waiting', notBefore: 0 })
      await look()
      await drain(true)
    },
    async drop(record) {
      await store.remove(record.seq)
      say({ kind: 'changed' })
      await look()
    },
    look,
  }
}

let one: Outbox | undefined
let isMade = false

/** The outbox of this page; undefined where the browser keeps nothing, and then acts go to the book directly. */
export function outbox(): Outbox | undefined {
  if (!isMade) {
    isMade = true
    const store = tabletStore()
    if (store !== undefined) {
      one = makeOutbox(store)
      void one.look().catch(() => undefined)
    }
  }
  return one
}
