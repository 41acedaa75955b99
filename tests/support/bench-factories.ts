/** Hands of the shop, and the ways they take a crank through it, all over the wire. Each act is a minute after the last. */
import type { Instrument } from '#contract/instruments.ts'
import type { Job } from '#contract/jobs.ts'
import type { Measurement, MeasurementNew, RunoutSetup } from '#contract/measurements.ts'
import type { Step } from '#core/steps.ts'
import { dialAt, type Faults, readingsFrom } from '#core/truing-faults.ts'
import type { Agent, TestApp } from './app.ts'
import { bookJob } from './factories.ts'

export interface Hands {
  it: TestApp
  counter: Agent
  /** Builds and reads first. */
  bench: Agent
  /** Reads second, and may sign. */
  second: Agent
  owner: Agent
  /** A dial of 0.001 mm whose check is not due. */
  dial: Instrument
}

/** A counter, two hands at the bench, an owner, and a dial. */
export async function handsOf(it: TestApp): Promise<Hands> {
  const owner = await it.as('owner', { name: 'Ewa' })
  const dial = await owner.post('/api/instruments', {
    name: `dial ${owner.person.id.slice(0, 8)}`,
    kind: 'dial',
    stepMm: 0.001,
    dueOn: '2027-03-01',
  })
  return {
    it,
    counter: await it.as('counter', { name: 'Hana' }),
    bench: await it.as('bench', { name: 'Jonas' }),
    second: await it.as('bench', { name: 'Marek', maySign: true }),
    owner,
    dial: dial.body as Instrument,
  }
}

/** How the sheet of the engine in factories.ts says that it lies. */
export const SET_UP: RunoutSetup = {
  held: 'v-blocks-bare',
  supportLeftMm: 44,
  supportRightMm: 44,
  dialLeftMm: 45,
  dialRightMm: 50,
  surfaceLeft: 'taper 1:5, keyway skipped',
  surfaceRight: 'plain 20 mm',
  cold: true,
}

const MARKS = [0, 90, 180, 270] as const
const STRAIGHT: Faults = { swingMm: 0, openRad: 0, throwMm: 0, cockedRad: 0 }

/** What two dials of 0.001 mm read round a turn of a crank with these faults, 12 read again at the end. */
export function turnOf(faults: Partial<Faults>, setup: RunoutSetup = SET_UP): MeasurementNew['values'] {
  const arrows = readingsFrom({ ...STRAIGHT, ...faults }, setup)
  const read = (side: 'left' | 'right', mark: number) => Number(dialAt(arrows[side], mark).toFixed(3))
  return (['left', 'right'] as const).flatMap((side) => [
    ...MARKS.map((mark) => ({ place: side, atDeg: mark, mm: read(side, mark) })),
    { place: `${side}-again`, mm: read(side, 0) },
  ])
}

type Phase = MeasurementNew['phase']

/** A set of readings of this job by this hand. */
export async function take(
  h: Hands,
  by: Agent,
  job: { id: string },
  set: Omit<MeasurementNew, 'values'> & Partial<MeasurementNew>,
): Promise<Measurement> {
  h.it.clock.pass(1)
  const answer = await by.post(`/api/jobs/${job.id}/measurements`, { values: [], ...set })
  if (answer.status !== 201) throw new Error(`the set was not taken: ${JSON.stringify(answer.body)}`)
  return answer.body as Measurement
}

/** Both ends read round a turn, with the dial of the hands. */
export function takeRunout(h: Hands, by: Agent, job: { id: string }, phase: Phase, faults: Partial<Faults>): Promise<Measurement> {
  return take(h, by, job, { kind: 'runout', phase, setup: SET_UP, instrumentId: h.dial.id, values: turnOf(faults) })
}

export function takeWidth(
  h: Hands,
  by: Agent,
  job: { id: string },
  phase: Phase,
  mm: readonly number[] = [64, 64.01, 64, 63.99],
): Promise<Measurement> {
  return take(h, by, job, { kind: 'width', phase, values: mm.map((each, place) => ({ place: String(place * 90), mm: each })) })
}

export function takeClearance(h: Hands, by: Agent, job: { id: string }, phase: Phase, mm = 0.36): Promise<Measurement> {
  return take(h, by, job, {
    kind: 'clearance',
    phase,
    values: [
      { place: 'left', mm },
      { place: 'right', mm },
    ],
  })
}

/** The pin of the kit at both ends, and the bores of both webs. */
export async function takePinAndBores(
  h: Hands,
  job: { id: string },
  fits: { left: number; right: number } = { left: 0.109, right: 0.112 },
): Promise<void> {
  const pinMm = 35.012
  await take(h, h.bench, job, {
    kind: 'pin',
    phase: 'kit',
    values: ['left-0', 'left-90', 'right-0', 'right-90'].map((place) => ({ place, mm: pinMm })),
  })
  const bore = (side: 'left' | 'right') =>
    ['outer-0', 'outer-90', 'inner-0', 'inner-90'].map((place) => ({
      place: `${side}-${place}`,
      mm: Number((pinMm - fits[side]).toFixed(5)),
    }))
  await take(h, h.bench, job, { kind: 'bore', phase: 'kit', values: [...bore('left'), ...bore('right')] })
}

/** The codes of what is missing, in the order of the gate or of the problem that names them. */
export function codesOf(body: { missing: { code: string }[] }): string[] {
  return body.missing.map((one) => one.code)
}

export async function step(h: Hands, by: Agent, job: { id: string }, to: Step, passes?: object[]): Promise<Job> {
  h.it.clock.pass(1)
  const answer = await by.post(`/api/jobs/${job.id}/steps`, { to, ...(passes === undefined ? {} : { passes }) })
  if (answer.status !== 200) throw new Error(`it is not ${to}: ${JSON.stringify(answer.body)}`)
  return answer.body as Job
}

/** Width and both ends as it came in, and the step that they make. */
export async function measureAsReceived(
  h: Hands,
  job: { id: string },
  faults: Partial<Faults> = { swingMm: 0.18, openRad: 0.0006 },
): Promise<Job> {
  await takeWidth(h, h.bench, job, 'received', [63.99, 64.01, 64.06, 64])
  await takeRunout(h, h.bench, job, 'received', faults)
  return step(h, h.bench, job, 'measured')
}

/** A quote, the yes to it, and the step. */
export async function agree(h: Hands, job: { id: string }, totalMinor = 26_800): Promise<Job> {
  h.it.clock.pass(1)
  await h.counter.post(`/api/jobs/${job.id}/quotes`, { totalMinor, text: 'Rebuild with a new rod kit' }).expect(201)
  await h.counter.post(`/api/jobs/${job.id}/yes`, { quoteVersion: 1, by: 'A. Hollis', how: 'by phone' }).expect(201)
  return step(h, h.counter, job, 'agreed')
}

export async function press(h: Hands, job: { id: string }, pressing: object): Promise<void> {
  h.it.clock.pass(1)
  await h.bench.post(`/api/jobs/${job.id}/pressings`, { galling: 'none', crack: false, ...pressing }).expect(201)
}

/** Both webs pressed apart, looked at and marked, and the step. */
export async function partCrank(h: Hands, job: Job): Promise<Job> {
  await press(h, job, { direction: 'apart', side: 'left', peakTonnes: 9.5, webMark: `${job.tag} L` })
  await press(h, job, { direction: 'apart', side: 'right', peakTonnes: 5.2, webMark: `${job.tag} R` })
  return step(h, h.bench, job, 'apart')
}

/** The kit named, its pin and the bores measured, pressed to width, and the step. */
export async function pressTogether(h: Hands, job: { id: string }): Promise<Job> {
  h.it.clock.pass(1)
  await h.bench.post(`/api/jobs/${job.id}/kit`, { maker: 'Ardenlow', part: 'R449-4X-K1', lot: 'A-2417', whose: 'ours' }).expect(201)
  await takePinAndBores(h, job)
  await h.bench.post(`/api/jobs/${job.id}/oil-hole`, { state: 'open' }).expect(200)
  await press(h, job, { direction: 'together', side: 'left', peakTonnes: 9.1, lubricant: 'oil' })
  await press(h, job, { direction: 'together', side: 'right', peakTonnes: 8.9, lubricant: 'oil' })
  await takeWidth(h, h.bench, job, 'building')
  await takeClearance(h, h.bench, job, 'building')
  return step(h, h.bench, job, 'together')
}

/** Read, struck as the sum says, read again with width and side clearance, and the step. */
export async function trueCrank(h: Hands, job: { id: string }, left: Partial<Faults> = { swingMm: 0.01 }): Promise<Job> {
  const before = await takeRunout(h, h.bench, job, 'building', { swingMm: 0.12 })
  h.it.clock.pass(1)
  await h.bench
    .post(`/api/jobs/${job.id}/moves`, { beforeId: before.id, action: 'strike', half: 'right', atDeg: 90, force: 'light', asAdvised: true })
    .expect(201)
  await takeRunout(h, h.bench, job, 'built', left)
  await takeWidth(h, h.bench, job, 'built')
  await takeClearance(h, h.bench, job, 'built')
  return step(h, h.bench, job, 'trued')
}

/** Both ends read by the second hand. */
export function secondReading(h: Hands, job: { id: string }, faults: Partial<Faults> = { swingMm: 0.011 }): Promise<Measurement> {
  return takeRunout(h, h.second, job, 'second', faults)
}

/** A rebuild that is true and waits for its second check. */
export async function truedRebuild(h: Hands, left?: Partial<Faults>): Promise<Job> {
  const job = await bookJob(h.it)
  await measureAsReceived(h, job)
  await agree(h, job)
  await partCrank(h, job)
  await pressTogether(h, job)
  return trueCrank(h, job, left)
}
