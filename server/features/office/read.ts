/** Reads of the office: brings its sums up to date, asks for what a figure needs, and has it worked out. */
import type { OfficeComebacks, OfficeRunning } from '#contract/office-came-back.ts'
import type { OfficeEarning } from '#contract/office-earns.ts'
import type { OfficeFirstCheck } from '#contract/office-first-check.ts'
import type { OfficeFlow } from '#contract/office-flow.ts'
import type { OfficeToday } from '#contract/office-today.ts'
import type { Settings } from '#contract/settings.ts'
import type { ComebackKey } from '#core/office-rules.ts'
import { dayAfter, mondayOf, officeWindow } from '#core/office-window.ts'
import type { JobKind } from '#core/steps.ts'
import type { Db } from '#server/plugins/database.ts'
import { notFound } from '#server/plugins/errors.ts'
import { shopDay } from '#server/plugins/shop-day.ts'
import { COMEBACK_ROWS, comebacksOf, orderedOf } from './comebacks-figure.ts'
import type { Today } from './counted.ts'
import { earningOf } from './earning-figure.ts'
import { firstCheckOf } from './first-check-figure.ts'
import { flowOf } from './flow-figure.ts'
import { refreshOffice } from './refresh.ts'
import { runningOf } from './running-figure.ts'
import { comebacksBy, earningBy, firstChecks, inAndOut, inHand, namesOf, runningBy, stillOut } from './store.ts'
import { type Capacity, officeTodayOf } from './today.ts'
import { todayRows } from './today-rows.ts'

/** Rows of each of today’s lists. */
const TODAY_ROWS = 50
const WEEKS = 12

/** The day, the week and the zone that are read in, and what of the settings is worked out with. */
export interface Stand extends Today {
  now: Date
  capacity: Capacity
}

/** Where the shop stands at this moment, its sums brought up to date. */
export async function stand(db: Pick<Db, 'pool'>, now: Date, shop: Settings): Promise<Stand> {
  const { zone, benchHoursWeek, targetHours } = shop
  await refreshOffice(db, zone)
  const today = shopDay(now, zone)
  const monday = mondayOf(today)
  return { now, zone, today, monday, sunday: dayAfter(monday, 6), capacity: { benchHoursWeek, targetHours } }
}

const NONE_NAMED: ReadonlyMap<string, string> = new Map()
const NONE_OUT: ReadonlyMap<string, number> = new Map()

interface WindowAsked {
  from?: string | undefined
  to?: string | undefined
}

export async function readToday(db: Pick<Db, 'pool'>, at: Stand, limit: number = TODAY_ROWS): Promise<OfficeToday> {
  const asked = { ...at, limit }
  return officeTodayOf(await todayRows(db, asked), asked, at.capacity)
}

export async function readFlow(
  db: Pick<Db, 'pool'>,
  at: Stand,
  asked: { weeks?: number | undefined; kind?: JobKind | undefined },
): Promise<OfficeFlow> {
  const weeks = asked.weeks ?? WEEKS
  const window = { from: dayAfter(at.monday, -7 * (weeks - 1)), to: at.sunday }
  const [moves, hand] = await Promise.all([inAndOut(db, window, asked.kind), inHand(db, asked.kind)])
  return flowOf({ moves, inHand: hand }, { window, today: at.today, weeks, kind: asked.kind })
}

export async function readFirstCheck(
  db: Pick<Db, 'pool'>,
  at: Stand,
  asked: WindowAsked & { engine?: string | undefined; person?: string | undefined },
): Promise<OfficeFirstCheck> {
  const window = officeWindow({ today: at.today, ...asked })
  const by = { engine: asked.engine, person: asked.person }
  return firstCheckOf(await firstChecks(db, window, by, at), window, by)
}

export async function readComebacks(
  db: Pick<Db, 'pool'>,
  at: Stand,
  asked: WindowAsked & { by?: ComebackKey | undefined },
  limit: number = COMEBACK_ROWS,
): Promise<OfficeComebacks> {
  const window = officeWindow({ today: at.today, ...asked })
  const by = asked.by ?? 'cause'
  const [[all], rows] = await Promise.all([comebacksBy(db, 'all', window, at), comebacksBy(db, by, window, at)])
  const ordered = orderedOf(rows, by, limit)
  const keys = by === 'cause' ? [] : ordered.rows.flatMap(({ key }) => (key === '' ? [] : [key]))
  const [names, out] = await Promise.all([
    by === 'cause' || keys.length === 0 ? NONE_NAMED : namesOf(db, by, keys),
    by === 'lot' && keys.length > 0 ? stillOut(db, keys) : NONE_OUT,
  ])
  return comebacksOf({ all, ordered, known: { names, stillOut: out } }, { window, by })
}

export async function readRunning(db: Pick<Db, 'pool'>, _at: Stand, asked: { lot?: string | undefined }): Promise<OfficeRunning> {
  const id = asked.lot
  if (id === undefined) return runningOf({ all: await runningBy(db, undefined), lot: null }, undefined)
  const [names, all, lot] = await Promise.all([namesOf(db, 'lot', [id]), runningBy(db, undefined), runningBy(db, id)])
  const name = names.get(id)
  if (name === undefined || name === '') throw notFound('This lot')
  return runningOf({ all, lot }, { id, name })
}

export async function readEarning(db: Pick<Db, 'pool'>, at: Stand, asked: WindowAsked): Promise<OfficeEarning> {
  const window = officeWindow({ today: at.today, ...asked })
  const [[all], rows] = await Promise.all([earningBy(db, 'all', window), earningBy(db, 'engine', window)])
  return earningOf({ all, rows }, window)
}
