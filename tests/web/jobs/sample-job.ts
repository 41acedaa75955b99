import type { Bench } from '#contract/bench.ts'
import type { Customer } from '#contract/customers.ts'
import type { Engine } from '#contract/engines.ts'
import type { Job, JobRow } from '#contract/jobs.ts'
import type { Measurement } from '#contract/measurements.ts'
import { truing } from '#core/truing.ts'

export const ID = {
  job: '0198f3a0-0000-7000-8000-000000000010',
  crank: '0198f3a0-0000-7000-8000-000000000011',
  engine: '0198f3a0-0000-7000-8000-000000000012',
  customer: '0198f3a0-0000-7000-8000-000000000013',
  quote: '0198f3a0-0000-7000-8000-000000000014',
  hand: '0198f3a0-0000-7000-8000-000000000015',
} as const

export const hollis: Customer = {
  id: ID.customer,
  name: 'Hollis, A.',
  phone: '0161 496 0103',
  mail: 'a.hollis@place.example',
  hearBy: 'mail',
  cranksHere: 3,
  lastTag: '187-L',
  lastOn: '2025-03-04',
  owes: 0,
  version: 4,
}

export const row: JobRow = {
  id: ID.job,
  tag: '318-V',
  kind: 'rebuild',
  state: 'apart',
  whose: 'Hollis, A.',
  engine: 'Ruskhammar R449-4X',
  waiting: [{ what: 'kit', since: '2026-11-23T09:00:00Z', dueOn: '2026-11-26' }],
  promisedOn: '2026-12-03',
  late: false,
  toldLate: false,
  place: 'rack A',
  deposit: 10_000,
  owes: 31_200,
  bookedAt: '2026-11-20T08:20:00Z',
  comeback: false,
}

export const job: Job = {
  id: ID.job,
  tag: '318-V',
  kind: 'rebuild',
  state: 'apart',
  engine: 'Ruskhammar R449-4X',
  waiting: [{ what: 'kit', since: '2026-11-23T09:00:00Z', dueOn: '2026-11-26' }],
  promisedOn: '2026-12-03',
  late: false,
  toldLate: false,
  place: 'rack A',
  owes: 31_200,
  deposit: 10_000,
  bookedAt: '2026-11-20T08:20:00Z',
  comeback: false,
  customer: hollis,
  crank: {
    id: ID.crank,
    engineId: ID.engine,
    engineNumber: 'R4-20718',
    welded: false,
    pressedBefore: 1,
    pressedHere: { left: 1, right: 1 },
    earlier: [],
  },
  whyNow: 'knock',
  cameBy: 'carrier',
  goesBy: 'carrier',
  hours: 61,
  hoursHow: 'metered',
  kitFrom: 'ours',
  cameWith: [{ what: 'keys', count: 2 }, { what: 'cam gear' }],
  condition: ['box holed'],
  oldPartsBack: false,
  steps: [
    { step: 'booked', at: '2026-11-20T08:20:00Z', by: 'Hana' },
    { step: 'measured', at: '2026-11-20T16:40:00Z', by: 'Jonas' },
    { step: 'agreed', at: '2026-11-23T12:07:00Z', by: 'Hana' },
    { step: 'apart', at: '2026-11-24T09:05:00Z', by: 'Jonas' },
  ],
  passes: [],
  quotes: [
    {
      id: ID.quote,
      version: 1,
      totalMinor: 41_200,
      taxMinor: 6867,
      text: 'Rebuild with rod kit',
      madeBy: 'Hana',
      madeAt: '2026-11-23T10:30:00Z',
      yes: { by: 'A. Hollis', how: 'by mail', at: '2026-11-23T12:07:00Z', enteredBy: 'Hana' },
    },
  ],
  payments: [],
  version: 7,
}

/** What the bench is told of it: no names, phones and prices. */
export function asTheBenchSees({ customer: _c, quotes: _q, payments: _p, owes: _o, deposit: _d, ...seen }: Job): Job {
  return seen
}

const figure = (name: Engine['figures'][number]['name'], value: number): Engine['figures'][number] => ({
  name,
  value,
  source: 'invented',
  version: 1,
  at: '2026-11-01T08:00:00Z',
})

export const sheet: Engine = {
  id: ID.engine,
  maker: 'Ruskhammar',
  code: 'R449-4X',
  cycle: '4T',
  surfaceLeft: 'taper 1:5 + keyway',
  surfaceRight: 'plain 20 mm, oil nose, thread beyond 60',
  figures: [
    figure('strokeMm', 62.4),
    figure('widthMinMm', 63.95),
    figure('widthMaxMm', 64.05),
    figure('clearanceMinMm', 0.25),
    figure('clearanceMaxMm', 0.5),
    figure('pinDiameterMm', 35),
    figure('pinLengthMm', 63.4),
    figure('engagementMm', 21.8),
    figure('fitMinMm', 0.105),
    figure('fitMaxMm', 0.125),
    figure('supportLeftMm', 44),
    figure('supportRightMm', 44),
    figure('dialLeftMm', 45),
    figure('dialRightMm', 50),
    figure('playLimitMm', 0.05),
  ],
  version: 1,
}

const MADE = { by: 'Jonas', byId: ID.hand, occurredAt: '2026-11-20T16:40:00Z', recordedAt: '2026-11-20T16:40:00Z' }
let count = 100
const nextId = () => `0198f3a0-0000-7000-8000-000000000${count++}`

export function set(kind: Measurement['kind'], phase: Measurement['phase'], values: [string, number][]): Measurement {
  return { id: nextId(), kind, phase, ...MADE, values: values.map(([place, mm]) => ({ place, mm })) }
}

const setup = {
  held: 'v-blocks-bare',
  supportLeftMm: 44,
  supportRightMm: 44,
  dialLeftMm: 45,
  dialRightMm: 50,
  surfaceLeft: 'taper',
  surfaceRight: 'plain',
  cold: true,
} as const

/** A runout set with what the truing sum makes of it; the sum itself is core's. */
export function runoutSet(left: { tirMm: number; highAtDeg: number }, right: { tirMm: number; highAtDeg: number }): Measurement {
  const { held: _held, cold: _cold, surfaceLeft: _left, surfaceRight: _right, ...places } = setup
  const sum = truing({ ...places, strokeMm: 62.4, left, right, held: 'both', limitTirMm: { leftMm: 0.02, rightMm: 0.02 } })
  if (!sum.ok) throw new Error(sum.detail)
  const over = (tirMm: number) => (tirMm > 0.02 ? 'over' : 'within')
  return {
    ...set('runout', 'received', []),
    setup: { ...setup },
    values: [
      { place: 'left-swing', mm: left.tirMm, atDeg: left.highAtDeg },
      { place: 'right-swing', mm: right.tirMm, atDeg: right.highAtDeg },
    ],
    runout: {
      sum: JSON.parse(JSON.stringify(sum.value)),
      left,
      right,
      closes: { agree: true },
      giveOrTake: { leftMm: 0.008, rightMm: 0.008 },
      limits: { leftMm: 0.02, rightMm: 0.02, atStatedPlace: true },
      verdicts: { left: over(left.tirMm), right: over(right.tirMm) },
      method: { name: 'runout set', version: '1' },
    },
  }
}

/** As the crank of 318-V came in: swung, and a little wider opposite the pin. */
export function asReceived(): Bench {
  return {
    measurements: [
      set('width', 'received', [
        ['0', 63.99],
        ['90', 64.01],
        ['180', 64.06],
        ['270', 64.01],
      ]),
      runoutSet({ tirMm: 0.19, highAtDeg: 81 }, { tirMm: 0.21, highAtDeg: 279 }),
      set('clearance', 'received', [
        ['left', 0.61],
        ['right', 0.61],
      ]),
      set('play', 'received', [['up-down', 0.06]]),
    ],
    pressings: [],
    welds: [],
  }
}
