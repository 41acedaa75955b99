/** Today’s lines of the office, in words, from what was read. */
import type { OfficeToday } from '#contract/office-today.ts'
import { daysBetween, daysLate } from '#core/calendar.ts'
import { expectedHours, hoursLeftThisWeek } from '#core/office-hours.ts'
import { waitWords, whyLate } from '#core/office-late.ts'
import { CRANK_RULES, OFFICE_RULES } from '#core/office-rules.ts'
import { shortDay } from '#core/short-day.ts'
import { shopDay, shopTime } from '#server/plugins/shop-day.ts'
import { cranksOf, csvOf } from './links.ts'
import type { Asked, LateRow, PromisedRow, TodayRows, WaitRow } from './today-rows.ts'

/** What of the settings the lines of today are worked out with. */
export interface Capacity {
  benchHoursWeek: number
  targetHours: number
}

const SECONDS_AN_HOUR = 3600
const MS_AN_HOUR = 3_600_000
/** A backup proven longer ago is a worry. */
const PROOF_HOURS = 48

export function officeTodayOf(read: TodayRows, asked: Asked, capacity: Capacity): OfficeToday {
  const { today, now } = asked
  return {
    today,
    now: now.toISOString(),
    late: lateOf(read, today),
    promised: promisedOf(read, asked, capacity),
    waiting: waitingOf(read, today),
    ready: readyOf(read, today),
    instruments: instrumentsOf(read, today),
    proof: proofOf(read.proof, asked),
    money: {
      deposits: { rule: CRANK_RULES.deposits, ...read.money.deposits, ...linksOf('deposits') },
      doneNotCollected: { rule: CRANK_RULES['done-not-collected'], ...read.money.doneNotCollected, ...linksOf('done-not-collected') },
      unpaid: { rule: CRANK_RULES.unpaid, ...read.money.unpaid, ...linksOf('unpaid') },
    },
    inHand: { rule: CRANK_RULES.house, n: read.inHand, ...linksOf('house') },
  }
}

/** Figures that are a list of cranks and nothing more: their CSV is that list. */
function linksOf(figure: 'deposits' | 'done-not-collected' | 'unpaid' | 'house') {
  return { cranks: cranksOf(figure), csv: csvOf('cranks', { figure }) }
}

type HeadRow = Pick<LateRow, 'id' | 'tag' | 'engine' | 'whose' | 'kind' | 'state'>

function headOf({ id, tag, engine, whose, kind, state }: HeadRow): HeadRow {
  return { id, tag, engine, whose, kind, state }
}

function asWait({ what, note, sinceOn, dueOn }: WaitRow) {
  return { what, sinceOn, ...(note === null ? {} : { note }), ...(dueOn === null ? {} : { dueOn }) }
}

function lateOf({ late }: TodayRows, today: string): OfficeToday['late'] {
  const rows = (late.rows ?? []).map((row) => {
    const reasons = whyLate(
      {
        kind: row.kind,
        step: row.state,
        stepOn: row.stepOn,
        waits: row.waits.map(asWait),
        pressedApart: { left: row.apartLeft, right: row.apartRight },
        stepsBack: row.stepsBack,
        lastPass: row.lastPass,
        holder: row.holder,
      },
      today,
    )
    return {
      ...headOf(row),
      promisedOn: row.promisedOn,
      daysLate: daysLate({ promised: row.promisedOn, today, state: row.state }),
      says: reasons[0]!,
      reasons,
      toldLate: row.toldLate,
    }
  })
  return { rule: CRANK_RULES.late, n: late.n, cranks: cranksOf('late'), csv: csvOf('late'), rows }
}

function promisedOf(
  read: TodayRows,
  { today, monday, sunday, limit }: Asked,
  { benchHoursWeek, targetHours }: Capacity,
): OfficeToday['promised'] {
  const hoursOf = (row: PromisedRow, engineId: string | null) =>
    (read.lasted ?? [])
      .find((one) => one.kind === row.kind && one.engineId === engineId)
      ?.seconds.map((seconds) => seconds / SECONDS_AN_HOUR) ?? []
  const all = (read.promised ?? []).map((row) => {
    const expected = expectedHours({ ofEngine: hoursOf(row, row.engineId), ofShop: hoursOf(row, null), aimHours: targetHours })
    const clockedHours = hoursFrom(row.clockedSeconds)
    return {
      ...headOf(row),
      says: `promised ${shortDay(row.promisedOn, today)}`,
      promisedOn: row.promisedOn,
      expectedHours: expected.hours,
      clockedHours,
      leftHours: Math.max(0, expected.hours - clockedHours),
      basis: expected.basis,
    }
  })
  const sum = (rows: typeof all) => rows.reduce((hours, row) => hours + row.leftHours, 0)
  const thisWeek = all.filter((row) => row.promisedOn >= monday)
  const hours = sum(thisWeek)
  const lateHours = sum(all.filter((row) => row.promisedOn < monday))
  const clockedHours = hoursFrom(read.clockedSeconds)
  const freeHours = hoursLeftThisWeek({ weekHours: benchHoursWeek, clockedHours, today })
  return {
    rule: `${CRANK_RULES.promised} ${OFFICE_RULES.freeHours}`,
    n: thisWeek.length,
    cranks: cranksOf('promised'),
    csv: csvOf('promised'),
    from: monday,
    to: sunday,
    hours,
    lateHours,
    freeHours,
    weekHours: benchHoursWeek,
    clockedHours,
    fits: hours + lateHours <= freeHours,
    rows: thisWeek.slice(0, limit),
  }
}

function waitingOf({ waiting }: TodayRows, today: string): OfficeToday['waiting'] {
  return {
    rule: CRANK_RULES.waiting,
    n: waiting.n,
    cranks: cranksOf('waiting'),
    csv: csvOf('waiting'),
    of: (waiting.of ?? []).map(({ what, n, oldestSince, oldestOn }) => ({
      what,
      n,
      oldestSince,
      oldestDays: daysSince(oldestOn, today),
      cranks: cranksOf('waiting', { waiting: what }),
    })),
    rows: (waiting.rows ?? []).map((row) => {
      const { what, note, dueOn } = asWait(row)
      return {
        ...headOf(row),
        says: waitWords(asWait(row), today),
        what,
        since: row.since,
        days: daysSince(row.sinceOn, today),
        overdue: dueOn !== undefined && dueOn < today,
        ...(note === undefined ? {} : { note }),
        ...(dueOn === undefined ? {} : { dueOn }),
      }
    }),
  }
}

function readyOf({ ready }: TodayRows, today: string): OfficeToday['ready'] {
  return {
    rule: CRANK_RULES.ready,
    n: ready.n,
    cranks: cranksOf('ready'),
    csv: csvOf('ready'),
    owesMinor: ready.owesMinor,
    ...(ready.oldestOn === null ? {} : { oldestDays: daysSince(ready.oldestOn, today) }),
    rows: (ready.rows ?? []).map((row) => ({
      ...headOf(row),
      says: `ready since ${shortDay(row.readyOn, today)}`,
      readySince: row.readySince,
      days: daysSince(row.readyOn, today),
      goesBy: row.goesBy,
      ...(row.owesMinor === null ? {} : { owesMinor: row.owesMinor }),
    })),
  }
}

function instrumentsOf({ instruments }: TodayRows, today: string): OfficeToday['instruments'] {
  const rows = (instruments ?? []).map((row) => {
    const overdue = row.dueOn < today
    const says = `${row.name} ${overdue ? 'was' : 'is'} due for its check on ${shortDay(row.dueOn, today)}`
    return { ...row, overdue, says: says.charAt(0).toUpperCase() + says.slice(1) }
  })
  return { rule: OFFICE_RULES.instruments, n: rows.length, cranks: null, csv: csvOf('instruments'), rows }
}

function proofOf(proof: TodayRows['proof'], { now, zone, today }: Asked): OfficeToday['proof'] {
  const { at, lastHeld, lastAt, lastSays } = proof
  const said = (instant: string) => `${shortDay(shopDay(new Date(instant), zone), today)}, ${shopTime(new Date(instant), zone)}`
  const rule = OFFICE_RULES.proof
  const failed =
    lastHeld === false && lastAt !== null
      ? `The last trial, ${said(lastAt)}, did not hold${lastSays === null ? '' : `: ${lastSays}`}.`
      : null
  if (at === null) return { rule, warning: failed ?? 'No backup was ever restored and looked at.', says: 'Book never proven restorable' }
  const hours = (now.getTime() - Date.parse(at)) / MS_AN_HOUR
  const old = hours > PROOF_HOURS ? `The last proof is more than ${PROOF_HOURS} hours old.` : null
  const warning = [failed, old].filter((each) => each !== null).join(' ')
  return { rule, at, hours: Math.max(0, hours), says: `Book last proven restorable: ${said(at)}`, ...(warning === '' ? {} : { warning }) }
}

/** A clock that was started ahead of time has not run yet. */
function hoursFrom(seconds: number): number {
  return Math.max(0, seconds / SECONDS_AN_HOUR)
}

function daysSince(day: string, today: string): number {
  return Math.max(0, daysBetween(day, today))
}
