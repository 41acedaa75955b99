import type { z } from 'zod'
import type { Person, PersonNew, personChange } from '#contract/people.ts'
import { endSessionsOf } from '#server/features/sessions/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import { hashPassword, passwordFits } from '#server/plugins/passwords.ts'
import * as store from './store.ts'

export async function addSomebody(act: Act, wanted: PersonNew, passwordHash: string): Promise<Person> {
  if (await store.signInTaken(act.tx, wanted.signIn))
    throw fieldFault('/signIn', 'taken', 'Somebody signs in with this name. Choose another.')
  const { password: _typed, maySign = false, cranksBefore = 0, ...rest } = wanted
  const made = await store.addPerson(act, { ...rest, maySign, cranksBefore, passwordHash })
  act.note('add person', 'person', made.id, { after: made })
  return made
}

export async function changeSomebody(act: Act, id: string, wanted: z.infer<typeof personChange>): Promise<Person> {
  const before = await store.readPerson(act.tx, id)
  if (!before) throw notFound('This person')
  if (id === act.by.id && (wanted.barred === true || (wanted.role !== undefined && wanted.role !== before.role)))
    throw new Problem('conflict-state', 'Nobody bars themselves or changes their own role. Another owner can.')
  const { barred, password, ...columns } = wanted
  const change: Partial<store.PersonColumns> = Object.fromEntries(Object.entries(columns).filter(([, value]) => value !== undefined))
  if (barred !== undefined) change.barredAt = barred ? act.now : null
  if (password !== undefined) change.passwordHash = await hashPassword(password)
  const after = await store.changePerson(act, id, act.expectedVersion(), change)
  if (!after) throw notFound('This person')
  if (barred === true || password !== undefined) await endSessionsOf(act.tx, id, act.now)
  act.note('change person', 'person', id, { before, after: { ...after, ...(password === undefined ? {} : { password: 'set anew' }) } })
  return after
}

/** A PIN for the bench tablets, set by its owner with the password asked again. */
export async function setOwnPin(act: Act, password: string, pin: string): Promise<Person> {
  const own = await store.ownPassword(act.tx, act.by.id)
  if (!own || !(await passwordFits(own.passwordHash, password))) throw fieldFault('/password', 'wrong', 'This is not your password.')
  const after = await store.changePerson(act, act.by.id, own.version, { pinHash: await hashPassword(pin) })
  if (!after) throw notFound('This person')
  act.note('set own PIN', 'person', act.by.id, {})
  return after
}
