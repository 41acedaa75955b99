import type { OfficeComebacks, OfficeRunning } from '#contract/office-came-back.ts'
import type { OfficeEarning } from '#contract/office-earns.ts'
import type { OfficeFlow } from '#contract/office-flow.ts'
import type { OfficeToday } from '#contract/office-today.ts'
import { figure, firstCheck, today, weeksOf } from '#tests/web/office/sample-office.ts'

/** A shop that opened today: nothing was booked in, nothing went out, nothing was ever proven. */
export const opened = {
  today: {
    ...today,
    late: { ...figure('late', 0), rows: [] },
    promised: { ...today.promised, ...figure('promised', 0), hours: 0, lateHours: 0, clockedHours: 0, freeHours: 25.6, rows: [] },
    waiting: { ...figure('waiting', 0), of: [], rows: [] },
    ready: { ...figure('ready', 0), owesMinor: 0, rows: [] },
    instruments: { ...figure('instruments', 0, null), rows: [] },
    proof: { rule: 'Rule of the proof.', warning: 'No backup was ever restored and looked at.', says: 'Book never proven restorable' },
    money: {
      deposits: { ...figure('deposits', 0), minor: 0 },
      doneNotCollected: { ...figure('done-not-collected', 0), minor: 0 },
      unpaid: { ...figure('unpaid', 0), minor: 0 },
    },
    inHand: figure('house', 0),
  } satisfies OfficeToday,
  flow: {
    ...figure('flow', 0, null),
    from: '2026-11-23',
    to: '2026-11-24',
    weeks: weeksOf([0, 0], [0, 0]),
    in: 0,
    out: 0,
    little: { rule: 'Rule of Little.', inHandNow: 0, days: 2, perDay: 0 },
    stay: { ...figure('out', 0), all: { n: 0 }, byKind: [] },
  } satisfies OfficeFlow,
  comebacks: {
    ...figure('comebacks', 0),
    from: '2025-11-24',
    to: '2026-11-29',
    by: 'lot',
    all: { n: 0, back: 0, young: 0, cranks: null, cranksBack: null },
    rows: [],
    left: 0,
    lotRule: 'Rule of the lots.',
    lotsLookedAt: 0,
  } satisfies OfficeComebacks,
  running: {
    ...figure('running', 0),
    curves: [
      { group: 'all', name: 'all kits', n: 0, back: 0, noHours: 0, neverHeardOf: 0, steps: [], heard: [], cranks: 'figure=running' },
    ],
  } satisfies OfficeRunning,
  firstCheck: firstCheck({ ...figure('first-check', 0), all: { n: 0, count: 0 }, byPerson: [], byEngine: [], byMonth: [] }),
  earning: { ...figure('earning', 0), from: '2025-11-24', to: '2026-11-29', all: { n: 0, cranks: null }, rows: [] } satisfies OfficeEarning,
}
