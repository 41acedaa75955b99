import { ownVersion } from '#web/lib/book-version.ts'
import { post } from '#web/lib/http.ts'
import { outbox } from '#web/lib/outbox/outbox.ts'
import { OUTBOX_SCHEMA, type OutboxNew } from '#web/lib/outbox/record.ts'
import type { Outcome } from '#web/lib/outbox/sender.ts'
import { NotUnderstood } from '#web/lib/problem.ts'

/** How long the hand is kept waiting for the book's own answer before the screen goes on with what lies on the tablet. */
export const GRACE_MS = 1_500

export interface Kept<Answer> {
  path: string
  body: unknown
  key: string
  /** What must keep its order, see OutboxRecord. */
  lane: string
  jobId?: string
  /** For the list of what waits: `Width, 4 readings`. */
  what: string
  occurredAt: string
  /** What the screens go on with until the book answers: the same shape, worked out here. */
  instead: Answer
  /** What of it lies on the tablet and is laid over what the book answers; the same unless said. Never a name of a person. */
  shown?: unknown
}

/** An answer of the book, or, not yet in the book, what was shown in its place. */
export interface KeptAnswer<Answer> {
  answer: Answer
  isInBook: boolean
}

/**
 * One act of the hand, on the tablet first and then in the book. With the book in reach it answers as a plain POST would,
 * refusals included; without, it answers at once with what is shown in its place, and the outbox goes on trying. Where the
 * tablet keeps nothing (private window, storage full) it is a plain POST, and nothing is said to be saved that is not.
 */
export async function postKept<Answer>(kept: Kept<Answer>): Promise<KeptAnswer<Answer>> {
  const box = outbox()
  const who = box?.who()
  if (box === undefined || who === undefined) return plainly(kept)
  const again = (await box.look().catch(() => [])).find((record) => record.key === kept.key)
  // Pressed again while it waits, or after it was parked: it is the same act.
  if (again?.state === 'parked') await box.drop(again)
  let tell: (outcome: Outcome) => void = () => undefined
  const heard = new Promise<Outcome>((resolve) => {
    tell = resolve
  })
  const unwatch = box.watch(kept.key, tell)
  const wasAway = box.isAway()
  try {
    if (again === undefined || again.state === 'parked') await box.add(recordOf(kept, who.id))
    else void box.sendNow().catch(() => undefined)
  } catch {
    unwatch()
    return plainly(kept)
  }
  const outcome = await Promise.race([heard, after(wasAway ? 0 : GRACE_MS)])
  unwatch()
  if (outcome?.kind === 'taken') return { answer: answerIn(kept, outcome.body), isInBook: true }
  if (outcome?.kind === 'refused') {
    // The form is still open with everything in it: the hand mends it there, and nothing has to be parked.
    const parked = (await box.look()).find((record) => record.key === kept.key)
    if (parked !== undefined) await box.drop(parked)
    throw outcome.problem
  }
  return { answer: kept.instead, isInBook: false }
}

async function plainly<Answer>({ path, body, key }: Kept<Answer>): Promise<KeptAnswer<Answer>> {
  return { answer: await post<Answer>(path, body, { key }), isInBook: true }
}

function recordOf<Answer>(
  { path, body, key, lane, jobId, what, occurredAt, instead, shown = instead }: Kept<Answer>,
  personId: string,
): OutboxNew {
  return {
    key,
    personId,
    lane,
    ...(jobId === undefined ? {} : { jobId }),
    what,
    method: 'POST',
    route: path,
    body,
    shown,
    occurredAt,
    tries: 0,
    notBefore: 0,
    state: 'waiting',
    schema: OUTBOX_SCHEMA,
    version: ownVersion(),
  }
}

/** What a newer book answered is not handed on; it has taken the act all the same. */
function answerIn<Answer>({ path }: Kept<Answer>, body: unknown): Answer {
  if (body === undefined) throw new NotUnderstood(`POST ${path}: taken by a book of another version than this page`)
  return body as Answer
}

function after(ms: number): Promise<undefined> {
  return new Promise((resolve) => setTimeout(() => resolve(undefined), ms))
}
