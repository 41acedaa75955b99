import type { z } from 'zod'
import { PASSWORD_LEAST, type Person, type PersonNew, type personChange, personNew, ROLES, type Role } from '#contract/people.ts'

export const ROLE_WORDS: Readonly<Record<Role, string>> = {
  counter: 'counter: customers, booking, money; no readings',
  bench: 'bench: readings, moves, own clock; no names, phones, prices',
  owner: 'owner: all of both, people, settings',
}

/** A person as typed. */
export interface PersonForm extends Record<string, string> {
  name: string
  signIn: string
  role: string
  maySign: string
  cranksBefore: string
  password: string
}

export const PERSON_LABELS: Readonly<Record<string, string>> = {
  name: 'Name, as colleagues say it',
  signIn: 'Name at sign-in',
  role: 'Works at',
  maySign: 'May sign certificates',
  cranksBefore: 'Rebuilds done before joining',
  password: 'Password',
}

export const EMPTY_PERSON: PersonForm = { name: '', signIn: '', role: 'bench', maySign: 'no', cranksBefore: '', password: '' }

export function personFormOf(one: Person): PersonForm {
  return {
    name: one.name,
    signIn: one.signIn,
    role: one.role,
    maySign: one.maySign ? 'yes' : 'no',
    cranksBefore: String(one.cranksBefore),
    password: '',
  }
}

type Faults = Record<string, string>
type Read<Value> = { ok: true; value: Value } | { ok: false; faults: Faults }

function roleOf(typed: string): Role {
  return ROLES.find((one) => one === typed) ?? 'bench'
}

function wholeNumber(typed: string): number {
  return typed.trim() === '' ? 0 : Number(typed.trim())
}

/** Somebody new, as the wire wants them, or what is to be mended by field. */
export function readNewPerson(form: PersonForm): Read<PersonNew> {
  const read = personNew.safeParse({
    signIn: form.signIn.trim(),
    name: form.name.trim(),
    role: roleOf(form.role),
    maySign: form.maySign === 'yes',
    cranksBefore: wholeNumber(form.cranksBefore),
    password: form.password,
  })
  if (read.success) return { ok: true, value: read.data }
  const faults: Faults = {}
  for (const issue of read.error.issues) {
    const name = String(issue.path[0] ?? 'root')
    faults[name] ??= name === 'cranksBefore' ? 'A whole number, 0 or more.' : issue.message
  }
  return { ok: false, faults }
}

/** Only what differs from what stands; a password is set only where one is typed. */
export function readPersonChange(base: PersonForm, mine: PersonForm): Read<z.infer<typeof personChange>> {
  const faults: Faults = {}
  const change: z.infer<typeof personChange> = {}
  if (mine.name.trim() === '') faults.name = 'Write something here.'
  else if (mine.name.trim() !== base.name) change.name = mine.name.trim()
  if (mine.role !== base.role) change.role = roleOf(mine.role)
  if (mine.maySign !== base.maySign) change.maySign = mine.maySign === 'yes'
  const before = wholeNumber(mine.cranksBefore)
  if (!Number.isInteger(before) || before < 0) faults.cranksBefore = 'A whole number, 0 or more.'
  else if (mine.cranksBefore.trim() !== base.cranksBefore) change.cranksBefore = before
  if (mine.password !== '' && mine.password.length < PASSWORD_LEAST)
    faults.password = `At least ${PASSWORD_LEAST} characters; a few words make a good one.`
  else if (mine.password !== '') change.password = mine.password
  return Object.keys(faults).length > 0 ? { ok: false, faults } : { ok: true, value: change }
}
