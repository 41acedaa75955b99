/** Lays out the jobs of the past: first what was done before the kit lay there, then, in the order in which it did, the building. */
import { correctSheet } from '#server/features/certificates/commands.ts'
import { changeJob } from '#server/features/jobs/commands.ts'
import { lockJob } from '#server/features/jobs/store.ts'
import { takePayment } from '#server/features/money/commands.ts'
import { endJob } from '#server/features/steps/commands.ts'
import { DAY, dayOf, daysAfter, HOUR, MINUTE, openAfter, shopDayFrom } from './days.ts'
import { scaled, shareOfLimit } from './faults.ts'
import type { FinishedWanted } from './finished-jobs.ts'
import { kitOf } from './kit-lots.ts'
import { type Life, lifeOf, put, putOn, type Shop } from './life.ts'
import { putMeasuring, putParting, type Received, receivedFaults } from './life-at-the-bench.ts'
import { answerAfter, type Booked, priceFor, putBooking, putKit, putKitWait, putQuote, putTold, putYes } from './life-at-the-counter.ts'
import { isPressedAgain } from './life-at-the-press.ts'
import { putTruing, putWeld, sheetMaker } from './life-at-truing.ts'
import { type Parts, partsOf } from './parts.ts'
import { EWA, HANA } from './people.ts'
import { countedOn, drawAlso, partingHours, putBuilding, putHome, putSigning } from './rebuild.ts'
import { hoursOf, insideAtFirstCheck, LEAST_BUILDING_HOURS, skillOf } from './skill.ts'

/** A crank that is agreed and, where it gets one, has its kit. */
interface Ready {
  wanted: FinishedWanted
  life: Life
  booked: Booked
  parts: Parts
  totalMinor: number
  measuredHours: number
  readyAt: number
  /** What is wrong with a crank that is not parted. */
  faults: Received['faults']
}

export type LivesByName = ReadonlyMap<string, Life>

/** Lays the jobs of the past out, and answers them by name. */
export function putFinishedLives(shop: Shop, jobs: readonly FinishedWanted[]): LivesByName {
  const lives = new Map<string, Life>()
  const ready: Ready[] = []
  for (const wanted of jobs) {
    const one = putUpToReady(shop, wanted, lives)
    lives.set(wanted.name, one.life)
    ready.push(one)
  }
  for (const one of ready.sort((first, second) => first.readyAt - second.readyAt)) {
    const { wanted } = one
    if (wanted.story === 'given-back') putGivenBack(shop, one)
    else if (wanted.story === 'scrapped') putScrapped(shop, one)
    else if (wanted.kind !== 'rebuild') putNotParted(shop, one)
    else putRebuilt(shop, one)
  }
  return lives
}

function putUpToReady(shop: Shop, wanted: FinishedWanted, lives: LivesByName): Ready {
  const { story, kind, builder, ownKit } = wanted
  const life = lifeOf(shop, wanted)
  const { chance } = life
  const booked = putBooking(shop, life, {
    ...(ownKit ? { kitFrom: 'theirs' } : {}),
    ...(story === 'hollis-before' ? { engineNumber: 'R4-20718', pressedBefore: 1 } : {}),
    ...(wanted.again === undefined ? {} : { again: lives.get(wanted.again), earlierRebuild: 'by us' }),
  })
  const faults = receivedFaults(life)
  const hand = builder === 'jonas' && chance.happens(0.05) ? 'marek' : builder
  const measuredHours = chance.between(0.28, 0.5)
  const measuredAt = putMeasuring(shop, life, {
    hand,
    from: openAfter(wanted.bookedAt, chance.between(0.4, 6)),
    hours: measuredHours,
    faults,
    ...(story === 'rod-not-read' ? { notRead: { kind: 'rod', because: 'our arbor does not go through this small end' } } : {}),
    slipped: story === 'slipped-dial',
  })
  const price = priceFor(life, ownKit)
  const quotedAt = openAfter(measuredAt, chance.between(0.3, 4))
  const base = {
    wanted,
    life,
    booked,
    measuredHours,
    faults,
    totalMinor: price.totalMinor,
    parts: partsOf(life.sheet, { pressedAgain: isPressedAgain(life) }, chance.of('parts')),
  }
  putQuote(shop, life, quotedAt, price)
  const answeredAt = answerAfter(quotedAt, life)
  if (story === 'given-back') return { ...base, readyAt: answeredAt }
  putYes(shop, life, answeredAt, chance.pick(['by phone', 'by mail', 'by text', 'at the counter'] as const))
  if (kind !== 'rebuild' || story === 'scrapped') return { ...base, readyAt: openAfter(answeredAt, 0.05) }
  return { ...base, readyAt: putKitReady(shop, life, wanted, openAfter(answeredAt, 0.1)) }
}

/** Of a kit that is on the shelf at once; else it is waited for, and named when it is in. */
function putKitReady(shop: Shop, life: Life, wanted: FinishedWanted, from: number): number {
  const { chance } = life
  const kit = kitOf(wanted, shop.now, chance.of('kit'))
  if (wanted.ownKit || chance.happens(0.62)) {
    putKit(shop, life, from, kit)
    return openAfter(from, 0.02)
  }
  const days = Math.round(Math.min(21, Math.max(4, chance.lognormal(8, 0.5))))
  // What comes in later than this would not be home by now.
  const latest = Math.max(openAfter(shop.now - 13 * DAY, 0), openAfter(from, 6))
  const at = Math.min(openAfter(from + days * DAY, chance.between(0.2, 3)), latest)
  putKitWait(shop, life, from, shopDayFrom(daysAfter(dayOf(at), chance.whole(-2, 2))), `${kit.maker} ${kit.part}`)
  putKit(shop, life, at, kit)
  return openAfter(at, 0.02)
}

export function isBorderline(life: Life): boolean {
  return !life.chance.of('checked').happens(insideAtFirstCheck(life.builder))
}

function putRebuilt(shop: Shop, ready: Ready): void {
  const { wanted, life, booked, parts, measuredHours, readyAt, totalMinor } = ready
  const { story } = wanted
  const n = countedOn(shop, life.builder)
  const hours = Math.max(LEAST_BUILDING_HOURS, hoursOf(life.builder, n, life.code, life.chance.of('bench hours')) - measuredHours)
  const borderline = isBorderline(life)
  const parting = {
    galling: life.chance.happens(0.08) ? ('light' as const) : ('none' as const),
    ...(story === 'gauge-not-read' ? { gaugeNotRead: 'the needle of the gauge stuck' } : {}),
  }
  const trued = putBuilding(shop, life, { from: readyAt, hours, n, parts, borderline, parting })
  const signed = putSigning(shop, life, { trued, borderline, also: drawAlso(life) })
  const goneAt = putHome(shop, life, signed.at, booked, totalMinor)
  if (story === 'corrected') putCorrection(shop, life, signed.sheetId, goneAt)
}

/** True-only, weld-only, and check-and-report. */
function putNotParted(shop: Shop, ready: Ready): void {
  const { life, booked, readyAt, faults, totalMinor } = ready
  const { kind, builder, chance, sheet } = life
  if (kind === 'check-and-report') {
    const signed = putSigning(shop, life, { trued: { at: readyAt, faults }, borderline: false })
    putHome(shop, life, signed.at, booked, totalMinor)
    return
  }
  const from = kind === 'weld-only' ? putWeld(shop, life, builder, readyAt) : readyAt
  // The weld pulls it a little; what came in true is knocked out by it.
  const start = kind === 'weld-only' ? scaled(faults, 2.5 / shareOfLimit(faults, sheet)) : faults
  const trued = putTruing(shop, life, {
    hand: builder,
    from: openAfter(from, kind === 'weld-only' ? 2 : 0.1),
    hours: chance.between(0.5, 1.1),
    faults: start,
    skill: skillOf(builder, 20, chance),
    widthMm: (sheet.figures.widthMinMm + sheet.figures.widthMaxMm) / 2,
    stackMm: null,
    borderline: false,
  })
  const signed = putSigning(shop, life, { trued, borderline: false })
  putHome(shop, life, signed.at, booked, totalMinor)
}

function putGivenBack(shop: Shop, { life, readyAt, booked }: Ready): void {
  const reason = 'a new crank costs them little more; they take this one back unbuilt'
  putOn(shop, life, readyAt, HANA, (act) => endJob(act, life.id, { end: 'given-back', reason }))
  putBack(shop, life, readyAt + 5 * MINUTE, booked)
}

function putScrapped(shop: Shop, { life, parts, readyAt, booked }: Ready): void {
  const at = putParting(shop, life, parts, {
    hand: life.builder,
    from: readyAt,
    hours: partingHours(1.4, life, 1),
    galling: 'light',
    crack: true,
  })
  putTold(shop, life, openAfter(at, 0.35), 'There is a crack in the right web, from the bore outward. We have no other half for it.')
  const reason = 'a crack in the right web, from the bore outward; no other half to be had'
  putOn(shop, life, openAfter(at, 5), HANA, (act) => endJob(act, life.id, { end: 'scrapped', reason }))
  putBack(shop, life, openAfter(at, 5) + 5 * MINUTE, booked)
}

function putBack(shop: Shop, life: Life, at: number, { depositMinor }: Booked): void {
  if (depositMinor === undefined) return
  putOn(shop, life, at, HANA, (act) => takePayment(act, life.id, { amountMinor: depositMinor, what: 'back', how: 'cash' }))
}

/** The hours were written down wrong; the customer reads it on the sheet, and gets a new one that says so. */
function putCorrection(shop: Shop, life: Life, sheetId: string, goneAt: number): void {
  const at = openAfter(goneAt + 26 * HOUR, 0.5)
  const maker = sheetMaker(shop, life.chance.of('correction').of('sheet'))
  putOn(shop, life, at, HANA, async (act) => {
    const { version } = (await lockJob(act.tx, life.id))!
    return changeJob({ ...act, expectedVersion: () => version }, life.id, { hours: 34, hoursHow: 'metered' })
  })
  const reason = 'The hours were written down wrong: the meter said 34.'
  put(shop, at + 6 * MINUTE, EWA, (act) => correctSheet(act, sheetId, { id: shop.newId(at), reason }, maker))
}
