import type { FastifyInstance } from 'fastify'
import type { z } from 'zod'
import type { setUp } from '#contract/sessions.ts'
import { FIRST_SETTINGS } from '#contract/settings.ts'
import { guessable } from '#core/guessable.ts'
import { addPerson } from '#server/features/people/store.ts'
import { firstSettings, sessionLimits } from '#server/features/settings/store.ts'
import { perform } from '#server/plugins/act.ts'
import { hashOf, newToken } from '#server/plugins/auth.ts'
import { fieldFault, Problem } from '#server/plugins/errors.ts'
import { fitNobody, hashPassword, passwordFits, wantsRehash } from '#server/plugins/passwords.ts'
import * as store from './store.ts'

interface From {
  address: string
  deviceId: string | null
  oldSession: Uint8Array<ArrayBuffer> | null
}

export interface Opened {
  token: string
  personId: string
}

function wrong(): Problem {
  return new Problem('wrong-sign-in', 'Name and password do not go together, or the person may not sign in. Try again.')
}

export async function signInByPassword(app: FastifyInstance, name: string, password: string, from: From): Promise<Opened> {
  const signIn = name.trim().toLowerCase()
  const subject = `password ${signIn} ${from.deviceId ?? from.address}`
  await store.mayTry(app.db, app.clock(), subject, store.GUESSES.password)
  const person = await store.personBySignIn(app.db, signIn)
  if (!person) await fitNobody(password)
  if (!person || !(await passwordFits(person.passwordHash, password)) || person.barredAt) {
    await store.noteFailure(app.db, subject, app.clock())
    throw wrong()
  }
  await store.forgetFailures(app.db, subject)
  if (wantsRehash(person.passwordHash)) await store.rehash(app.db, person.id, await hashPassword(password))
  return openSession(app, person, from, false)
}

/** Changing hands at the bench: two seconds, on an enrolled tablet only. */
export async function signInByPin(app: FastifyInstance, personId: string, pin: string, from: From): Promise<Opened> {
  if (from.deviceId === null)
    throw new Problem('forbidden', 'A PIN works on an enrolled bench tablet only. Sign in with name and password.')
  const subject = `pin ${personId} ${from.deviceId}`
  await store.mayTry(app.db, app.clock(), subject, store.GUESSES.pin)
  const person = await store.personById(app.db, personId)
  if (!person?.pinHash || person.barredAt || !(await passwordFits(person.pinHash, pin))) {
    await store.noteFailure(app.db, subject, app.clock())
    throw new Problem('wrong-sign-in', 'This PIN does not fit. Try again, or sign in with name and password.')
  }
  await store.forgetFailures(app.db, subject)
  return openSession(app, person, from, true)
}

type Known = { id: string; name: string; role: string; maySign: boolean }

async function openSession(app: FastifyInstance, person: Known, from: From, byPin: boolean): Promise<Opened> {
  const token = newToken()
  const now = app.clock()
  const { absoluteMs } = await sessionLimits(app.db)
  await app.db.prisma.$transaction(async (tx) => {
    if (from.oldSession) await store.endSession(tx, from.oldSession, now)
    await store.addSession(tx, {
      idHash: hashOf(token),
      personId: person.id,
      deviceId: from.deviceId,
      byPin,
      now,
      endsAt: new Date(now.getTime() + absoluteMs),
    })
  })
  return { token, personId: person.id }
}

/** The first visit to a new book: the one-time code printed at start makes the first owner, and dies. */
export async function makeFirstOwner(app: FastifyInstance, wanted: z.infer<typeof setUp>, from: From): Promise<Opened> {
  await store.mayTry(app.db, app.clock(), `set-up ${from.address}`, store.GUESSES.pin)
  const codeHash = await store.readSetUpCode(app.db.prisma)
  if (!codeHash || !(await passwordFits(codeHash, wanted.code.trim().toUpperCase()))) {
    await store.noteFailure(app.db, `set-up ${from.address}`, app.clock())
    throw new Problem('wrong-sign-in', 'This is not the code printed at the last start, or it has been used.')
  }
  const guess = guessable(wanted.password, wanted)
  if (guess !== null) throw fieldFault('/password', 'guessable', guess)
  const passwordHash = await hashPassword(wanted.password)
  const by = { id: crypto.randomUUID(), name: wanted.name, role: 'owner', maySign: true } as const
  await perform(app.db, { by, now: app.clock() }, async (act) => {
    // Two browsers with the same code: the lock lets one through, the other then finds somebody there.
    await store.oneOwnerAtATime(act.tx)
    if (await store.anybodyThere(act.tx)) throw new Problem('conflict-state', 'This book has an owner. Sign in.')
    await addPerson(act, {
      id: by.id,
      signIn: wanted.signIn,
      name: wanted.name,
      role: 'owner',
      maySign: true,
      cranksBefore: 0,
      passwordHash,
    })
    await firstSettings(act.tx, { ...FIRST_SETTINGS, shopName: wanted.shop })
    await store.spendSetUpCode(act.tx)
    act.note('first owner', 'person', by.id, { after: { name: wanted.name, signIn: wanted.signIn } })
  })
  return openSession(app, by, from, false)
}
