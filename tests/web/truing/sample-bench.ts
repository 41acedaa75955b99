import type { Engine } from '#contract/engines.ts'
import type { Instrument } from '#contract/instruments.ts'
import type { Job } from '#contract/jobs.ts'
import type { Measurement, RunoutSetup } from '#contract/measurements.ts'
import type { RunoutFigures } from '#contract/runout-figures.ts'
import type { Me } from '#contract/sessions.ts'
import { FIRST_SETTINGS, type SettingsAnswer } from '#contract/settings.ts'
import type { Truing } from '#contract/truing.ts'
import type { EngineSheet } from '#core/bench/limits-at-dial.ts'
import { runoutFigures } from '#core/bench/runout-set.ts'

/** A crank on the bench as the book answers it: an invented engine of the demo, its sheet, two dials, two hands. */
export const JOB_ID = '0198f3a0-0000-7000-8000-0000000000a1'
const ENGINE_ID = '0198f3a0-0000-7000-8000-0000000000e1'

export const jonas: Me = {
  id: '0198f3a0-0000-7000-8000-000000000002',
  name: 'Jonas',
  signIn: 'bench',
  role: 'bench',
  maySign: false,
  hasPin: true,
  endsAt: '2026-11-24T20:00:00Z',
  idleMinutes: 240,
  enrolled: true,
  demo: true,
}
export const marek: Me = { ...jonas, id: '0198f3a0-0000-7000-8000-000000000003', name: 'Marek', signIn: 'bench2', maySign: true }
export const ewa: Me = { ...jonas, id: '0198f3a0-0000-7000-8000-000000000004', name: 'Ewa', signIn: 'owner', role: 'owner', maySign: true }

const FIGURES: EngineSheet = {
  strokeMm: 62.4,
  supportLeftMm: 44,
  supportRightMm: 44,
  dialLeftMm: 45,
  dialRightMm: 50,
  limitHouseLeftMm: 0.02,
  limitHouseRightMm: 0.02,
  limitMakerLeftMm: 0.03,
  limitMakerRightMm: 0.03,
  rimRadiusMm: 50,
}

export const sheet: Engine = {
  id: ENGINE_ID,
  maker: 'Ruskhammar',
  code: 'R449-4X',
  cycle: '4T',
  surfaceLeft: 'taper 1:5',
  surfaceRight: 'plain',
  figures: Object.entries(FIGURES).map(([name, value]) => ({
    name: name as Engine['figures'][number]['name'],
    value,
    source: 'invented',
    version: 1,
    at: '2026-01-05T08:00:00Z',
  })),
  version: 1,
}

export const dial4: Instrument = {
  id: '0198f3a0-0000-7000-8000-0000000000d4',
  name: 'dial 4',
  kind: 'dial',
  stepMm: 0.01,
  checkedOn: '2026-10-14',
  dueOn: '2027-02-14',
  overdue: false,
  ended: false,
  version: 1,
}
export const dial7: Instrument = { ...dial4, id: '0198f3a0-0000-7000-8000-0000000000d7', name: 'dial 7', stepMm: 0.001 }

export const settings: SettingsAnswer = { ...FIRST_SETTINGS, shopName: 'Kettle Row Crank Works', zone: 'Europe/Warsaw', version: 3 }

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
      engineNumber: 'R4-20718',
      welded: false,
      pressedBefore: 2,
      pressedHere: { left: 1, right: 1 },
      earlier: [],
    },
    whyNow: 'knock',
    cameBy: 'counter',
    goesBy: 'counter',
    hoursHow: 'metered',
    hours: 61,
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

export const setup: RunoutSetup = {
  held: 'v-blocks-bare',
  supportLeftMm: 44,
  supportRightMm: 44,
  dialLeftMm: 45,
  dialRightMm: 50,
  surfaceLeft: 'taper 1:5',
  surfaceRight: 'plain',
  cold: true,
}

const DEGREES = [0, 90, 180, 270]

/** One set as the book keeps it, worked out by the core as the server does: readings at 12, 3, 6, 9 and 12 again. */
export function setOf(
  id: string,
  left: readonly number[],
  right: readonly number[],
  over: Partial<Measurement> & { at?: string; dial?: Instrument } = {},
): Measurement {
  const { at = '2026-12-02T12:40:00Z', dial = dial4, ...rest } = over
  const end = (side: 'left' | 'right', readings: readonly number[]) =>
    readings.map((mm, place) => ({
      place: place === 4 ? `${side}-again` : side,
      atDeg: DEGREES[place] ?? 0,
      mm,
      unit: 'mm' as const,
    }))
  const values = [...end('left', left), ...end('right', right)]
  const lay = rest.setup ?? setup
  const figures = runoutFigures({ values, setUp: lay, dialStepMm: dial.stepMm, sheet: FIGURES, shopLimitMm: 0.02 })
  return {
    id,
    kind: 'runout',
    phase: 'built',
    by: jonas.name,
    byId: jonas.id,
    occurredAt: at,
    recordedAt: at,
    instrument: { id: dial.id, name: dial.name, stepMm: dial.stepMm },
    setup: lay,
    values,
    runout: figures as RunoutFigures,
    ...rest,
  }
}

/** Swing and pinched at once: the sketch’s own figures. */
export const swung = setOf('0198f3a0-0000-7000-8000-000000000105', [0, 0.07, 0.02, -0.05, 0], [0, -0.06, 0.02, 0.08, 0])
export const trueSet = setOf('0198f3a0-0000-7000-8000-000000000106', [0, 0.005, 0.005, 0, 0], [0, 0, 0.005, 0.005, 0], {
  at: '2026-12-02T13:05:00Z',
})
export const unsettled = setOf('0198f3a0-0000-7000-8000-000000000107', [0, 0.07, 0.02, -0.05, 0], [0, -0.06, 0.02, 0.08, 0.03])

const EARLIER: [string, number, number][] = [
  ['0198f3a0-0000-7000-8000-000000000101', 0.31, 0.34],
  ['0198f3a0-0000-7000-8000-000000000102', 0.29, 0.3],
  ['0198f3a0-0000-7000-8000-000000000103', 0.17, 0.2],
  ['0198f3a0-0000-7000-8000-000000000104', 0.2, 0.24],
]

function lineOf(set: Measurement): Truing['sets'][number] {
  return {
    id: set.id,
    phase: set.phase,
    at: set.occurredAt,
    by: set.by,
    leftTirMm: set.runout?.left?.tirMm,
    rightTirMm: set.runout?.right?.tirMm,
  }
}

/** The truing bench with this last set, after four earlier ones and the blows between them. */
export function truingWith(last: Measurement, over: Partial<Truing> = {}): Truing {
  const earlier = EARLIER.map(([id, leftTirMm, rightTirMm], place) => ({
    id,
    phase: 'built',
    at: `2026-12-02T12:${10 + 5 * place}:00Z`,
    by: 'Jonas',
    leftTirMm,
    rightTirMm,
  }))
  const moves: Truing['moves'] = earlier.map((set, place) => {
    const after = earlier[place + 1] ?? lineOf(last)
    return {
      id: `0198f3a0-0000-7000-8000-00000000020${place}`,
      beforeId: set.id,
      action: 'strike',
      half: 'right',
      atDeg: 90,
      force: place === 0 ? 'light' : 'firm',
      asAdvised: true,
      foretold: { leftTirMm: 0.02, rightTirMm: 0.02 },
      came: { leftTirMm: after.leftTirMm ?? 0, rightTirMm: after.rightTirMm ?? 0 },
      by: 'Jonas',
      occurredAt: `2026-12-02T12:${12 + 5 * place}:00Z`,
    }
  })
  return {
    sets: [...earlier, lineOf(last)],
    moves,
    last,
    stale: false,
    repeats: [],
    ...(last.runout?.closes.agree && last.runout.sum !== undefined ? { advice: last.runout.sum } : {}),
    ...(last.runout === undefined ? {} : { figures: last.runout }),
    ...over,
  }
}
