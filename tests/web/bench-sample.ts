import type { Bench } from '#contract/bench.ts'
import type { Engine, EngineFigureName } from '#contract/engines.ts'
import type { ClockEntry } from '#contract/hours.ts'
import type { Instrument } from '#contract/instruments.ts'
import type { Job } from '#contract/jobs.ts'
import type { Measurement } from '#contract/measurements.ts'
import type { Gate } from '#contract/steps.ts'
import { type ShopBook, shopBook } from '#tests/web/shop-book.tsx'

/** A crank at the bench as the book answers it; engine, kit and people are invented. */
export const JOB_ID = '0198f3a0-0000-7000-8000-0000000000a1'
const ENGINE_ID = '0198f3a0-0000-7000-8000-0000000000e1'
export const MINE = '0198f3a0-0000-7000-8000-000000000001'

const FIGURES: Partial<Record<EngineFigureName, number>> = {
  widthMinMm: 63.95,
  widthMaxMm: 64.05,
  clearanceMinMm: 0.25,
  clearanceMaxMm: 0.5,
  pinDiameterMm: 35,
  engagementMm: 21.8,
  fitMinMm: 0.105,
  fitMaxMm: 0.125,
  shopFloorMm: 0.1,
  strokeMm: 62.4,
  supportLeftMm: 44,
  supportRightMm: 44,
  dialLeftMm: 45,
  dialRightMm: 50,
}

export const sheet: Engine = {
  id: ENGINE_ID,
  maker: 'Ruskhammar',
  code: 'R449-4X',
  cycle: '4T',
  surfaceLeft: 'taper 1:5',
  surfaceRight: 'plain',
  note: 'The right web comes loose on this one.',
  figures: Object.entries(FIGURES).map(([name, value]) => ({
    name: name as EngineFigureName,
    value,
    source: 'invented',
    version: 1,
    at: '2026-01-05T08:00:00Z',
  })),
  version: 1,
}

export const mike: Instrument = {
  id: '0198f3a0-0000-7000-8000-0000000000d2',
  name: 'mike 2',
  kind: 'micrometer',
  stepMm: 0.01,
  overdue: false,
  ended: false,
  version: 1,
}

export function jobAt(state: Job['state'], over: Partial<Job> = {}): Job {
  return {
    id: JOB_ID,
    tag: '318-V',
    kind: 'rebuild',
    state,
    engine: 'Ruskhammar R449-4X',
    waiting: [],
    late: false,
    toldLate: false,
    bookedAt: '2026-11-23T08:10:00Z',
    comeback: false,
    crank: {
      id: '0198f3a0-0000-7000-8000-0000000000c1',
      engineId: ENGINE_ID,
      welded: false,
      pressedBefore: 1,
      pressedHere: { left: 0, right: 0 },
      earlier: [],
    },
    whyNow: 'knock',
    cameBy: 'counter',
    goesBy: 'counter',
    hoursHow: 'metered',
    kitFrom: 'ours',
    cameWith: [],
    condition: [],
    oldPartsBack: false,
    steps: [],
    passes: [],
    version: 7,
    ...over,
  }
}

let made = 0
export function setOf(over: Partial<Measurement> & Pick<Measurement, 'kind' | 'values'>): Measurement {
  made += 1
  const at = new Date(Date.UTC(2026, 10, 24, 9, made)).toISOString()
  return {
    id: `0198f3a0-0000-7000-8000-${String(made).padStart(12, '0')}`,
    phase: 'building',
    by: 'Jonas',
    byId: MINE,
    occurredAt: at,
    recordedAt: at,
    ...over,
  }
}

export function read(values: Record<string, number>): Measurement['values'] {
  return Object.entries(values).map(([place, mm]) => ({ place, mm, unit: 'mm' as const }))
}

export const EMPTY: Bench = { measurements: [], pressings: [], welds: [] }

export interface AtTheBench {
  job?: Job
  bench?: Partial<Bench>
  gate?: Partial<Gate>
  instruments?: Instrument[]
  running?: ClockEntry | null
}

/** A book with one crank at the bench. */
export function benchBook(
  role: 'bench' | 'owner',
  { job = jobAt('booked'), bench = {}, gate = {}, instruments = [mike], running = null }: AtTheBench = {},
): ShopBook {
  const book = shopBook(role)
  book.answer('GET /api/clock', () => ({ running, unanswered: [] }))
  book.answer('GET /api/instruments', () => instruments)
  book.answer('GET /api/engines/:id', () => sheet)
  book.answer('GET /api/jobs/:id', () => job)
  book.answer('GET /api/jobs/:id/gate', () => ({ next: 'measured', act: 'to measure', missing: [], ...gate }))
  book.answer('GET /api/jobs/:id/measurements', () => ({ ...EMPTY, ...bench }))
  book.answer('GET /api/jobs/:id/photos', () => [])
  book.answer('GET /api/jobs/:id/events', () => ({ rows: [], next: null }))
  return book
}

export function clockEntry(over: Partial<ClockEntry> = {}): ClockEntry {
  return {
    id: '0198f3a0-0000-7000-8000-0000000000f1',
    personId: MINE,
    person: 'Jonas',
    jobId: JOB_ID,
    tag: '318-V',
    work: 'pressing',
    startedAt: '2026-11-24T07:00:00.000Z',
    version: 1,
    ...over,
  }
}
