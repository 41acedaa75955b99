import { type Answer, answered, refuse } from '#core/answer.ts'
import { type GaugeReading, gaugeTable } from '#core/gauge-table.ts'
import { NUMBER, needListOf, needWithin } from '#core/limits.ts'
import { fUpper } from '#core/numeric/distributions.ts'

export interface GaugeInput {
  readings: readonly GaugeReading[]
  /** Width of the window that the gauge has to judge, from one limit to the other. */
  tolerance?: number | undefined
}

const WITH_INTERACTION = { name: 'two-way analysis of variance with interaction', version: '1' } as const
const POOLED = {
  name: 'two-way analysis of variance, interaction pooled into repeatability because its p is over 0.25',
  version: '1',
} as const

/** Standard deviations in the unit of the readings. */
export interface GaugeAnswer {
  /** The same person again on the same part. */
  repeatability: number
  /** From person to person. */
  reproducibility: number
  /** From person to person, otherwise on one part than on another; 0 where it is pooled. */
  interaction: number
  /** The three together: what the gauge and its people add. */
  gauge: number
  /** From part to part. */
  part: number
  /** Gauge and part together. */
  total: number
  /** 100 × gauge/total. */
  percentOfTotal: number
  /** 100 × 6 gauge/tolerance. */
  percentOfTolerance?: number
  /** How many steps of part the gauge tells apart; absent where it has no scatter at all, since there is then no end of them. */
  distinctSteps?: number
  method: typeof WITH_INTERACTION | typeof POOLED
}

const SUM = 'gauge'
const POOL_ABOVE = 0.25

/**
 * What a gauge and the people who read it add to the scatter of the parts.
 *
 * @example gauge({ readings: [1, 2, 3].flatMap((part) => ['A', 'B'].flatMap((person) => [0, 0.1].map((again) => ({ part, person, value: part + again })))) }).value.distinctSteps // 23
 *
 * Values ±1e9, tolerance more than 0; a part or person that is named by a number stands for its text. Interaction whose p is
 * over 0.25 is pooled into repeatability, and the method says so. Parts of the variance below 0 are 0; so is scatter that is
 * no more than the last bits of the readings. Refuses fewer than two parts, people or readings of each (`too-few-points`),
 * readings that are not as many for every part and person (`not-balanced`), readings that are all the same (`no-spread`), and
 * a tolerance so small that the percentage is beyond every number (`out-of-range`).
 * Source: AIAG, Measurement Systems Analysis, 4th edition (2010), analysis of variance method; Burdick, Borror and Montgomery
 * (2003), Journal of Quality Technology 35:342–354, from memory.
 */
export function gauge(input: GaugeInput): Answer<GaugeAnswer> {
  checkInput(input)
  const table = gaugeTable(input.readings)
  if (!table.ok) return table
  const { parts, people, times, squares } = table.value
  if (Object.values(squares).every((square) => square === 0)) {
    return refuse('no-spread', 'All readings are the same; the gauge may be too coarse to tell the parts apart.')
  }
  const degrees = { interaction: (parts - 1) * (people - 1), repeatability: parts * people * (times - 1) }
  const between = squares.interaction / degrees.interaction
  const within = squares.repeatability / degrees.repeatability
  const isPooled = pOf(between, within, degrees.interaction, degrees.repeatability) > POOL_ABOVE
  const all = (squares.interaction + squares.repeatability) / (degrees.interaction + degrees.repeatability)
  /** What people and parts are measured by. */
  const yardstick = isPooled ? all : between
  const variances = {
    repeatability: isPooled ? all : within,
    interaction: isPooled ? 0 : Math.max(0, (between - within) / times),
    reproducibility: Math.max(0, (squares.people / (people - 1) - yardstick) / (parts * times)),
    part: Math.max(0, (squares.parts / (parts - 1) - yardstick) / (people * times)),
  }
  return answer(variances, input.tolerance, isPooled ? POOLED : WITH_INTERACTION)
}

/** No scatter at all between: as likely as can be. Some, but none within: as unlikely as can be. */
function pOf(between: number, within: number, over: number, under: number): number {
  if (between === 0) return 1
  const ratio = between / within
  return Number.isFinite(ratio) ? fUpper(ratio, over, under) : 0
}

type Variances = Record<'repeatability' | 'reproducibility' | 'interaction' | 'part', number>

function answer(variances: Variances, tolerance: number | undefined, method: GaugeAnswer['method']): Answer<GaugeAnswer> {
  const { repeatability, reproducibility, interaction, part } = variances
  const gaugeVariance = repeatability + reproducibility + interaction
  const gaugeSd = Math.sqrt(gaugeVariance)
  const total = Math.sqrt(gaugeVariance + part)
  const ofTolerance = tolerance === undefined ? undefined : (600 * gaugeSd) / tolerance
  if (ofTolerance === Number.POSITIVE_INFINITY) return refuse('out-of-range', 'The tolerance is too small for a percentage.')
  const steps = Math.floor((1.41 * Math.sqrt(part)) / gaugeSd)
  return answered({
    repeatability: Math.sqrt(repeatability),
    reproducibility: Math.sqrt(reproducibility),
    interaction: Math.sqrt(interaction),
    gauge: gaugeSd,
    part: Math.sqrt(part),
    total,
    percentOfTotal: (100 * gaugeSd) / total,
    ...(ofTolerance === undefined ? {} : { percentOfTolerance: ofTolerance }),
    ...(Number.isFinite(steps) ? { distinctSteps: steps } : {}),
    method,
  })
}

function checkInput({ readings, tolerance }: GaugeInput): void {
  needListOf(SUM, 'readings', readings)
  for (const { value } of readings) needWithin(SUM, 'value', value, NUMBER)
  if (tolerance !== undefined && !(tolerance > 0 && tolerance <= NUMBER.max)) {
    throw new RangeError(`${SUM} needs tolerance more than 0, not ${tolerance}`)
  }
}
