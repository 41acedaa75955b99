import { FIRST_SETTINGS, type Settings, type SettingsAnswer, settings } from '#contract/settings.ts'
import { Prisma } from '#prisma/client/client.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import type { Db, Tx } from '#server/plugins/database.ts'

const SHOP = 'shop'

/** The settings that stand; those of a fresh book until somebody changes them. */
export async function readSettings(db: Tx | Db['prisma']): Promise<SettingsAnswer> {
  const row = await db.setting.findUnique({ where: { key: SHOP }, select: { value: true, version: true } })
  return { ...settingsFrom(row?.value ?? null), version: row?.version ?? 1 }
}

/** Settings of the shop within an act: as they stood when its request was let in. */
export async function shopOf({ by, tx }: Pick<Act, 'by' | 'tx'>): Promise<Settings> {
  return by.shop ?? readSettings(tx)
}

/** The row of the settings, for a statement that reads them along with something else. */
export const SHOP_SETTINGS = Prisma.sql`(SELECT s.value FROM setting s WHERE s.key = ${SHOP})`

/** Settings from their row; a setting added by a later build is missing from an older row and takes its first value. */
export function settingsFrom(value: unknown): Settings {
  return value === null ? FIRST_SETTINGS : settings.parse({ ...FIRST_SETTINGS, ...(value as object) })
}

/** The same in SQL that is no tagged template: the text of the row, for settingsOf. */
export const SHOP_SETTINGS_TEXT = `(SELECT s.value::text FROM setting s WHERE s.key = '${SHOP}')`

let taken: { text: string | null; settings: Settings } | undefined

/** Settings from the text of their row. The same text is the same settings, so only another text is taken apart. */
export function settingsOf(text: string | null): Settings {
  if (taken?.text !== text) taken = { text, settings: Object.freeze(settingsFrom(text === null ? null : JSON.parse(text))) }
  return taken.settings
}

export async function changeSettings(act: Act, wanted: Settings): Promise<SettingsAnswer> {
  const { version, ...before } = await readSettings(act.tx)
  mustStandAt(version, act.expectedVersion())
  const value = { value: wanted, changedAt: act.now }
  await act.tx.setting.upsert({
    where: { key: SHOP },
    create: { key: SHOP, ...value, version: version + 1 },
    update: { ...value, version: version + 1 },
    select: { key: true },
  })
  act.note('change settings', 'setting', SHOP, { before, after: wanted })
  return { ...wanted, version: version + 1 }
}

export async function firstSettings(tx: Tx, value: Settings): Promise<void> {
  await tx.setting.upsert({ where: { key: SHOP }, create: { key: SHOP, value }, update: { value }, select: { key: true } })
}

export async function markDemo(tx: Tx): Promise<void> {
  await tx.setting.create({ data: { key: 'demo', value: true }, select: { key: true } })
}

export interface SessionLimits {
  idleMs: number
  absoluteMs: number
}

export async function sessionLimits(db: Db): Promise<SessionLimits> {
  const { idleMinutes, sessionHours } = await readSettings(db.prisma)
  return { idleMs: idleMinutes * 60_000, absoluteMs: sessionHours * 3_600_000 }
}

/** Whether this book holds invented data; set once by the demo's seed. */
export async function isDemo(db: Tx | Db['prisma']): Promise<boolean> {
  const row = await db.setting.findUnique({ where: { key: 'demo' }, select: { value: true } })
  return row?.value === true
}
