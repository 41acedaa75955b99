/** What the bench does with a job before it is trued: measuring it as received, parting it, pressing it together. */

import type { PressingNew } from '#contract/pressings.ts'
import type { Faults } from '#core/truing-faults.ts'
import { strikeReadings } from '#server/features/measurements/commands.ts'
import { pressWeb } from '#server/features/pressings/commands.ts'
import type { Caller } from '#server/plugins/act.ts'
import { allot, endOfWork, momentsIn } from './diary.ts'
import { faultsThatSwing, onStep, turnOf, turnThat } from './faults.ts'
import { micrometerFor, stepOf } from './instruments.ts'
import { type Life, putOn, putSet, putStep, type SetWanted, type Shop } from './life.ts'
import { drawSwingMm } from './model-mix.ts'
import { clearanceOf, type Parts, widthsOf } from './parts.ts'
import { EWA, HANDS, type Hand } from './people.ts'
import { atEachThrow, isTwin, putTwinParting } from './twins.ts'

export interface Received {
  hand: Hand
  from: number
  hours: number
  faults: Faults
  /** A kind of reading that was left out, and why. */
  notRead?: { kind: 'rod' | 'play'; because: string } | undefined
  /** The dial slipped in the first turn, which is struck out. */
  slipped?: boolean | undefined
}

export function receivedFaults({ sheet, why, kind, chance }: Life): Faults {
  return faultsThatSwing(drawSwingMm(why, chance), sheet, chance.of('faults'), kind === 'true-only' || kind === 'weld-only')
}

/** As received: width, side clearance, play, both ends; after a seizure the rod too. Answers when it was called measured. */
export function putMeasuring(shop: Shop, life: Life, received: Received): number {
  const { hand, from, hours, faults, notRead } = received
  const by = HANDS[hand]
  const work = allot(shop.diaries[hand], { from, hours, jobId: life.id, work: 'measuring' })
  const setsOf = (one: Life) => receivedSets(one, faults, notRead)
  const sets = isTwin(life.sheet) ? atEachThrow(life, setsOf) : setsOf(life)
  const slips = received.slipped ? 1 : 0
  const moments = momentsIn(work, sets.length + 2 * slips + 1, life.chance)
  const next = () => moments.shift()!
  if (received.slipped) {
    const id = putSet(shop, life, next(), by, slippedTurn(life, faults))
    const because = 'the left dial slipped on its stand: 12 read again was 0.06 out'
    putOn(shop, life, next(), by, (act) => strikeReadings(act, id, { because }))
  }
  for (const set of sets) putSet(shop, life, next(), by, set)
  const at = endOfWork(work) + 1000
  putStep(shop, life, at, by, 'measured')
  return at
}

function receivedSets(life: Life, faults: Faults, notRead: Received['notRead']): SetWanted[] {
  const { sheet, why, chance, kind } = life
  const { widthMinMm, widthMaxMm, clearanceMinMm, clearanceMaxMm } = sheet.figures
  const own = chance.of('received')
  // What is not parted goes home as wide as it came.
  const widthMm = (widthMinMm + widthMaxMm) / 2 + (kind === 'rebuild' ? 0.03 * own.normal() : 0)
  const micrometer = micrometerFor(widthMm)
  const wear = kind === 'rebuild' ? own.between(-0.06, why === 'knock' ? 0.3 : 0.16) : 0
  const worn = Math.max(0.06, (clearanceMinMm + clearanceMaxMm) / 2 + wear)
  // A report is made of these very readings, so that they are taken with the fine dial.
  const dial = life.kind === 'check-and-report' ? 'Dial 4' : 'Dial 3'
  const sets: SetWanted[] = [
    { kind: 'width', phase: 'received', values: widthsOf(widthMm, faults, sheet, stepOf(micrometer), own), with: micrometer },
    { kind: 'clearance', phase: 'received', values: clearanceOf(worn, own), with: 'Feelers' },
    { kind: 'runout', phase: 'received', values: turnThat(() => true, faults, sheet, dial, own), with: dial },
  ]
  if (notRead?.kind !== 'play')
    sets.push({ kind: 'play', phase: 'received', values: [{ place: 'up-down', mm: playAsReceived(life) }], with: 'Dial 3' })
  if (why === 'seized' && notRead?.kind !== 'rod')
    sets.push({
      kind: 'rod',
      phase: 'received',
      values: [
        { place: 'bend', mm: onStep(own.between(0.01, 0.08), 0.01) },
        { place: 'twist', mm: onStep(own.between(0.01, 0.06), 0.01) },
      ],
      with: 'Dial 3',
    })
  if (notRead !== undefined) sets.push({ kind: notRead.kind, phase: 'received', notReadBecause: notRead.because })
  return sets
}

/** Big-end play of the old kit; a knock is more than is allowed. */
export function playAsReceived({ why, chance }: Life): number {
  const own = chance.of('play')
  return onStep(why === 'knock' ? own.between(0.06, 0.13) : own.between(0.015, 0.05), 0.01)
}

function slippedTurn({ sheet, chance }: Life, faults: Faults): SetWanted {
  const values = turnOf(faults, sheet, 'Dial 3', chance).map((value) => (value.place === 'left-again' ? { ...value, mm: 0.06 } : value))
  return { kind: 'runout', phase: 'received', values, with: 'Dial 3' }
}

export interface Parting {
  hand: Hand
  from: number
  hours: number
  /** The gauge was not read on the right web, and the owner let that pass. */
  gaugeNotRead?: string | undefined
  galling?: 'none' | 'light' | undefined
  /** A crack was seen in the right web: nothing goes on. */
  crack?: boolean | undefined
}

/** Presses it apart, looks, and measures the old pin and the bores. Answers when that was done. */
export function putParting(shop: Shop, life: Life, parts: Parts, parting: Parting): number {
  const { hand, from, hours, galling = 'none', gaugeNotRead, crack = false } = parting
  if (isTwin(life.sheet)) return putTwinParting(shop, life, parting)
  const by = HANDS[hand]
  const work = allot(shop.diaries[hand], { from, hours, jobId: life.id, work: 'parting' })
  const [left, right, called, pin, bore] = momentsIn(work, 5, life.chance)
  const apart = (side: 'left' | 'right', seen: Partial<PressingNew>): PressingNew => ({
    direction: 'apart',
    side,
    galling: side === 'right' ? galling : 'none',
    crack: false,
    webMark: `${life.tag} ${side === 'left' ? 'L' : 'R'}`,
    ...seen,
  })
  putOn(shop, life, left!, by, (act) =>
    pressWeb(act, life.id, { ...apart('left', { peakTonnes: parts.apart.left }), id: shop.newId(left!) }),
  )
  const gauge = gaugeNotRead === undefined ? { peakTonnes: parts.apart.right } : { notReadBecause: gaugeNotRead }
  putOn(shop, life, right!, by, (act) => pressWeb(act, life.id, { ...apart('right', { ...gauge, crack }), id: shop.newId(right!) }))
  if (crack) return endOfWork(work)
  if (gaugeNotRead === undefined) putStep(shop, life, called!, by, 'apart')
  else
    putStep(shop, life, called!, EWA, 'apart', [
      { code: 'peak-tonnage-right', reason: 'the left web let go as its fit foretold, and both bores look clean' },
    ])
  const micrometer = micrometerFor(life.sheet.figures.pinDiameterMm)
  putSet(shop, life, pin!, by, { kind: 'pin', phase: 'building', values: parts.oldPin, with: micrometer, note: 'the pin that came out' })
  putSet(shop, life, bore!, by, { kind: 'bore', phase: 'building', values: parts.bores, with: 'Bore gauge' })
  return endOfWork(work)
}

export interface WidthRead {
  at: readonly [width: number, clearance: number]
  by: Caller
  faults: Faults
  widthMm: number
  /** Null where it was never parted: the clearance is then felt, and agrees with what came in. */
  stackMm: number | null
  phase: 'building' | 'built'
}

/** Width over the webs and side clearance, of one stack. */
export function putWidth(shop: Shop, life: Life, { at, by, faults, widthMm, stackMm, phase }: WidthRead): void {
  const { sheet, chance } = life
  const micrometer = micrometerFor(widthMm)
  const { clearanceMinMm, clearanceMaxMm } = sheet.figures
  const clearanceMm = stackMm === null ? (clearanceMinMm + clearanceMaxMm) / 2 : widthMm - stackMm
  putSet(shop, life, at[0], by, {
    kind: 'width',
    phase,
    values: widthsOf(widthMm, faults, sheet, stepOf(micrometer), chance),
    with: micrometer,
  })
  putSet(shop, life, at[1], by, { kind: 'clearance', phase, values: clearanceOf(clearanceMm, chance), with: 'Feelers' })
}
