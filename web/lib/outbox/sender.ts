import { type LastError, OUTBOX_SCHEMA, type OutboxRecord } from '#web/lib/outbox/record.ts'
import type { OutboxStore } from '#web/lib/outbox/store.ts'
import { BACK_OFF, backOffMs, type Verdict } from '#web/lib/outbox/verdict.ts'

/** What became of a record at one try, for whoever waits for its answer. */
export type Outcome =
  | { key: string; kind: 'taken'; body: unknown }
  | { key: string; kind: 'later' }
  | { key: string; kind: 'refused'; problem: unknown; error: LastError }

export interface SenderOptions {
  store: OutboxStore
  /** One try of one record. */
  attempt(record: OutboxRecord): Promise<Verdict>
  /** Runs one at a time over all tabs for the same lane. */
  oneAtATime(lane: string, work: () => Promise<void>): Promise<void>
  now(): number
  random(): number
  /** Whose records may go out now; undefined while nobody is signed in. */
  personId(): string | undefined
  /** Whether the session of this browser is still that person's; a record never goes out under another name. */
  isStill(personId: string): Promise<boolean>
  onOutcome(outcome: Outcome, record: OutboxRecord): void
  /** The session has ended: asks for a sign-in, and everything is kept. */
  onSignedOut(): void
}

/** A record written this moment by the hand that is signed in needs no further asking who that is. */
const FRESH_MS = 5_000

function isDue(record: OutboxRecord, personId: string): boolean {
  return record.personId === personId && record.state === 'waiting' && record.schema <= OUTBOX_SCHEMA
}

/** Sends what waits: strictly in order within a lane, all lanes at once. Answers when there is nothing left to do now. */
export function makeSender(options: SenderOptions) {
  const { store, attempt, oneAtATime, now, random, personId, isStill, onOutcome, onSignedOut } = options
  let checked: { personId: string; atMs: number } | undefined

  async function mayGo(record: OutboxRecord): Promise<boolean> {
    if (record.tries === 0 && now() - Date.parse(record.occurredAt) < FRESH_MS) return true
    if (checked?.personId === record.personId && now() - checked.atMs < FRESH_MS) return true
    if (!(await isStill(record.personId))) return false
    checked = { personId: record.personId, atMs: now() }
    return true
  }

  /** One record; whether the lane may go on. */
  async function sendOne(record: OutboxRecord): Promise<boolean> {
    if (!(await mayGo(record))) {
      // Tried again like any other: the session may only not have been reachable.
      await postpone(record, { says: 'The book could not be asked who is signed in.', at: new Date(now()).toISOString() }, undefined)
      return false
    }
    const verdict = await attempt(record)
    switch (verdict.kind) {
      case 'taken':
        await store.remove(record.seq)
        onOutcome({ key: record.key, kind: 'taken', body: verdict.body }, record)
        return true
      case 'refused':
        // Parked first, told after: whoever waits for the answer may take it back into a form, and a closed tab loses nothing.
        await store.put({ ...record, state: 'parked', tries: record.tries + 1, lastError: verdict.error })
        onOutcome({ key: record.key, kind: 'refused', problem: verdict.problem, error: verdict.error }, record)
        return true
      case 'signed-out':
        checked = undefined
        await store.put({ ...record, lastError: verdict.error })
        onOutcome({ key: record.key, kind: 'later' }, record)
        onSignedOut()
        return false
      case 'later':
        await postpone(record, verdict.error, verdict.afterMs)
        return false
    }
  }

  async function postpone(record: OutboxRecord, lastError: LastError, afterMs: number | undefined): Promise<void> {
    const tries = record.tries + 1
    await store.put({ ...record, tries, lastError, notBefore: now() + Math.max(afterMs ?? 0, backOffMs(tries, random())) })
    onOutcome({ key: record.key, kind: 'later' }, record)
  }

  /** A clock that was set back must not keep a record for ever. */
  function isPutOff(record: OutboxRecord): boolean {
    const ms = record.notBefore - now()
    return ms > 0 && ms <= 2 * BACK_OFF.mostMs
  }

  async function drainLane(lane: string, hurry: boolean): Promise<void> {
    for (;;) {
      const who = personId()
      if (who === undefined) return
      const next = (await store.all()).find((record) => record.lane === lane && isDue(record, who))
      if (next === undefined || (!hurry && isPutOff(next))) return
      if (!(await sendOne(next))) return
    }
  }

  return {
    /** Sends what is due. With `hurry` what was put off is tried at once: the network is back, or the hand asked. */
    async drain({ hurry = false } = {}): Promise<void> {
      const who = personId()
      if (who === undefined) return
      const lanes = new Set((await store.all()).filter((record) => isDue(record, who)).map((record) => record.lane))
      await Promise.all([...lanes].map((lane) => oneAtATime(lane, () => drainLane(lane, hurry))))
    },
    /** When the next record comes due, ms since 1970; undefined where none waits. */
    async nextAt(): Promise<number | undefined> {
      const who = personId()
      if (who === undefined) return undefined
      const heads = new Map<string, number>()
      for (const record of await store.all()) if (isDue(record, who) && !heads.has(record.lane)) heads.set(record.lane, record.notBefore)
      return heads.size === 0 ? undefined : Math.min(...heads.values())
    },
  }
}
