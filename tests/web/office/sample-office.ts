import type { OfficeComebacks, OfficeRunning } from '#contract/office-came-back.ts'
import type { OfficeEarning } from '#contract/office-earns.ts'
import type { OfficeFirstCheck } from '#contract/office-first-check.ts'
import type { OfficeFlow } from '#contract/office-flow.ts'
import type { OfficeToday } from '#contract/office-today.ts'
import type { ComebackKey } from '#core/office-rules.ts'

/** The figures of an invented shop on Tuesday 24 November 2026. */
export const CSV = '/api/office'
export const id = (last: string) => `0198f3a0-0000-7000-8000-${last.padStart(12, '0')}`
export const LOT = id('f0')
export const MAREK = id('3')
const R449 = id('e1')
const F124 = id('e2')

export function figure(name: string, n: number, cranks: string | null = n === 0 ? null : `figure=${name}`) {
  return { rule: `Rule of ${name}.`, n, cranks, csv: `${CSV}/${name}.csv` }
}

const crank = (last: string, tag: string, says: string) =>
  ({ id: id(last), tag, engine: 'Ruskhammar R449-4X', whose: 'R. Tolland', kind: 'rebuild', state: 'apart', says }) as const

export const today: OfficeToday = {
  today: '2026-11-24',
  now: '2026-11-24T08:05:00Z',
  late: {
    ...figure('late', 5),
    rows: [
      {
        ...crank('a1', '296-B', 'right web pressed apart twice'),
        promisedOn: '2026-11-09',
        daysLate: 15,
        reasons: ['right web pressed apart twice', 'apart since Fri 20 Nov, to press together, Marek has it'],
        toldLate: true,
      },
      {
        ...crank('a2', '302-A', 'waiting for kit (pin on order), since Mon 9 Nov'),
        promisedOn: '2026-11-23',
        daysLate: 1,
        reasons: ['waiting for kit (pin on order), since Mon 9 Nov, due Thu 26 Nov'],
        toldLate: false,
      },
    ],
  },
  promised: {
    ...figure('promised', 5),
    from: '2026-11-23',
    to: '2026-11-29',
    hours: 11.6,
    lateHours: 4.2,
    freeHours: 19,
    weekHours: 32,
    clockedHours: 13,
    fits: true,
    rows: [
      {
        ...crank('a3', '311-C', 'trued'),
        promisedOn: '2026-11-26',
        expectedHours: 2.4,
        clockedHours: 0.3,
        leftHours: 2.1,
        basis: 'engine',
      },
    ],
  },
  waiting: {
    ...figure('waiting', 4),
    of: [
      { what: 'kit', n: 3, oldestSince: '2026-11-09T09:00:00Z', oldestDays: 15, cranks: 'figure=waiting&waiting=kit' },
      { what: 'yes', n: 1, oldestSince: '2026-11-20T09:00:00Z', oldestDays: 4, cranks: 'figure=waiting&waiting=yes' },
    ],
    rows: [
      { ...crank('a2', '302-A', 'waiting for kit, since Mon 9 Nov'), what: 'kit', since: '2026-11-09T09:00:00Z', days: 15, overdue: false },
    ],
  },
  ready: {
    ...figure('ready', 4),
    owesMinor: 73_100,
    oldestDays: 47,
    rows: [
      {
        ...crank('a4', '244-K', 'signed since Thu 8 Oct'),
        state: 'signed',
        readySince: '2026-10-08T12:00:00Z',
        days: 47,
        owesMinor: 41_200,
        goesBy: 'counter',
      },
    ],
  },
  instruments: {
    ...figure('instruments', 1, null),
    rows: [
      {
        id: id('d3'),
        name: 'Dial 3',
        kind: 'dial',
        dueOn: '2026-11-27',
        overdue: false,
        says: 'Dial 3 is due for its check on Fri 27 Nov',
      },
    ],
  },
  proof: { rule: 'Rule of the proof.', at: '2026-11-24T02:10:00Z', hours: 5.9, says: 'Book last proven restorable: Tue 24 Nov, 02:10' },
  money: {
    deposits: { ...figure('deposits', 6), minor: 52_000 },
    doneNotCollected: { ...figure('done-not-collected', 3), minor: 73_100 },
    unpaid: { ...figure('unpaid', 0), minor: 0 },
  },
  inHand: figure('house', 14),
}

const CAME_IN = [6, 7, 9, 8, 7, 5, 6, 8, 9, 7, 6, 7]
const WENT_OUT = [5, 7, 7, 9, 8, 6, 6, 6, 8, 9, 7, 6]
const sum = (all: readonly number[]) => all.reduce((total, one) => total + one, 0)

function mondays(count: number): string[] {
  return Array.from({ length: count }, (_nothing, place) =>
    new Date(Date.UTC(2026, 10, 23 - 7 * (count - 1 - place))).toISOString().slice(0, 10),
  )
}

export function weeksOf(cameIn: readonly number[], wentOut: readonly number[]): OfficeFlow['weeks'] {
  return mondays(cameIn.length).map((from, place) => ({
    week: `2026-W${48 - (cameIn.length - 1 - place)}`,
    from,
    in: cameIn[place] ?? 0,
    out: wentOut[place] ?? 0,
    cranksIn: `figure=in&from=${from}`,
    cranksOut: `figure=out&from=${from}`,
  }))
}

export const flow: OfficeFlow = {
  ...figure('flow', sum(CAME_IN) + sum(WENT_OUT), null),
  from: '2026-09-07',
  to: '2026-11-24',
  weeks: weeksOf(CAME_IN, WENT_OUT),
  in: sum(CAME_IN),
  out: sum(WENT_OUT),
  little: { rule: 'Rule of Little.', inHandNow: 14, days: 79, perDay: 1.4, meanDays: 9.8, product: 13.72 },
  stay: {
    ...figure('out', sum(WENT_OUT)),
    all: { n: sum(WENT_OUT), half: 9, seventeenIn20: 16, mean: 9.8 },
    byKind: [
      { kind: 'rebuild', n: 80, half: 9.5, seventeenIn20: 16.2, mean: 10.1 },
      { kind: 'check-and-report', n: 4, half: 2, seventeenIn20: 3, mean: 2.3 },
    ],
  },
}

const counts = (n: number, back: number, low: number, high: number) => ({
  n,
  back,
  perHundred: (100 * back) / n,
  wilson: { low, high },
  young: 10,
  cranks: 'figure=comebacks',
  cranksBack: back === 0 ? null : 'figure=comebacks&back=yes',
})

export function comebacks(by: ComebackKey = 'lot', more: Partial<OfficeComebacks> = {}): OfficeComebacks {
  const all = counts(288, 9, 0.017, 0.058)
  const rows: OfficeComebacks['rows'] =
    by === 'lot'
      ? [
          {
            ...counts(14, 4, 0.12, 0.55),
            key: LOT,
            name: 'Stellmarch lot S-0936',
            lot: {
              others: { n: 274, back: 5, perHundred: (100 * 5) / 274, wilson: { low: 0.008, high: 0.042 } },
              p: 1 / 2604,
              pHolm: 0.0046,
              notChance: true,
              stillOut: 10,
              cranksStillOut: `figure=still-out&lot=${LOT}`,
              says: 'Stellmarch lot S-0936 is not chance.',
            },
          },
          { ...counts(60, 2, 0.009, 0.114), key: id('f1'), name: 'Stellmarch lot S-0940' },
        ]
      : [{ ...counts(288, 4, 0.005, 0.035), key: by === 'cause' ? 'kit' : MAREK, name: by === 'cause' ? 'the kit' : 'Marek' }]
  return {
    ...figure('comebacks', 288),
    from: '2025-11-24',
    to: '2026-11-29',
    by,
    all,
    rows,
    left: 0,
    ...(by === 'lot' ? { lotRule: 'Rule of the lots.', lotsLookedAt: 12 } : {}),
    ...more,
  }
}

export function running(lot?: string): OfficeRunning {
  const others = {
    n: 274,
    back: 2,
    noHours: 1,
    neverHeardOf: 31,
    steps: [
      { hours: 18, atRisk: 243, back: 1, running: 0.996, low: 0.971, high: 0.999 },
      { hours: 77, atRisk: 32, back: 1, running: 0.965, low: 0.83, high: 0.993 },
    ],
    heard: [
      { hours: 12, count: 4 },
      { hours: 93, count: 1 },
    ],
  }
  const bare = { ...figure('running', 288), curves: [{ ...others, group: 'all' as const, name: 'all kits', cranks: 'figure=running' }] }
  if (lot === undefined) return bare
  return {
    ...bare,
    lot: { id: lot, name: 'Stellmarch lot S-0936' },
    curves: [
      {
        group: 'lot',
        name: 'lot S-0936',
        n: 14,
        back: 4,
        noHours: 0,
        neverHeardOf: 0,
        steps: [
          { hours: 22, atRisk: 14, back: 1, running: 0.929, low: 0.591, high: 0.99 },
          { hours: 63, atRisk: 6, back: 3, running: 0.464, low: 0.2, high: 0.7 },
        ],
        heard: [{ hours: 40, count: 7 }],
        medianHours: 63,
        cranks: `figure=running&lot=${lot}`,
      },
      { ...others, group: 'others', name: 'all other kits', cranks: `figure=running&notLot=${lot}` },
    ],
    logRank: { chiSquare: 21.4, p: 0.000004 },
  }
}

const share = (count: number, n: number, low: number, high: number) =>
  n === 0 ? { n, count } : { n, count, share: count / n, wilson: { low, high } }

export function firstCheck(more: Partial<OfficeFirstCheck> = {}): OfficeFirstCheck {
  return {
    ...figure('first-check', 103),
    from: '2025-11-24',
    to: '2026-11-29',
    all: share(81, 103, 0.697, 0.855),
    byPerson: [
      { id: MAREK, name: 'Marek', ...share(55, 60, 0.819, 0.964), cranks: `figure=first-check&person=${MAREK}` },
      { id: id('2'), name: 'Jonas', ...share(26, 43, 0.457, 0.737), cranks: `figure=first-check&person=${id('2')}` },
    ],
    byEngine: [{ id: R449, name: 'Ruskhammar R449-4X', ...share(81, 103, 0.697, 0.855), cranks: `figure=first-check&engine=${R449}` }],
    byMonth: [
      { month: '2026-10', ...share(9, 12, 0.468, 0.911), cranks: 'figure=first-check&from=2026-10-01&to=2026-10-31' },
      { month: '2026-11', ...share(0, 0, 0, 0), cranks: null },
    ],
    ...more,
  }
}

export const earning: OfficeEarning = {
  ...figure('earning', 200),
  from: '2025-11-24',
  to: '2026-11-29',
  all: { n: 200, meanHours: 2.46, meanPriceMinor: 34_333.4, perHourMinor: 13_956.7, cranks: 'figure=earning' },
  rows: [
    {
      id: F124,
      name: 'Velk F124',
      n: 22,
      meanHours: 3.8,
      meanPriceMinor: 29_000,
      perHourMinor: 7_631.6,
      againstShop: 0.547,
      cranks: `figure=earning&engine=${F124}`,
    },
    {
      id: R449,
      name: 'Ruskhammar R449-4X',
      n: 178,
      meanHours: 2.3,
      meanPriceMinor: 35_000,
      perHourMinor: 15_217.4,
      againstShop: 1.09,
      cranks: `figure=earning&engine=${R449}`,
    },
  ],
}
