/**
 * 318-V, the crank that is on the bench right now: a knock at 61 hours, a right web that holds below the floor of the shop
 * and was let pass, and Jonas at the truing stand with his clock running.
 */
import { arrowOf, type EndReading, type Faults, faultsFrom } from '#core/truing-faults.ts'
import { makeLink } from '#server/features/jobs/commands.ts'
import { hashOf } from '#server/plugins/auth.ts'
import { CLOSING_TIME, dayOf, isOpen, MINUTE, momentOn, openAfter, openOn } from './days.ts'
import { allot, endOfWork, momentsIn } from './diary.ts'
import { turnThat, workedOut } from './faults.ts'
import type { LivesByName } from './finished-lives.ts'
import { type Life, putOn, putSet, type Shop } from './life.ts'
import { putQuote, putYes } from './life-at-the-counter.ts'
import { putPressing } from './life-at-the-press.ts'
import { putSteps } from './life-at-truing.ts'
import type { ModelSheet } from './model-sheets.ts'
import { ago, apart, bookedToday, inDays, kitIn, measured, type OpenLife, putPlace } from './open-steps.ts'
import { HANA, HANDS } from './people.ts'
import type { TruingStep } from './truing-hand.ts'

/** Full swings so far, L and R, and which way the right half was carried. */
const SWINGS: readonly (readonly [left: number, right: number, towardsThree: boolean])[] = [
  [0.31, 0.34, true],
  [0.29, 0.3, true],
  [0.17, 0.2, true],
  [0.2, 0.24, false],
]

/** What the last turn read, L and R, at each mark and at 12 again, mm. */
const LAST_TURN = [
  [0, 0, 0],
  [90, 0.07, -0.06],
  [180, 0.02, 0.02],
  [270, -0.05, 0.08],
] as const

const RECEIVED = { left: { tirMm: 0.19, highAtDeg: 81 }, right: { tirMm: 0.21, highAtDeg: 279 } } as const

/** The fit of the new pin and of the old one, and what the gauge showed as the old one let go: low on the right. */
const PARTS = {
  fitMm: { left: 0.109, right: 0.094 },
  oldFitMm: { left: 0.107, right: 0.091 },
  apart: { left: 9.5, right: 5 },
} as const

/** Lays it out, and answers the job and the token of its customer's page. */
export function putHollis(shop: Shop, stories: LivesByName): { life: Life; token: string } {
  const as = {
    again: stories.get('hollis-before'),
    hours: 61,
    hoursHow: 'metered',
    usedFor: 'enduro',
    oil: '10W-50, changed every 8 h',
    whoFits: 'owner fits',
    earlierRebuild: 'by us, Ardenlow K1, not welded',
    cameBy: 'carrier',
    cameWith: [{ what: 'keys', count: 2 }, { what: 'cam gear' }],
    condition: ['box holed'],
    wantedOn: inDays(shop, 9),
    depositMinor: 100_00,
    depositHow: 'card',
    place: 'rack A',
  } as const
  const wanted = {
    name: 'hollis',
    code: 'R449-4X',
    customer: 'hollis',
    kind: 'rebuild',
    why: 'knock',
    builder: 'jonas',
    checker: 'marek',
  } as const
  const booked = bookedToday(shop, {
    ...wanted,
    daysAgo: 2.62,
    promised: 7,
    as: { ...as, cameWith: [...as.cameWith], condition: [...as.condition] },
    parts: PARTS,
  })
  const { life } = booked
  const token = Buffer.from(shop.chance.of('link').bytes(32)).toString('base64url')
  putOn(shop, life, openAfter(booked.at, 0.2), HANA, (act) => makeLink(act, life.id, hashOf(token)))
  const seen = measured(shop, booked, { hand: 'marek', faults: faultsOfEnds(RECEIVED, life.sheet) })
  putTheTwoQuotes(shop, life, seen.at)
  const open = apart(shop, { ...seen, at: ago(shop, 1.05) }, { hand: 'jonas' })
  const pressed = putPressing(shop, life, open.parts, {
    hand: 'jonas',
    from: kitIn(shop, open, { maker: 'Ardenlow', part: 'R449-4X K1', lot: 'A-2417' }).at,
    hours: 0.9,
    faults: faultsOfEnds(endsAt(SWINGS[0]!), life.sheet),
  })
  putPlace(shop, life, openAfter(pressed.at, 0.05), 'bench 2', 'jonas')
  putTruingSoFar(shop, open, Math.max(pressed.at, ago(shop, 0.43)))
  return { life, token }
}

/** The second one adds both mains, and that is what they said yes to. */
function putTheTwoQuotes(shop: Shop, life: Life, from: number): void {
  const text = 'Press apart, new rod kit, press together, true; certificate.'
  putQuote(shop, life, openAfter(from, 0.4), { totalMinor: 358_00, text })
  putQuote(shop, life, openAfter(from, 2.2), { totalMinor: 412_00, text: `${text} Both mains new.` })
  putYes(shop, life, openAfter(from, 3.1), 'by mail', 2)
}

function putTruingSoFar(shop: Shop, { life }: OpenLife, from: number): void {
  const { sheet, chance } = life
  const work = allot(shop.diaries.jonas, { from: openAfter(from, 0.1), hours: 1.1, jobId: life.id, work: 'truing' })
  const steps = SWINGS.map((swings): TruingStep => {
    const values = turnThat(() => true, faultsOfEnds(endsAt(swings), sheet), sheet, 'Dial 3', chance)
    const { sum } = workedOut(values, sheet, 'Dial 3')
    const advice = sum?.moves[0]
    if (advice?.action !== 'strike' || advice.half === undefined || advice.atDeg === undefined)
      throw new Error('318-V swings, and asks for a blow')
    return { values, dial: 'Dial 3', move: { action: 'strike', half: advice.half, atDeg: advice.atDeg, force: 'firm', asAdvised: true } }
  })
  putSteps(shop, life, steps, momentsIn(work, steps.length * 2, chance), 'jonas')
  const since = runningSince(shop.now)
  if (since <= endOfWork(work)) throw new Error('318-V is still in its first hour of truing')
  shop.diaries.jonas.push({ from: since, until: shop.now, jobId: life.id, work: 'truing', left: 'running' })
  const readAt = since + Math.round((shop.now - since) * 0.6)
  const turn = LAST_TURN.flatMap(([atDeg, left, right]) => [
    { place: 'left', atDeg, mm: left },
    { place: 'right', atDeg, mm: right },
  ])
  const again = [
    { place: 'left-again', atDeg: 0, mm: 0 },
    { place: 'right-again', atDeg: 0, mm: 0 },
  ]
  putSet(shop, life, readAt, HANDS.jonas, { kind: 'runout', phase: 'building', values: [...turn, ...again], with: 'Dial 3' })
}

function endsAt([left, right, towardsThree]: (typeof SWINGS)[number]): { left: EndReading; right: EndReading } {
  return { left: { tirMm: left, highAtDeg: towardsThree ? 82 : 262 }, right: { tirMm: right, highAtDeg: towardsThree ? 278 : 98 } }
}

function faultsOfEnds(ends: { left: EndReading; right: EndReading }, { setup }: ModelSheet): Faults {
  return faultsFrom(arrowOf(ends.left), arrowOf(ends.right), setup)
}

/** Whatever the hour at which the demo is opened, somebody is at the bench: this day, after its opening or its closing. */
function runningSince(now: number): number {
  const day = dayOf(now)
  const closing = momentOn(day, CLOSING_TIME)
  const begun = isOpen(now)
    ? openOn(day).findLast(({ from }) => from <= now)!.from
    : now >= closing
      ? closing + MINUTE
      : momentOn(day, '00:00') + MINUTE
  return Math.min(now - 1000, Math.max(now - 47 * MINUTE, begun))
}
