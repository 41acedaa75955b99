import type { Role } from '#contract/people.ts'
import type { SessionLimits } from '#server/features/settings/store.ts'
import type { Caller } from '#server/plugins/act.ts'
import type { Db, Tx } from '#server/plugins/database.ts'

/** A request renews "last seen" at most this often, so that reading a page does not write a row each time. */
const SEEN_EVERY_MS = 60_000

export interface FoundSession extends Caller {
  endsAt: Date
}

export async function findSession(db: Db, idHash: Uint8Array<ArrayBuffer>, now: Date, limits: SessionLimits): Promise<FoundSession | null> {
  const { rows } = await db.pool.query<{ id: string; name: string; role: Role; may_sign: boolean; ends_at: Date; last_seen_at: Date }>({
    name: 'find-session',
    text: `SELECT p.id, p.name, p.role, p.may_sign, s.ends_at, s.last_seen_at FROM session s JOIN person p ON p.id = s.person_id
           WHERE s.id_hash = $1 AND s.ended_at IS NULL AND s.ends_at > $2 AND s.last_seen_at > $3 AND p.barred_at IS NULL`,
    values: [Buffer.from(idHash), now, new Date(now.getTime() - limits.idleMs)],
  })
  const row = rows[0]
  if (!row) return null
  if (now.getTime() - row.last_seen_at.getTime() > SEEN_EVERY_MS)
    await db.prisma.session.updateMany({ where: { idHash, endedAt: null }, data: { lastSeenAt: now } })
  return { id: row.id, name: row.name, role: row.role, maySign: row.may_sign, endsAt: row.ends_at }
}

export async function addSession(
  tx: Tx,
  session: { idHash: Uint8Array<ArrayBuffer>; personId: string; deviceId: string | null; byPin: boolean; now: Date; endsAt: Date },
): Promise<void> {
  const { now, ...rest } = session
  await tx.session.create({ data: { ...rest, startedAt: now, lastSeenAt: now }, select: { idHash: true } })
}

export async function endSession(tx: Tx, idHash: Uint8Array<ArrayBuffer>, now: Date): Promise<void> {
  await tx.session.updateMany({ where: { idHash, endedAt: null }, data: { endedAt: now } })
}

export async function endSessionsOf(tx: Tx, personId: string, now: Date): Promise<void> {
  await tx.session.updateMany({ where: { personId, endedAt: null }, data: { endedAt: now } })
}

export async function personBySignIn(db: Db, signIn: string) {
  return db.prisma.person.findUnique({
    where: { signIn },
    select: { id: true, name: true, role: true, maySign: true, passwordHash: true, barredAt: true },
  })
}

export async function personById(db: Db, id: string) {
  return db.prisma.person.findUnique({
    where: { id },
    select: { id: true, name: true, signIn: true, role: true, maySign: true, passwordHash: true, pinHash: true, barredAt: true },
  })
}

export async function rehash(db: Db, personId: string, passwordHash: string): Promise<void> {
  await db.prisma.person.update({ where: { id: personId }, data: { passwordHash }, select: { id: true } })
}

// ---- guessing --------------------------------------------------------------------------------------------------------

export async function failuresSince(db: Db, subject: string, since: Date): Promise<number> {
  return db.prisma.signInFailure.count({ where: { subject, at: { gte: since } } })
}

export async function noteFailure(db: Db, subject: string, at: Date): Promise<void> {
  await db.prisma.signInFailure.create({ data: { subject, at }, select: { id: true } })
}

export async function forgetFailures(db: Db, subject: string): Promise<void> {
  await db.prisma.signInFailure.deleteMany({ where: { subject } })
}

// ---- tablets ---------------------------------------------------------------------------------------------------------

export async function findDevice(db: Db, tokenHash: Uint8Array<ArrayBuffer>): Promise<{ id: string } | null> {
  return db.prisma.device.findFirst({ where: { tokenHash, endedAt: null }, select: { id: true } })
}

export async function addDevice(
  tx: Tx,
  device: { name: string; tokenHash: Uint8Array<ArrayBuffer>; enrolledBy: string; enrolledAt: Date },
) {
  return tx.device.create({ data: device, select: { id: true, name: true, enrolledAt: true } })
}

export async function listDevices(db: Db) {
  const devices = await db.prisma.device.findMany({
    where: { endedAt: null },
    orderBy: { enrolledAt: 'asc' },
    select: { id: true, name: true, enrolledAt: true, enrolledBy: true },
  })
  const people = await db.prisma.person.findMany({
    where: { id: { in: devices.map((device) => device.enrolledBy) } },
    select: { id: true, name: true },
  })
  const nameOf = new Map(people.map((person) => [person.id, person.name]))
  return devices.map((device) => ({
    ...device,
    enrolledAt: device.enrolledAt.toISOString(),
    enrolledBy: nameOf.get(device.enrolledBy) ?? '',
  }))
}

export async function endDevice(tx: Tx, id: string, now: Date): Promise<boolean> {
  const { count } = await tx.device.updateMany({ where: { id, endedAt: null }, data: { endedAt: now } })
  if (count > 0) await tx.session.updateMany({ where: { deviceId: id, endedAt: null }, data: { endedAt: now } })
  return count > 0
}

export async function handsWithPin(db: Db): Promise<{ id: string; name: string }[]> {
  return db.prisma.person.findMany({
    where: { pinHash: { not: null }, barredAt: null },
    orderBy: { name: 'asc' },
    select: { id: true, name: true },
  })
}

// ---- first visit -----------------------------------------------------------------------------------------------------

const SET_UP_CODE = 'set-up-code'

export async function anybodyThere(db: Tx | Db['prisma']): Promise<boolean> {
  return (await db.person.findFirst({ select: { id: true } })) !== null
}

export async function oneOwnerAtATime(tx: Tx): Promise<void> {
  await tx.$executeRaw`SELECT pg_advisory_xact_lock(730212)`
}

export async function keepSetUpCode(db: Db, codeHash: string): Promise<void> {
  await db.prisma.setting.upsert({
    where: { key: SET_UP_CODE },
    create: { key: SET_UP_CODE, value: codeHash },
    update: { value: codeHash },
    select: { key: true },
  })
}

export async function readSetUpCode(db: Tx | Db['prisma']): Promise<string | null> {
  const row = await db.setting.findUnique({ where: { key: SET_UP_CODE }, select: { value: true } })
  return typeof row?.value === 'string' ? row.value : null
}

/** Used once: the code is gone as soon as the first owner is there. */
export async function spendSetUpCode(tx: Tx): Promise<void> {
  await tx.setting.update({ where: { key: SET_UP_CODE }, data: { value: '' }, select: { key: true } })
}
