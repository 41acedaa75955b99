import { type Answer, answered, refuse } from '#core/answer.ts'
import { cosDegrees, sinDegrees, wrapDegrees } from '#core/clock-angle.ts'
import { needWithin, READING_MM } from '#core/limits.ts'
import { choleskyFactor, conditionNumber, solveFactored } from '#core/numeric/symmetric-matrix.ts'

/** One reading of a dial with a mark of the rim under it. */
export interface MarkReading {
  /** Degrees clockwise from the pin, seen from the right-hand end. */
  clockDeg: number
  mm: number
}

/** What a dial's readings over one turn say. */
export interface RoundATurn {
  /** Where the needle would stand on a true shaft; says how the dial was set and nothing about the crank. */
  meanMm: number
  /** Half the full swing towards the pin. */
  radialMm: number
  /** Half the full swing towards mark 3. */
  tangentialMm: number
  /** Size of the second harmonic (an oval shaft); only with five or more different marks. */
  ovalMm?: number
  /** Root mean square of what the fit leaves: surface, keyway, a slipped dial. */
  residualMm: number
}

const FIRST_HARMONIC_TERMS = 3
const SECOND_HARMONIC_TERMS = 5
const WORST_CONDITION = 1e8
const SUM = 'fitRoundATurn'

/**
 * Fits mean and first harmonic to dial readings by least squares; with five or more different marks the second harmonic
 * too, so that an oval shaft is not read as a bent one. All readings count, the same mark twice is one mark.
 *
 * @example fitRoundATurn([{ clockDeg: 0, mm: 0.03 }, { clockDeg: 90, mm: 0 }, { clockDeg: 180, mm: -0.01 }, { clockDeg: 270, mm: 0.02 }]).value.radialMm // 0.02
 *
 * Readings within ±50 mm, angles in degrees, any turn. Refuses fewer than three different marks (`too-few-points`) and
 * marks so close together that the fit would guess (`marks-too-close`, condition of the normal matrix over 1e8).
 * Source: least-squares circle of ISO 12181 for a small eccentricity; a round shaft off its axis by e swings the dial 2e (ISO 1101).
 */
export function fitRoundATurn(readings: readonly MarkReading[]): Answer<RoundATurn> {
  for (const { clockDeg, mm } of readings) {
    needWithin(SUM, 'readings', mm, READING_MM)
    if (!Number.isFinite(clockDeg)) throw new RangeError(`${SUM} needs finite clock angles`)
  }
  const marks = countDifferentMarks(readings)
  if (marks < FIRST_HARMONIC_TERMS)
    return refuse('too-few-points', 'Read at three different marks or more; four (12, 3, 6, 9) is the habit.')
  const size = marks < SECOND_HARMONIC_TERMS ? FIRST_HARMONIC_TERMS : SECOND_HARMONIC_TERMS
  const terms = readings.map((reading) => termsAt(reading.clockDeg, size))
  const normal = normalMatrix(terms, size)
  if (conditionNumber(normal, size) > WORST_CONDITION) {
    return refuse('marks-too-close', 'The marks lie too close together to tell where the high spot is. Spread them round the turn.')
  }
  return answered(solve(readings, terms, normal, size))
}

/** Different marks among the readings, counted no further than the fit needs. */
function countDifferentMarks(readings: readonly MarkReading[]): number {
  const seen: number[] = []
  for (const { clockDeg } of readings) {
    const mark = wrapDegrees(clockDeg)
    if (!seen.includes(mark)) seen.push(mark)
    if (seen.length === SECOND_HARMONIC_TERMS) break
  }
  return seen.length
}

function termsAt(clockDeg: number, size: number): number[] {
  const cos = cosDegrees(clockDeg)
  const sin = sinDegrees(clockDeg)
  return size === FIRST_HARMONIC_TERMS ? [1, cos, sin] : [1, cos, sin, cos * cos - sin * sin, 2 * sin * cos]
}

function normalMatrix(terms: readonly (readonly number[])[], size: number): number[] {
  const normal = new Array<number>(size * size).fill(0)
  for (const row of terms) {
    for (let i = 0; i < size; i++) for (let j = 0; j < size; j++) normal[i * size + j]! += row[i]! * row[j]!
  }
  return normal
}

function solve(
  readings: readonly MarkReading[],
  terms: readonly (readonly number[])[],
  normal: readonly number[],
  size: number,
): RoundATurn {
  const factor = choleskyFactor(normal, size)
  let coefficients = new Array<number>(size).fill(0)
  // The second round works on what the first leaves, and wins back the digits that the normal equations lose.
  for (let round = 0; round < 2; round++) {
    const rightSide = new Array<number>(size).fill(0)
    for (let r = 0; r < terms.length; r++) {
      const left = readings[r]!.mm - heightOf(terms[r]!, coefficients)
      for (let i = 0; i < size; i++) rightSide[i]! += terms[r]![i]! * left
    }
    const step = solveFactored(factor, rightSide, size)
    coefficients = coefficients.map((value, i) => value + step[i]!)
  }
  let squares = 0
  for (let r = 0; r < terms.length; r++) squares += (readings[r]!.mm - heightOf(terms[r]!, coefficients)) ** 2
  const turn = {
    meanMm: coefficients[0]!,
    radialMm: coefficients[1]!,
    tangentialMm: coefficients[2]!,
    residualMm: Math.sqrt(squares / terms.length),
  }
  return size === SECOND_HARMONIC_TERMS ? { ...turn, ovalMm: Math.hypot(coefficients[3]!, coefficients[4]!) } : turn
}

function heightOf(terms: readonly number[], coefficients: readonly number[]): number {
  let height = 0
  for (let i = 0; i < terms.length; i++) height += terms[i]! * coefficients[i]!
  return height
}
