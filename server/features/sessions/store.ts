import type { Role } from '#contract/people.ts'
import type { OpenSession } from '#contract/sessions.ts'
import type { Settings } from '#contract/settings.ts'
import { type SessionLimits, SHOP_SETTINGS_TEXT, settingsOf } from '#server/features/settings/store.ts'
import type { Caller } from '#server/plugins/act.ts'
import type { Db, Tx } from '#server/plugins/database.ts'
import { Problem } from '#server/plugins/errors.ts'

/** A request renews "last seen" at most this often, so that reading a page does not write a row each time. */
const SEEN_EVERY_MS = 60_000

export interface FoundSession extends Caller {
  endsAt: Date
  /** Settings of the shop as they stand at this request. */
  shop: Settings
}

interface SessionRow {
  id: string
  name: string
  role: Role
  may_sign: boolean
  ends_at: Date
  last_seen_at: Date
  shop: string | null
}

const FIND = `SELECT p.id, p.name, p.role, p.may_sign, s.ends_at, s.last_seen_at, ${SHOP_SETTINGS_TEXT} AS shop
  FROM session s JOIN person p ON p.id = s.person_id
  WHERE s.id_hash = $1 AND s.ended_at IS NULL AND s.ends_at > $2 AND p.barred_at IS NULL`

/** The session of this hash, if it still holds. `isUse` renews "last seen", which the idle limit counts from. */
export async function findSession(db: Db, idHash: Uint8Array<ArrayBuffer>, now: Date, isUse: boolean): Promise<FoundSession | null> {
  const values = [Buffer.from(idHash), now]
  const { rows } = await db.pool.query<SessionRow>({ name: 'find session', text: FIND, values })
  const row = rows[0]
  if (!row) return null
  const shop = settingsOf(row.shop)
  const idleMs = now.getTime() - row.last_seen_at.getTime()
  if (idleMs >= shop.idleMinutes * 60_000) return null
  if (isUse && idleMs > SEEN_EVERY_MS) await db.prisma.session.updateMany({ where: { idHash, endedAt: null }, data: { lastSeenAt: now } })
  return { id: row.id, name: row.name, role: row.role, maySign: row.may_sign, endsAt: row.ends_at, shop }
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

/** Ends all sessions of a person, or all but one; answers how many were open. */
export async function endSessionsOf(tx: Tx, personId: string, now: Date, but?: Uint8Array<ArrayBuffer>): Promise<number> {
  const { count } = await tx.session.updateMany({
    where: { personId, endedAt: null, endsAt: { gt: now }, ...(but === undefined ? {} : { idHash: { not: but } }) },
    data: { endedAt: now },
  })
  return count
}

/** A session is named by a hash of its hash: the name opens nothing and says nothing of the token. */
const NAME = `encode(substring(sha256(s.id_hash) from 1 for 16), 'hex')`

/** The open sessions of a person, the one seen last first. */
export async function openSessionsOf(
  db: Db,
  personId: string,
  at: { now: Date; limits: SessionLimits; here: Uint8Array<ArrayBuffer> },
): Promise<OpenSession[]> {
  const { now, limits, here } = at
  const { rows } = await db.pool.query<
    { id: string; device: string | null; byPin: boolean; here: boolean } & Record<'startedAt' | 'lastSeenAt' | 'endsAt', Date>
  >(
    `SELECT ${NAME} AS id, d.name AS device, s.by_pin AS "byPin", s.started_at AS "startedAt", s.last_seen_at AS "lastSeenAt",
       s.ends_at AS "endsAt", s.id_hash = $2 AS here
     FROM session s LEFT JOIN device d ON d.id = s.device_id
     WHERE s.person_id = $1 AND s.ended_at IS NULL AND s.ends_at > $3 AND s.last_seen_at > $4
     ORDER BY s.last_seen_at DESC, s.started_at DESC, 1 LIMIT 200`,
    [personId, Buffer.from(here), now, new Date(now.getTime() - limits.idleMs)],
  )
  return rows.map(({ device, startedAt, lastSeenAt, endsAt, ...row }) => ({
    ...row,
    ...(device === null ? {} : { device }),
    startedAt: startedAt.toISOString(),
    lastSeenAt: lastSeenAt.toISOString(),
    endsAt: new Date(Math.min(endsAt.getTime(), lastSeenAt.getTime() + limits.idleMs)).toISOString(),
    endsLatestAt: endsAt.toISOString(),
  }))
}

/** Ends one session of a person by its name; false where they have no open one of that name. */
export async function endNamedSession(tx: Tx, personId: string, name: string, now: Date): Promise<boolean> {
  const count = await tx.$executeRawUnsafe(
    `UPDATE session s SET ended_at = $3::timestamptz WHERE s.person_id = $1::uuid AND ${NAME} = $2 AND s.ended_at IS NULL`,
    personId,
    name,
    now,
  )
  return count > 0
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

/** Guesses let through in a quarter of an hour before answers slow down: of one name from one address, and of one PIN. */
export const GUESSES = { password: 10, pin: 5, minutes: 15 } as const

export async function failuresSince(db: Db, subject: string, since: Date): Promise<number> {
  return db.prisma.signInFailure.count({ where: { subject, at: { gte: since } } })
}

/** Slows a guesser down without shutting out the person guessed at: what counts is the name and where it comes from. */
export async function mayTry(db: Db, now: Date, subject: string, most: number): Promise<void> {
  const since = new Date(now.getTime() - GUESSES.minutes * 60_000)
  if ((await failuresSince(db, subject, since)) >= most)
    throw new Problem(
      'rate-limited',
      `Too many wrong tries. Wait ${GUESSES.minutes} minutes, or sign in on another device.`,
      {},
      GUESSES.minutes * 60,
    )
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
