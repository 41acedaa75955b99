/** A rebuild from the yes to the second reading, laid out in one go, and what every kind of job has in common after that. */

import { changeJob } from '#server/features/jobs/commands.ts'
import { lockJob } from '#server/features/jobs/store.ts'
import { MINUTE, openAfter } from './days.ts'
import { faultsThatSwing } from './faults.ts'
import { type Life, putOn, type Shop } from './life.ts'
import { type Parting, putParting } from './life-at-the-bench.ts'
import { amountInWords, type Booked, fetchedAfter, putGoingHome, putTold } from './life-at-the-counter.ts'
import { putPressing } from './life-at-the-press.ts'
import { putCheck, putSheet, putTruing } from './life-at-truing.ts'
import type { Parts } from './parts.ts'
import { EWA, type Hand } from './people.ts'
import { skillOf, truingShareOf } from './skill.ts'
import { isTwin } from './twins.ts'
import { putTwinBuilding } from './twins-built.ts'

export interface Building {
  from: number
  /** Bench hours from here to true. */
  hours: number
  /** Number of this crank in its builder's own count. */
  n: number
  parts: Parts
  borderline: boolean
  /** It was parted before, while the kit was on its way. */
  parted?: boolean | undefined
  parting?: Pick<Parting, 'gaugeNotRead' | 'galling'> | undefined
}

/** Median of the worse full swing of a crank just pressed together, before the first blow. */
const FRESH_SWING_MM = 0.16
const PARTING_SHARE = 0.3

/** The number of the next rebuild in a hand's own count, which it then is. */
export function countedOn(shop: Shop, hand: Hand): number {
  shop.counted[hand] += 1
  return shop.counted[hand]
}

export function partingHours(hours: number, life: Life, n: number): number {
  return hours * (1 - truingShareOf(life.builder, n)) * PARTING_SHARE
}

/** Parts it, presses it together and trues it. Answers when it was called true, and what is left wrong with it. */
export function putBuilding(shop: Shop, life: Life, building: Building) {
  const { from, hours, n, parts, borderline, parted = false } = building
  const { builder: hand, chance, sheet } = life
  const atTruing = hours * truingShareOf(hand, n)
  const atParting = partingHours(hours, life, n)
  const apartAt = parted ? from : putParting(shop, life, parts, { hand, from, hours: atParting, ...building.parting })
  if (isTwin(sheet)) return putTwinBuilding(shop, life, { hand, from: apartAt, hours: hours - atParting, n, borderline })
  const faults = faultsThatSwing(chance.lognormal(FRESH_SWING_MM, 0.4), sheet, chance, true)
  const pressed = putPressing(shop, life, parts, { hand, from: apartAt, hours: hours - atTruing - atParting, faults })
  return putTruing(shop, life, {
    hand,
    from: pressed.at,
    hours: atTruing,
    faults,
    skill: skillOf(hand, n, chance),
    widthMm: pressed.widthMm,
    stackMm: parts.stackMm,
    borderline,
  })
}

export interface Finishing {
  trued: { at: number; faults: Parameters<typeof putCheck>[2]['faults'] }
  borderline: boolean
  /** What else was done, for the sheet. */
  also?: string | undefined
}

/** The second reading once it is cold, and the sheet. Answers when it was signed, and the id of the sheet. */
export function putSigning(shop: Shop, life: Life, { trued, borderline, also }: Finishing): { at: number; sheetId: string } {
  const { builder, checker, chance } = life
  const from = openAfter(trued.at, chance.between(0.5, 4))
  life.left = trued.faults
  const checked = putCheck(shop, life, {
    checker,
    builder,
    from,
    faults: trued.faults,
    borderline,
    report: life.kind === 'check-and-report',
  })
  if (also !== undefined)
    putOn(shop, life, openAfter(checked, 0.02), EWA, async (act) => {
      const { version } = (await lockJob(act.tx, life.id))!
      return changeJob({ ...act, expectedVersion: () => version }, life.id, { also })
    })
  const at = openAfter(checked, chance.between(0.06, 0.15))
  return { at, sheetId: putSheet(shop, life, at, checker) }
}

/** Told, fetched, paid and gone. Answers when. */
export function putHome(shop: Shop, life: Life, signedAt: number, booked: Booked, totalMinor: number): number {
  const owes = totalMinor - (booked.depositMinor ?? 0)
  const toldAt = openAfter(signedAt, life.chance.between(0.2, 2))
  putTold(shop, life, toldAt, `It is ready. ${owes > 0 ? `${amountInWords(owes)} to pay.` : 'It is paid.'}`)
  const at = fetchedAfter(shop, toldAt, life)
  life.goneAt = at
  if (at + 15 * MINUTE > shop.now) throw new Error(`${life.name} would go home after now`)
  putGoingHome(shop, life, at, booked, owes)
  return at
}

const ALSO = [
  'both mains new; oil hole blown through',
  'both mains new',
  'threads chased',
  'both mains new, threads chased',
  'left main new; seat polished',
  'rod checked straight',
]

export function drawAlso(life: Life): string | undefined {
  return life.chance.happens(0.5) ? life.chance.pick(ALSO) : undefined
}
