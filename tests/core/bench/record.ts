import type { JobRecord } from '#core/bench/job-record.ts'
import type { EngineSheet } from '#core/bench/limits-at-dial.ts'
import type { PressingDone } from '#core/bench/parting.ts'
import type { Reading, RunoutSetUp } from '#core/bench/reading.ts'
import type { ReadingSet } from '#core/bench/reading-set.ts'
import { runoutFigures } from '#core/bench/runout-set.ts'
import { dialAt, type Faults, readingsFrom } from '#core/truing-faults.ts'
import { at, LAST_MOVE, PARTED, PRESSED } from '#tests/core/gates/ready-job.ts'

/** An invented four-stroke single of 450 cm³, mm. */
export const SHEET: EngineSheet = {
  strokeMm: 62.4,
  widthMinMm: 63.95,
  widthMaxMm: 64.05,
  clearanceMinMm: 0.25,
  clearanceMaxMm: 0.5,
  pinDiameterMm: 35,
  engagementMm: 21.8,
  shopFloorMm: 0.1,
  supportLeftMm: 44,
  supportRightMm: 44,
  dialLeftMm: 45,
  dialRightMm: 50,
  limitHouseLeftMm: 0.02,
  limitHouseRightMm: 0.02,
  limitMakerLeftMm: 0.03,
  limitMakerRightMm: 0.03,
}

export const LIES: RunoutSetUp = {
  held: 'v-blocks-bare',
  supportLeftMm: 44,
  supportRightMm: 44,
  dialLeftMm: 45,
  dialRightMm: 50,
  cold: true,
}

let written = 0

/** A set read and written down at this minute of the morning. */
export function aSet(minute: number, set: Partial<ReadingSet> & Pick<ReadingSet, 'kind' | 'phase'>): ReadingSet {
  written++
  return {
    id: `set ${written}`,
    personId: 'jonas',
    doneAt: at(minute),
    recordedAt: at(minute),
    values: [],
    notReadBecause: null,
    temperatureC: null,
    setUp: null,
    runout: null,
    isStruck: false,
    ...set,
  }
}

export function widths(minute: number, phase: ReadingSet['phase'], mm: readonly number[]): ReadingSet {
  return aSet(minute, { kind: 'width', phase, values: mm.map((each, place) => ({ place: String(place * 90), mm: each })) })
}

/** What exact dials read round a turn of a crank with these faults, 12 read again. */
export function turn(faults: Partial<Faults>, lies: RunoutSetUp = LIES): Reading[] {
  const arrows = readingsFrom({ swingMm: 0, openRad: 0, throwMm: 0, cockedRad: 0, ...faults }, lies)
  return (['left', 'right'] as const).flatMap((side) => [
    ...[0, 90, 180, 270].map((atDeg) => ({ place: side, atDeg, mm: dialAt(arrows[side], atDeg) })),
    { place: `${side}-again`, mm: dialAt(arrows[side], 0) },
  ])
}

export function runout(
  minute: number,
  phase: ReadingSet['phase'],
  faults: Partial<Faults>,
  more: Partial<ReadingSet> & { sheet?: EngineSheet } = {},
): ReadingSet {
  const { sheet = SHEET, ...rest } = more
  const setUp = rest.setUp ?? LIES
  const values = turn(faults, setUp)
  return aSet(minute, {
    kind: 'runout',
    phase,
    values,
    setUp,
    runout: runoutFigures({ values, setUp, dialStepMm: 0.001, sheet, shopLimitMm: 0.02 }),
    ...rest,
  })
}

export function pressed(minute: number, pressing: Partial<PressingDone> & Pick<PressingDone, 'direction' | 'side'>): PressingDone {
  return {
    peakTonnes: 9,
    notReadBecause: null,
    galling: 'none',
    crack: false,
    webMark: `318-V ${pressing.side}`,
    doneAt: at(minute),
    isStruck: false,
    ...pressing,
  }
}

/** A rebuild of which nothing is missing but the sheet of paper. */
export function aRecord(changes: Partial<JobRecord> = {}): JobRecord {
  const pin = ['left-0', 'left-90', 'right-0', 'right-90'].map((place) => ({ place, mm: 35.012 }))
  const bores = ['left-outer-0', 'left-inner-90', 'right-outer-0', 'right-inner-90'].map((place) => ({ place, mm: 34.9 }))
  return {
    kind: 'rebuild',
    state: 'trued',
    whyNow: 'hours-up',
    oilHole: 'open',
    sets: [
      widths(1, 'received', [63.99, 64.01, 64.06, 64]),
      runout(2, 'received', { swingMm: 0.18 }),
      aSet(3, { kind: 'play', phase: 'received', values: [{ place: 'up-down', mm: 0.06 }] }),
      aSet(20, { kind: 'pin', phase: 'kit', values: pin }),
      aSet(21, { kind: 'bore', phase: 'building', values: bores }),
      runout(100, 'built', { swingMm: 0.01 }),
      widths(101, 'built', [64, 64.01, 64, 63.99]),
      aSet(102, { kind: 'clearance', phase: 'built', values: [{ place: 'left', mm: 0.36 }] }),
      runout(110, 'second', { swingMm: 0.011 }, { personId: 'marek' }),
    ],
    pressings: [
      pressed(PARTED, { direction: 'apart', side: 'left', peakTonnes: 9.5 }),
      pressed(PARTED, { direction: 'apart', side: 'right', peakTonnes: 5 }),
      pressed(PRESSED, { direction: 'together', side: 'left' }),
      pressed(PRESSED, { direction: 'together', side: 'right' }),
    ],
    moves: [{ action: 'strike', doneAt: at(LAST_MOVE) }],
    welds: [],
    kitLot: 'A-2417',
    sheet: SHEET,
    quote: { version: 2, yes: { version: 2, by: 'A. Hollis', how: 'by phone' } },
    overdueInstruments: [],
    doubtedInstruments: [],
    certificate: null,
    box: { isComplete: true, ownersWord: null },
    paid: true,
    awaitedSecond: [{ from: at(105), until: null }],
    settings: { samePersonMayCheck: false, scrapFloorFactor: 0.0022, houseLimitMm: 0.02 },
    ...changes,
  }
}
