import { readPerson } from '#server/features/people/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { notFound } from '#server/plugins/errors.ts'
import * as store from './store.ts'

/** The owner ends every session of a person. */
export async function endAllOf(act: Act, personId: string): Promise<{ ended: number }> {
  const person = await readPerson(act.tx, personId)
  if (!person) throw notFound('This person')
  const ended = await store.endSessionsOf(act.tx, personId, act.now)
  act.note('end sessions', 'person', personId, { after: { sessionsEnded: ended } })
  return { ended }
}

/** A person ends their own sessions everywhere but here. */
export async function endMyOthers(act: Act, here: Uint8Array<ArrayBuffer>): Promise<{ ended: number }> {
  const ended = await store.endSessionsOf(act.tx, act.by.id, act.now, here)
  act.note('end own sessions', 'person', act.by.id, { after: { sessionsEnded: ended } })
  return { ended }
}

export async function endOne(act: Act, personId: string, session: string): Promise<{ ended: number }> {
  if (!(await store.endNamedSession(act.tx, personId, session, act.now))) throw notFound('This session')
  act.note('end session', 'person', personId, { after: { sessionsEnded: 1 } })
  return { ended: 1 }
}
