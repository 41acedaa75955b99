import type { FieldError } from '#contract/errors.ts'
import type { MeasurementNew } from '#contract/measurements.ts'
import type { ReadingKind } from '#core/bench/reading-set.ts'
import { heldTrue } from '#core/bench/runout-set.ts'
import { DIAL_DISTANCE_MM, DIAMETER_MM, type Range, READING_MM, TIR_MM } from '#core/limits.ts'
import { SIDES } from '#core/runout-verdict.ts'
import { readLength } from '#core/units.ts'
import { fieldFaults } from '#server/plugins/errors.ts'

type Value = MeasurementNew['values'][number]

const STEPS_A_MM = 100_000
const SAME_MM = 1e-9
const THICKNESS_MM: Range = { min: 0.001, max: 300 }
const NOT_LESS_THAN_NOTHING: Range = { min: 0, max: 300 }
const EITHER_WAY: Range = { min: -300, max: 300 }

/** Degrees. */
const ANGLE: Range = { min: 0, max: 360 }

const RANGES: Readonly<Record<Exclude<ReadingKind, 'runout' | 'rod'>, Range>> = {
  width: THICKNESS_MM,
  clearance: NOT_LESS_THAN_NOTHING,
  play: NOT_LESS_THAN_NOTHING,
  pin: DIAMETER_MM,
  bore: DIAMETER_MM,
  stack: THICKNESS_MM,
  phase: ANGLE,
  centre: TIR_MM,
}

/** Kinds of which one place is read once in a set; pin and bore may be read twice, and a dial at many marks. */
const ONCE: readonly ReadingKind[] = ['width', 'clearance', 'play', 'rod', 'stack', 'phase', 'centre']

/**
 * What a set asks of its values beyond their shape: that each says what was typed, that it is a length such a place can
 * have, that the book can keep it, and that a turn of the dial hangs together. Answers the values with the unit they were
 * typed in; throws a problem that names every field at fault.
 */
export function checkedValues(set: MeasurementNew): Value[] {
  const faults: FieldError[] = []
  const fault = (pointer: string, code: string, detail: string) => faults.push({ pointer, code, detail })
  const values = set.values.map((value, index) => {
    const pointer = `/values/${index}`
    const range = rangeOf(set.kind, value)
    if (value.mm < range.min || value.mm > range.max)
      fault(`${pointer}/mm`, 'range', `From ${range.min} to ${range.max}${set.kind === 'phase' ? '°' : ' mm'}.`)
    const steps = value.mm * STEPS_A_MM
    if (Math.abs(steps - Math.round(steps)) > 1e-3)
      fault(`${pointer}/mm`, 'too-fine', `The book keeps five decimals of a ${set.kind === 'phase' ? 'degree' : 'millimetre'}.`)
    return { ...value, ...(set.kind === 'phase' ? angleTyped(value, pointer, fault) : lengthTyped(value, pointer, fault)) }
  })
  if (ONCE.includes(set.kind)) {
    set.values.forEach((value, index) => {
      if (set.values.findIndex((other) => other.place === value.place) < index)
        fault(`/values/${index}/place`, 'twice', 'This place is read twice in one set. Keep the reading that counts.')
    })
  }
  if (set.kind === 'runout') checkTurn(set, fault)
  else if (set.setup !== undefined) fault('/setup', 'not-for-this', 'Only runout has a set-up.')
  if (faults.length > 0) throw fieldFaults(faults)
  return values
}

type Fault = (pointer: string, code: string, detail: string) => void

function rangeOf(kind: ReadingKind, value: Value): Range {
  if (kind === 'rod') return value.place.startsWith('small-end') ? THICKNESS_MM : EITHER_WAY
  if (kind === 'runout') return value.place.endsWith('-swing') ? TIR_MM : READING_MM
  return RANGES[kind]
}

function angleTyped(value: Value, pointer: string, fault: Fault): Pick<Value, 'unit'> {
  if (value.unit !== 'deg') fault(`${pointer}/unit`, 'other-unit', 'The angle of a throw is in degrees: send the unit deg.')
  const typed = (value.typed ?? '').trim().replace('°', '').replace(',', '.')
  if (typed !== '' && Number(typed) !== value.mm)
    fault(`${pointer}/mm`, 'not-what-was-typed', `“${value.typed}” was typed, and ${value.mm} was sent.`)
  return { unit: 'deg' }
}

function lengthTyped(value: Value, pointer: string, fault: Fault): Pick<Value, 'unit'> {
  const unit = value.unit ?? 'mm'
  if (unit === 'deg') {
    fault(`${pointer}/unit`, 'other-unit', 'Degrees are for the angle of a throw alone.')
    return { unit: 'mm' }
  }
  if (value.typed === undefined || value.typed.trim() === '') return { unit }
  const read = readLength(value.typed, unit)
  if (!read.ok) {
    fault(`${pointer}/typed`, read.reason, read.detail)
    return { unit }
  }
  if (value.unit !== undefined && read.value.unit !== value.unit)
    fault(`${pointer}/unit`, 'other-unit', `“${value.typed}” is in ${read.value.unit}.`)
  if (Math.abs(read.value.mm - value.mm) > SAME_MM)
    fault(`${pointer}/mm`, 'not-what-was-typed', `“${value.typed}” is ${read.value.mm} mm, and ${value.mm} was sent.`)
  return { unit: read.value.unit }
}

function checkTurn(set: MeasurementNew, fault: Fault): void {
  const { setup, values } = set
  if (setup !== undefined) {
    for (const name of ['dialLeftMm', 'dialRightMm'] as const)
      if (Math.abs(setup[name]) < DIAL_DISTANCE_MM.min)
        fault(`/setup/${name}`, 'range', 'A dial stands 1 mm or more from its support, outward or inward.')
    for (const side of SIDES) {
      const name = side === 'left' ? 'skippedLeftDeg' : 'skippedRightDeg'
      const both = setup[name]?.find((deg) => values.some((value) => value.place === side && value.atDeg === deg))
      if (both !== undefined) fault(`/setup/${name}`, 'read-too', `The mark at ${both}° is skipped, and it is read too.`)
    }
    const held = heldTrue(setup.held)
    const ofHeld = values.findIndex((value) => held !== null && value.place.startsWith(held))
    if (ofHeld >= 0) fault(`/values/${ofHeld}/place`, 'held-end', 'This main is held true in the lathe: read the other end.')
  }
  values.forEach((value, index) => {
    if (value.place.endsWith('-again')) {
      if ((value.atDeg ?? 0) !== 0) fault(`/values/${index}/atDeg`, 'not-12', 'Read again is mark 12, at 0°.')
    } else if (value.atDeg === undefined) fault(`/values/${index}/atDeg`, 'missing', 'Say which mark: degrees clockwise from the pin.')
  })
  for (const side of SIDES) checkEnd(values, side, fault)
}

function checkEnd(values: readonly Value[], side: 'left' | 'right', fault: Fault): void {
  const at = (place: string) => values.flatMap((value, index) => (value.place === place ? [index] : []))
  const swings = at(`${side}-swing`)
  const agains = at(`${side}-again`)
  for (const index of [...swings.slice(1), ...agains.slice(1)])
    fault(`/values/${index}/place`, 'twice', 'Once in a set. Keep the reading that counts.')
  if (swings.length > 0 && at(side).length + agains.length > 0)
    fault(`/values/${swings[0]}/place`, 'both-ways', 'An end is read mark by mark, or as a full swing: not both in one set.')
  if (agains.length > 0 && !values.some((value) => value.place === side && value.atDeg === 0))
    fault(`/values/${agains[0]}/place`, 'no-12', '12 is read again, but it was not read first.')
}
