/** Things in the book that tests begin with. Each makes what it needs by itself, through the service, as an owner. */
import type { Customer, CustomerNew } from '#contract/customers.ts'
import type { Engine, EngineFigureName, EngineNew } from '#contract/engines.ts'
import type { Booking, Job } from '#contract/jobs.ts'
import type { Agent, TestApp } from './app.ts'

const owners = new WeakMap<TestApp, Promise<Agent>>()
const counts = new WeakMap<TestApp, number>()

/** An owner who makes the things of one test file. */
function makerOf(it: TestApp): Promise<Agent> {
  const known = owners.get(it) ?? it.as('owner', { name: 'Maker' })
  owners.set(it, known)
  return known
}

function next(it: TestApp): number {
  const number = (counts.get(it) ?? 0) + 1
  counts.set(it, number)
  return number
}

export async function addCustomer(it: TestApp, overrides: Partial<CustomerNew> = {}): Promise<Customer> {
  const maker = await makerOf(it)
  const answer = await maker.post('/api/customers', { name: `Customer ${next(it)}`, phone: '0161 496 0100', ...overrides }).expect(201)
  return answer.body as Customer
}

/** An invented four-stroke single of 450 cm³ with every figure that the bench asks for, mm. */
export const SHEET_FIGURES: Readonly<Record<Exclude<EngineFigureName, 'rimRadiusMm'>, number>> = {
  strokeMm: 62.4,
  widthMinMm: 63.95,
  widthMaxMm: 64.05,
  clearanceMinMm: 0.25,
  clearanceMaxMm: 0.5,
  pinDiameterMm: 35,
  pinLengthMm: 63.4,
  engagementMm: 21.8,
  fitMinMm: 0.105,
  fitMaxMm: 0.125,
  shopFloorMm: 0.1,
  supportLeftMm: 44,
  supportRightMm: 44,
  dialLeftMm: 45,
  dialRightMm: 50,
  limitMakerLeftMm: 0.03,
  limitMakerRightMm: 0.03,
  limitHouseLeftMm: 0.02,
  limitHouseRightMm: 0.02,
  playLimitMm: 0.05,
}

/** For a sheet without a place: it takes no limit of runout. */
export const NO_LIMITS = { limitMakerLeftMm: null, limitMakerRightMm: null, limitHouseLeftMm: null, limitHouseRightMm: null }

/** A model sheet; `figuresMm` changes single figures, and null leaves one out. */
export async function addEngine(
  it: TestApp,
  overrides: Partial<EngineNew> & { figuresMm?: Partial<Record<EngineFigureName, number | null>> } = {},
): Promise<Engine> {
  const { figuresMm = {}, ...rest } = overrides
  const figures = Object.entries({ ...SHEET_FIGURES, ...figuresMm }).flatMap(([name, value]) =>
    value === null || value === undefined ? [] : [{ name: name as EngineFigureName, value, source: 'makers-book' as const }],
  )
  const wanted: EngineNew = {
    maker: 'Ruskhammar',
    code: `R449-4X ${next(it)}`,
    cycle: '4T',
    surfaceLeft: 'taper 1:5, keyway skipped',
    surfaceRight: 'plain 20 mm',
    figures,
    ...rest,
  }
  return (await (await makerOf(it)).post('/api/engines', wanted).expect(201)).body as Engine
}

/** The body of a booking with everything that is compulsory, of a new crank of a new customer. */
export async function bookingOf(it: TestApp, overrides: Partial<Booking> & { engineId?: string } = {}): Promise<Booking> {
  const { engineId, ...rest } = overrides
  const number = next(it)
  const crank = rest.crank ?? { engineId: engineId ?? (await addEngine(it)).id, engineNumber: `R4-${20000 + number}` }
  return {
    customer: { name: `Customer ${number}`, phone: '0161 496 0100' },
    kind: 'rebuild',
    whyNow: 'hours-up',
    cameBy: 'counter',
    goesBy: 'counter',
    hoursHow: 'unknown',
    kitFrom: 'ours',
    cameWith: [],
    condition: [],
    oldPartsBack: false,
    ...rest,
    crank,
  }
}

/** A crank booked in, as the owner sees the job. `engineId` books it on a known sheet. */
export async function bookJob(it: TestApp, overrides: Partial<Booking> & { engineId?: string } = {}): Promise<Job> {
  return (await (await makerOf(it)).post('/api/jobs', await bookingOf(it, overrides)).expect(201)).body as Job
}
