/** An invented parallel twin with a pressed middle, and the ways it goes through the shop, all over the wire. */
import type { Engine } from '#contract/engines.ts'
import type { Job } from '#contract/jobs.ts'
import type { MeasurementNew } from '#contract/measurements.ts'
import type { Joint } from '#core/crank-build.ts'
import type { TestApp } from './app.ts'
import { agree, type Hands, press, SET_UP, secondReading, step, take, takeRunout, turnOf } from './bench-factories.ts'
import { addEngine, bookJob } from './factories.ts'
import { TWIN_BUILD } from './twin-build.ts'

export const THROWS = ['throw-1', 'throw-2'] as const

export function addTwinEngine(it: TestApp): Promise<Engine> {
  return addEngine(it, { maker: 'Zandrello', build: TWIN_BUILD })
}

type Phase = MeasurementNew['phase']

/** Width and side clearance of one throw. */
export async function readThrow(h: Hands, job: { id: string }, joint: Joint, phase: Phase): Promise<void> {
  const values = [64, 64.01, 64, 63.99].map((mm, place) => ({ place: String(place * 90), mm }))
  await take(h, h.bench, job, { kind: 'width', phase, joint, values })
  await take(h, h.bench, job, { kind: 'clearance', phase, joint, values: [{ place: 'left', mm: 0.36 }] })
}

export async function readAngle(h: Hands, job: { id: string }, deg: number, phase: Phase = 'built'): Promise<void> {
  await take(h, h.bench, job, { kind: 'phase', phase, values: [{ place: '2', mm: deg, unit: 'deg', typed: String(deg) }] })
}

export async function readMiddle(h: Hands, job: { id: string }, mm: number, phase: Phase = 'built'): Promise<void> {
  await take(h, h.bench, job, { kind: 'centre', phase, instrumentId: h.dial.id, values: [{ place: '1', mm }] })
}

/** Booked in, measured as received at both throws and both ends, and agreed. */
export async function agreedTwin(h: Hands): Promise<Job> {
  const job = await bookJob(h.it, { engineId: (await addTwinEngine(h.it)).id })
  for (const joint of THROWS) await readThrow(h, job, joint, 'received')
  await readAngle(h, job, 179.2, 'received')
  await takeRunout(h, h.bench, job, 'received', { swingMm: 0.18 })
  await step(h, h.bench, job, 'measured')
  return agree(h, job)
}

/** Every joint pressed apart with both peaks, looked at and marked, and the step. */
export async function partTwin(h: Hands, job: Job): Promise<Job> {
  for (const joint of [...THROWS, 'centre-1'] as const)
    for (const side of ['left', 'right'] as const)
      await press(h, job, { direction: 'apart', side, joint, peakTonnes: 5.2, webMark: `${job.tag} ${joint} ${side}` })
  return step(h, h.bench, job, 'apart')
}

/** The pin of the kit and the bores of one throw. */
export async function fitThrow(h: Hands, job: { id: string }, joint: Joint, fitMm = 0.11): Promise<void> {
  const pin = ['left-0', 'left-90', 'right-0', 'right-90'].map((place) => ({ place, mm: 35.012 }))
  await take(h, h.bench, job, { kind: 'pin', phase: 'kit', joint, values: pin })
  const mm = Number((35.012 - fitMm).toFixed(5))
  const bores = ['left', 'right'].flatMap((side) => ['outer-0', 'inner-90'].map((place) => ({ place: `${side}-${place}`, mm })))
  await take(h, h.bench, job, { kind: 'bore', phase: 'building', joint, values: bores })
}

export function tick(h: Hands, job: { id: string }, ticked: readonly string[] = TWIN_BUILD.trapped.map(({ what }) => what)) {
  h.it.clock.pass(1)
  return h.bench.post(`/api/jobs/${job.id}/trapped-parts`, { ticked })
}

/** Kits, fits and the parts between the webs; each half pressed and read on its own shafts; then the middle, and the step. */
export async function pressTwin(h: Hands, job: Job): Promise<Job> {
  h.it.clock.pass(1)
  await h.bench.post(`/api/jobs/${job.id}/kit`, { maker: 'Ardenlow', part: 'Z347-2W K1', lot: 'A-2417', whose: 'ours' }).expect(201)
  for (const joint of THROWS) {
    await fitThrow(h, job, joint)
    for (const side of ['left', 'right'] as const)
      await press(h, job, { direction: 'together', side, joint, peakTonnes: 5.5, lubricant: 'oil' })
    await takeHalf(h, job, joint, 0.012)
  }
  await tick(h, job).expect(201)
  for (const side of ['left', 'right'] as const) await press(h, job, { direction: 'together', side, joint: 'centre-1', peakTonnes: 4 })
  h.it.clock.pass(1)
  await h.bench.post(`/api/jobs/${job.id}/oil-hole`, { state: 'none' }).expect(200)
  for (const joint of THROWS) await readThrow(h, job, joint, 'building')
  return step(h, h.bench, job, 'together')
}

/** One throw on its own two shafts. */
export function takeHalf(h: Hands, job: { id: string }, joint: Joint, swingMm: number) {
  const setup = { ...SET_UP, supportLeftMm: 30, supportRightMm: 20, dialRightMm: 18 }
  return take(h, h.bench, job, {
    kind: 'runout',
    phase: 'building',
    joint,
    setup,
    instrumentId: h.dial.id,
    values: turnOf({ swingMm }, setup),
  })
}

/** Both ends, the angle, the middle, and both throws again, and the step. */
export async function trueTwin(h: Hands, job: Job): Promise<Job> {
  await takeRunout(h, h.bench, job, 'built', { swingMm: 0.01 })
  await readAngle(h, job, 180.2)
  await readMiddle(h, job, 0.021)
  for (const joint of THROWS) await readThrow(h, job, joint, 'built')
  return step(h, h.bench, job, 'trued')
}

export async function truedTwin(h: Hands): Promise<Job> {
  return trueTwin(h, await pressTwin(h, await partTwin(h, await agreedTwin(h))))
}

/** The same, read by a second hand and signed. */
export async function signedTwin(h: Hands): Promise<Job> {
  const job = await truedTwin(h)
  await secondReading(h, job)
  h.it.clock.pass(1)
  await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(201)
  return job
}
