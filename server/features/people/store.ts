import type { Person, Role } from '#contract/people.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import type { Db, Tx } from '#server/plugins/database.ts'

const COLUMNS = {
  id: true,
  signIn: true,
  name: true,
  role: true,
  maySign: true,
  cranksBefore: true,
  pinHash: true,
  barredAt: true,
  version: true,
} as const

interface Row {
  id: string
  signIn: string
  name: string
  role: string
  maySign: boolean
  cranksBefore: number
  pinHash: string | null
  barredAt: Date | null
  version: number
}

function asPerson({ pinHash, barredAt, ...row }: Row): Person {
  return { ...row, role: row.role as Role, hasPin: pinHash !== null, barred: barredAt !== null }
}

export async function listPeople(db: Db): Promise<Person[]> {
  const rows = await db.prisma.person.findMany({ select: COLUMNS, orderBy: [{ name: 'asc' }, { id: 'asc' }], take: 500 })
  return rows.map(asPerson)
}

export async function readPerson(db: Db['prisma'] | Tx, id: string): Promise<Person | null> {
  const row = await db.person.findUnique({ where: { id }, select: COLUMNS })
  return row && asPerson(row)
}

export async function signInTaken(tx: Tx, signIn: string): Promise<boolean> {
  return (await tx.person.findUnique({ where: { signIn }, select: { id: true } })) !== null
}

/** Whether somebody else may still come in as an owner. */
export async function isAnotherOwner(tx: Tx, id: string): Promise<boolean> {
  return (await tx.person.findFirst({ where: { role: 'owner', barredAt: null, id: { not: id } }, select: { id: true } })) !== null
}

export async function ownersOneAtATime(tx: Tx): Promise<void> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(730213)`
}

export async function ownPassword(tx: Tx, id: string): Promise<{ passwordHash: string; version: number } | null> {
  return tx.person.findUnique({ where: { id }, select: { passwordHash: true, version: true } })
}

export async function addPerson(
  act: Act,
  person: {
    id?: string | undefined
    signIn: string
    name: string
    role: Role
    maySign: boolean
    cranksBefore: number
    passwordHash: string
  },
): Promise<Person> {
  const { id, ...rest } = person
  const row = await act.tx.person.create({ data: { ...rest, ...(id === undefined ? {} : { id }), createdAt: act.now }, select: COLUMNS })
  return asPerson(row)
}

export interface PersonColumns {
  name: string
  role: Role
  maySign: boolean
  cranksBefore: number
  passwordHash: string
  pinHash: string | null
  barredAt: Date | null
}

/** Changes a person at the version the caller saw; null when there is none. */
export async function changePerson(act: Act, id: string, expected: number, change: Partial<PersonColumns>): Promise<Person | null> {
  const { count } = await act.tx.person.updateMany({ where: { id, version: expected }, data: { ...change, version: { increment: 1 } } })
  const now = await readPerson(act.tx, id)
  if (now && count === 0) mustStandAt(now.version, expected)
  return now
}
