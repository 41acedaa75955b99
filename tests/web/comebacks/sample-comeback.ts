import type { Comeback, ComebackRow, SinceHome } from '#contract/comebacks.ts'
import { ID } from '#tests/web/jobs/sample-job.ts'

export const REPORT = '0198f3a0-0000-7000-8000-0000000000c1'
export const NEW_JOB = '0198f3a0-0000-7000-8000-0000000000c2'

export const reportRow: ComebackRow = {
  id: REPORT,
  job: { id: ID.job, tag: '265-P', state: 'gone', kind: 'rebuild' },
  engine: 'Ruskhammar R124-X',
  engineId: ID.engine,
  whose: 'Hollis, A.',
  day: '2026-11-24',
  how: 'told',
  hours: 41,
  hoursHow: 'metered',
  says: 'knocks when warm',
  found: [],
  goneOn: '2026-06-03',
  daysSince: 174,
  counts: true,
  countsWhy: 'It counts as a comeback: within 12 months of going home, which end on 3 June 2027.',
  lot: 'S-0936',
  builders: ['Jonas'],
  reportedBy: 'Hana',
  recordedAt: '2026-11-24T09:00:00Z',
  version: 1,
}

export const report: Comeback = {
  ...reportRow,
  customer: { id: ID.customer, name: 'Hollis, A.', phone: '0161 496 0103', hearBy: 'phone' },
  engineNumber: 'R1-12266',
  oil: 'premix 60:1',
  kit: { maker: 'Stellmarch', part: 'R124-X K2', lot: 'S-0936', whose: 'ours' },
  sheet: {
    id: '0198f3a0-0000-7000-8000-0000000000c3',
    number: '0018',
    issuedOn: '2026-06-01',
    stands: 'stands',
    lines: [
      {
        end: 'left',
        what: 'Left end, full swing',
        said: '0.018',
        giveOrTake: '0.005',
        allowed: '0.020',
        verdict: 'in the doubt band',
        past: false,
        now: '0.080',
        repeats: false,
      },
      { what: 'Rod side clearance', said: '0.34', giveOrTake: '0.02', allowed: '0.30 – 0.70', verdict: 'within', past: false },
    ],
    fit: { left: '0.069', right: '0.078' },
    checkedBy: 'Marek',
    signedBy: 'Marek',
    passes: [],
  },
}

/** As the bench is told of it. */
export function asTheBenchReads<Report extends Partial<Comeback>>({ whose: _w, customer: _c, ...seen }: Report) {
  return seen
}

export const since: SinceHome = { goneOn: '2026-06-03', calls: [], callDue: false, today: '2026-11-24' }
