/** Cranks that came back, or were told of: a few of all, a fifth of the lot whose cages broke. */

import { recordFindings, reportComeback } from '#server/features/comebacks/commands.ts'
import { reportOf } from '#server/features/comebacks/store.ts'
import type { Act } from '#server/plugins/act.ts'
import type { Chance } from './chance.ts'
import { CAUSES, type CauseOfDemo, type CauseSeen, DECK } from './comeback-causes.ts'
import { DAY, dayOf, openAfter } from './days.ts'
import type { FinishedWanted } from './finished-jobs.ts'
import { isBorderline, type LivesByName } from './finished-lives.ts'
import { kitOf } from './kit-lots.ts'
import { type Life, lifeOf, put, putStep, type Shop } from './life.ts'
import { putMeasuring, receivedFaults } from './life-at-the-bench.ts'
import { priceFor, putBooking, putKit, putQuote, putYes } from './life-at-the-counter.ts'
import { isPressedAgain } from './life-at-the-press.ts'
import { partsOf } from './parts.ts'
import { EWA, HANA, HANDS, type Hand } from './people.ts'
import { countedOn, putBuilding, putHome, putSigning } from './rebuild.ts'
import { hoursOf, LEAST_BUILDING_HOURS } from './skill.ts'
import { isTwin } from './twins.ts'

export const COMEBACK_SHARE = { base: 0.024, badLot: 0.2 } as const
/** Of the bad lot one stands at the counter today, see the new ones. */
export const AT_THE_COUNTER = 'bad-lot R124-X twofields'
/** Days from going home to the report. */
const AFTER = { medianDays: 95, scatter: 0.6, least: 20, most: 340 } as const
/** What came back longer ago than this is home again by now. */
const HOME_AGAIN_DAYS = 45
const RETURNED = 0.75

export function putComebacks(shop: Shop, past: readonly FinishedWanted[], lives: LivesByName): void {
  const chance = shop.chance.of('comebacks')
  const here = new Set(past.map(({ again }) => again))
  const built = past.map((job) => ({ job, life: lives.get(job.name)! })).filter(({ job, life }) => job.kind === 'rebuild' && life.goneAt)
  const count = (isBad: boolean, share: number) => Math.round(share * built.filter(({ job }) => job.badLot === isBad).length)
  const able = chance.shuffled(
    built.filter(({ job, life }) => {
      const isFree = !here.has(job.name) && !isTwin(life.sheet) && job.name !== AT_THE_COUNTER && job.story !== 'hollis-before'
      return isFree && life.goneAt! < shop.now - 60 * DAY
    }),
  )
  const bad = able.filter(({ job }) => job.badLot).slice(0, Math.max(0, count(true, COMEBACK_SHARE.badLot) - 1))
  for (const { life } of bad) putComeback(shop, life, 'kit', chance.of(life.name))
  const others = able.filter(({ job }) => !job.badLot)
  for (let index = 0; index < count(false, COMEBACK_SHARE.base) && others.length > 0; index++) {
    const cause = DECK[index % DECK.length]!
    const wished = others.findIndex(({ job }) => cause !== 'pin-shift' || job.code === 'R449-4X')
    const [{ life }] = others.splice(Math.max(0, wished), 1) as [(typeof others)[number]]
    putComeback(shop, life, cause, chance.of(life.name))
  }
}

function putComeback(shop: Shop, earlier: Life, cause: CauseOfDemo, chance: Chance): void {
  earlier.cameBack = true
  const daysGone = (shop.now - earlier.goneAt!) / DAY
  const wished = Math.min(AFTER.most, Math.max(AFTER.least, chance.lognormal(AFTER.medianDays, AFTER.scatter)))
  const at = openAfter(earlier.goneAt! + Math.min(wished, daysGone - 8) * DAY, chance.between(0.2, 5))
  const isHomeAgain = at < shop.now - HOME_AGAIN_DAYS * DAY
  if (isHomeAgain && chance.happens(RETURNED)) putReturned(shop, earlier, cause, at, chance)
  else putToldOnly(shop, earlier, cause, at, chance)
}

function ridden(chance: Chance): { hours: number; hoursHow: 'metered' | 'declared' } {
  return { hours: Math.round(chance.lognormal(24, 0.6)), hoursHow: chance.happens(0.6) ? 'metered' : 'declared' }
}

/** They rang or wrote, and sent photos; the crank stays where it is. */
function putToldOnly(shop: Shop, earlier: Life, cause: CauseOfDemo, at: number, chance: Chance): void {
  const { says, foundNote, share } = CAUSES[cause]
  const id = shop.newId(at)
  const report = { id, day: dayOf(at), how: 'told' as const, ...ridden(chance), says }
  put(shop, at, HANA, (act) => reportComeback(act, earlier.id, report))
  const decidedAt = openAfter(at, chance.between(6, 24))
  const change = { foundNote: `Not here; by their photos: ${foundNote}`, cause, share }
  if (decidedAt < shop.now) put(shop, decidedAt, EWA, (act) => recordFindings(atVersion(act, 1), id, change))
}

/** It is booked in again, looked at by somebody who did not build it, decided upon by the owner, and put right. */
function putReturned(shop: Shop, earlier: Life, cause: CauseOfDemo, bookedAt: number, chance: Chance): void {
  const seen: CauseSeen = CAUSES[cause]
  // The owner's word on a low fit counts as building too, so that the learner looks at what the others built.
  const looker: Hand = earlier.builder === 'jonas' ? 'marek' : 'jonas'
  const builder: Hand = earlier.builder === 'marek' ? 'ewa' : 'marek'
  const { code, customer } = earlier
  const wanted = { name: `comeback of ${earlier.name}`, code, customer, kind: seen.kind, why: seen.why, bookedAt }
  const life = lifeOf(shop, { ...wanted, builder, checker: builder === 'ewa' ? 'marek' : 'ewa' })
  const booked = putBooking(shop, life, {
    again: earlier,
    comeback: true,
    comebackWhy: seen.says,
    ...ridden(chance),
    earlierRebuild: 'by us',
    depositMinor: 0,
  })
  const faults = seen.kind === 'check-and-report' && earlier.left !== undefined ? earlier.left : receivedFaults(life)
  const measuredHours = chance.between(0.3, 0.45)
  const from = openAfter(bookedAt, chance.between(0.4, 6))
  const measuredAt = putMeasuring(shop, life, { hand: looker, from, hours: measuredHours, faults })
  const foundAt = openAfter(measuredAt, 0.05)
  putFindings(shop, earlier, foundAt, HANDS[looker], { version: 1, found: [...seen.found], foundNote: seen.foundNote })
  const decidedAt = openAfter(foundAt, chance.between(0.5, 3))
  putFindings(shop, earlier, decidedAt, EWA, { version: 2, cause, share: seen.share })
  if (seen.kind === 'check-and-report') {
    const signed = putSigning(shop, life, { trued: { at: decidedAt, faults }, borderline: false })
    putHome(shop, life, signed.at, booked, 0)
  } else putRight(shop, { life, share: seen.share, decidedAt, measuredHours, booked }, chance)
}

interface ToPutRight {
  life: Life
  share: CauseSeen['share']
  decidedAt: number
  measuredHours: number
  booked: ReturnType<typeof putBooking>
}

function putRight(shop: Shop, { life, share, decidedAt, measuredHours, booked }: ToPutRight, chance: Chance): void {
  const totalMinor = share === 'theirs' ? priceFor(life).totalMinor : 0
  const agreedAt = openAfter(decidedAt, chance.between(0.5, 5))
  if (share === 'theirs') {
    putQuote(shop, life, openAfter(decidedAt, 0.2), priceFor(life))
    putYes(shop, life, agreedAt, 'by phone')
  } else {
    const reason = share === 'part' ? 'the seller of the kit bears it; we put it right at once' : 'ours: we put it right and bear all of it'
    putStep(shop, life, agreedAt, EWA, 'agreed', [{ code: 'quote', reason }])
  }
  const kitAt = openAfter(agreedAt, 0.1)
  putKit(shop, life, kitAt, kitOf({ code: life.code, ownKit: false, badLot: false, bookedAt: life.bookedAt }, shop.now, chance))
  const n = countedOn(shop, life.builder)
  const hours = Math.max(LEAST_BUILDING_HOURS, hoursOf(life.builder, n, life.code, life.chance.of('bench hours')) - measuredHours)
  const parts = partsOf(life.sheet, { pressedAgain: isPressedAgain(life) }, life.chance.of('parts'))
  const borderline = isBorderline(life)
  const trued = putBuilding(shop, life, { from: openAfter(kitAt, 0.1), hours, n, parts, borderline })
  const signed = putSigning(shop, life, { trued, borderline })
  putHome(shop, life, signed.at, booked, totalMinor)
}

type Findings = Parameters<typeof recordFindings>[2] & { version: number }

/** Written into the report that the booking made of the earlier job. */
function putFindings(shop: Shop, earlier: Life, at: number, by: (typeof HANDS)[Hand], { version, ...change }: Findings): void {
  put(shop, at, by, async (act) => {
    const report = await reportOf(act.tx, earlier.id)
    if (report === null) throw new Error(`${earlier.tag} has no report of its comeback`)
    return recordFindings(atVersion(act, version), report.id, change)
  })
}

function atVersion(act: Act, version: number): Act {
  return { ...act, expectedVersion: () => version }
}
