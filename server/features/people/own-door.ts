/** What a person changes about their own way in. The password is asked again, and guessing at it is slowed down. */
import type { z } from 'zod'
import type { ownPasswordNew, ownPin, Person } from '#contract/people.ts'
import { endSessionsOf, forgetFailures, GUESSES, mayTry, noteFailure } from '#server/features/sessions/store.ts'
import type { Act } from '#server/plugins/act.ts'
import type { Db } from '#server/plugins/database.ts'
import { fieldFault, notFound } from '#server/plugins/errors.ts'
import { hashPassword, passwordFits } from '#server/plugins/passwords.ts'
import { mustBeHardToGuess } from './commands.ts'
import * as store from './store.ts'

/** Wrong tries are written outside the act, which is taken back when the password does not fit. */
async function askedAgain(act: Act, db: Db, password: string): Promise<{ version: number }> {
  const subject = `own ${act.by.id}`
  await mayTry(db, act.now, subject, GUESSES.password)
  const own = await store.ownPassword(act.tx, act.by.id)
  if (!own || !(await passwordFits(own.passwordHash, password))) {
    await noteFailure(db, subject, act.now)
    throw fieldFault('/password', 'wrong', 'This is not your password.')
  }
  await forgetFailures(db, subject)
  return own
}

/** A PIN for the bench tablets. */
export async function setOwnPin(act: Act, db: Db, wanted: z.infer<typeof ownPin>): Promise<Person> {
  const { version } = await askedAgain(act, db, wanted.password)
  const after = await store.changePerson(act, act.by.id, version, { pinHash: await hashPassword(wanted.pin) })
  if (!after) throw notFound('This person')
  act.note('set own PIN', 'person', act.by.id, {})
  return after
}

/** A new password; sessions of this person elsewhere end, the one that asks stays open. */
export async function setOwnPassword(
  act: Act,
  db: Db,
  wanted: z.infer<typeof ownPasswordNew>,
  here: Uint8Array<ArrayBuffer>,
): Promise<Person> {
  const { version } = await askedAgain(act, db, wanted.password)
  const me = await store.readPerson(act.tx, act.by.id)
  if (!me) throw notFound('This person')
  await mustBeHardToGuess(act, '/newPassword', wanted.newPassword, me)
  const after = await store.changePerson(act, act.by.id, version, { passwordHash: await hashPassword(wanted.newPassword) })
  if (!after) throw notFound('This person')
  const ended = await endSessionsOf(act.tx, act.by.id, act.now, here)
  act.note('change own password', 'person', act.by.id, { after: { sessionsEnded: ended } })
  return after
}
