import type { z } from 'zod'
import type { Person, PersonNew, personChange } from '#contract/people.ts'
import { guessable } from '#core/guessable.ts'
import { endSessionsOf } from '#server/features/sessions/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import { hashPassword } from '#server/plugins/passwords.ts'
import * as store from './store.ts'

export async function addSomebody(act: Act, wanted: PersonNew, passwordHash: string): Promise<Person> {
  if (await store.signInTaken(act.tx, wanted.signIn))
    throw fieldFault('/signIn', 'taken', 'Somebody signs in with this name. Choose another.')
  const { password, maySign = false, cranksBefore = 0, ...rest } = wanted
  await mustBeHardToGuess(act, '/password', password, wanted)
  const made = await store.addPerson(act, { ...rest, maySign, cranksBefore, passwordHash })
  act.note('add person', 'person', made.id, { after: made })
  return made
}

/** Refuses a password that would be guessed at once; its length is the wire's to see to. */
export async function mustBeHardToGuess(act: Act, pointer: string, password: string, of: { name: string; signIn: string }): Promise<void> {
  const { shopName } = await readSettings(act.tx)
  const guess = guessable(password, { shop: shopName, name: of.name, signIn: of.signIn })
  if (guess !== null) throw fieldFault(pointer, 'guessable', guess)
}

export async function changeSomebody(act: Act, id: string, wanted: z.infer<typeof personChange>): Promise<Person> {
  const before = await store.readPerson(act.tx, id)
  if (!before) throw notFound('This person')
  const { barred, password, clearPin, ...columns } = wanted
  const leaves = barred === true || (wanted.role !== undefined && wanted.role !== 'owner')
  if (before.role === 'owner' && !before.barred && leaves) await mustLeaveAnOwner(act, before)
  if (id === act.by.id && (barred === true || (wanted.role !== undefined && wanted.role !== before.role)))
    throw new Problem('conflict-state', 'Nobody bars themselves or changes their own role. Another owner can.')
  if (id === act.by.id && password !== undefined)
    throw fieldFault('/password', 'own', 'Your own password you change with the old one, under your name at the top.')
  const change: Partial<store.PersonColumns> = Object.fromEntries(Object.entries(columns).filter(([, value]) => value !== undefined))
  if (barred !== undefined) change.barredAt = barred ? act.now : null
  if (clearPin) change.pinHash = null
  if (password !== undefined) {
    await mustBeHardToGuess(act, '/password', password, before)
    change.passwordHash = await hashPassword(password)
  }
  const after = await store.changePerson(act, id, act.expectedVersion(), change)
  if (!after) throw notFound('This person')
  const endsSessions = barred === true || password !== undefined || clearPin === true
  const ended = endsSessions ? await endSessionsOf(act.tx, id, act.now) : 0
  act.note('change person', 'person', id, {
    before,
    after: { ...after, ...(password === undefined ? {} : { password: 'set anew' }), ...(ended === 0 ? {} : { sessionsEnded: ended }) },
  })
  return after
}

/** A shop without an owner could not be let into its own office again; two owners who bar each other wait for one another. */
async function mustLeaveAnOwner(act: Act, leaving: Person): Promise<void> {
  await store.ownersOneAtATime(act.tx)
  if (await store.isAnotherOwner(act.tx, leaving.id)) return
  const who = leaving.id === act.by.id ? 'You are' : `${leaving.name} is`
  throw new Problem('conflict-state', `${who} the only owner. Make somebody else an owner first; then this can be done.`)
}
