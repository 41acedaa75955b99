/** Whether a set may be written on a job as it stands. */
import type { MeasurementNew } from '#contract/measurements.ts'
import { checkState } from '#core/bench/check-state.ts'
import { jointFault } from '#core/bench/joints.ts'
import type { ReadingSet } from '#core/bench/reading-set.ts'
import { lastStirredAt, secondCheck, standsBeforeSigned } from '#core/bench/second-check.ts'
import type { CrankBuild } from '#core/crank-build.ts'
import { isLater, millisecondsOf } from '#core/instants.ts'
import { isAtStatedPlace, isWithin, PLACE_TOLERANCE_MM, SIDES, type Side } from '#core/runout-verdict.ts'
import type { Caller } from '#server/plugins/act.ts'
import { fieldFault, Problem } from '#server/plugins/errors.ts'
import type { JobBench } from './held.ts'

export function mustFitTheJob(held: JobBench, set: MeasurementNew, by: Caller, doneAt: string): void {
  const { phase, kind } = set
  if (kind === 'runout' && phase === 'kit') throw fieldFault('/phase', 'not-for-this', 'Runout is not read on the parts of a kit.')
  const misplaced = jointFault(set, held.build)
  if (misplaced !== null) throw fieldFault('/joint', set.joint === undefined ? 'missing' : 'not-for-this', misplaced)
  mustBeOnTheCrank(set, held.build)
  if (held.kind === 'check-and-report' && (phase === 'kit' || phase === 'building' || phase === 'built'))
    throw fieldFault('/phase', 'not-for-this', 'A report says how the crank came in: read it as received.')
  if (phase === 'received') mustBeAsReceived(held, doneAt)
  if (phase === 'second' || phase === 'third') mustBeItsTurn(held, set, by)
  else if (kind === 'runout' && set.joint === undefined) mustNotFollowTheSecond(held, phase)
}

/** The angles and the middles that a crank of so many throws has. */
function mustBeOnTheCrank({ kind, values }: MeasurementNew, build: CrankBuild | null): void {
  if (build === null || (kind !== 'phase' && kind !== 'centre')) return
  const most = kind === 'phase' ? build.throws : build.throws - 1
  const at = values.findIndex(({ place }) => Number(place) > most)
  if (at >= 0) throw fieldFault(`/values/${at}/place`, 'unknown', `This crank has ${build.throws} throws.`)
}

/** Once the webs were moved nobody can read them as they came in; a reading of before may still be written down. */
function mustBeAsReceived({ record, tag }: JobBench, doneAt: string): void {
  const stirred = [...record.pressings.filter((one) => !one.isStruck), ...record.moves, ...record.welds].map((one) => one.doneAt)
  if (stirred.some((at) => !isLater(at, doneAt)))
    throw new Problem('conflict-state', `The webs of ${tag} were moved before this was read: it is not as it came in any more.`)
}

function mustBeItsTurn(held: JobBench, set: MeasurementNew, by: Caller): void {
  const { phase, kind } = set
  if (!standsBeforeSigned(held)) throw new Problem('conflict-state', `${held.tag} does not stand at its second check.`)
  if (kind !== 'runout') return
  const { check, next, mayRead, because } = checkState(held.record, by.id)
  if (next !== phase) throw new Problem('conflict-state', next === null ? 'The readings are in.' : `The ${next} set comes next.`)
  if (!mayRead) throw new Problem('conflict-state', because ?? 'This set is for somebody else to read.')
  if (set.notReadBecause !== undefined) {
    if (by.role !== 'owner') throw new Problem('forbidden', 'A second reading that is not taken is for the owner to let pass.')
    return
  }
  if (check.first !== null) mustReadAsTheFirst(set, check.first)
}

/** Two readings are compared only at the same places, and both have to be read at all ends that the first has. */
function mustReadAsTheFirst(set: MeasurementNew, first: ReadingSet): void {
  const { setup, values } = set
  if (setup === undefined || first.setUp === null) return
  const before = first.setUp
  for (const name of ['supportLeftMm', 'supportRightMm'] as const)
    if (!isWithin(Math.abs(setup[name] - before[name]), PLACE_TOLERANCE_MM)) throw elsewhere(`/setup/${name}`, before[name])
  for (const side of SIDES) {
    const name = side === 'left' ? 'dialLeftMm' : 'dialRightMm'
    const place = { readAtMm: setup[name], readHeld: setup.held, limitAtMm: before[name], limitHeld: before.held }
    if (!isAtStatedPlace({ ...place, readHeld: before.held })) throw elsewhere(`/setup/${name}`, before[name])
    if (!isAtStatedPlace(place)) throw fieldFault('/setup/held', 'other-place', 'Hold it as it was held for the first reading.')
    if (first.runout?.[side] !== undefined && !isReadAt(values, side))
      throw fieldFault('/values', 'both-ends', `Read the ${side} end too: the first reading has it.`)
  }
}

function isReadAt(values: MeasurementNew['values'], side: Side): boolean {
  return values.some((value) => value.place === side || value.place === `${side}-swing`)
}

function elsewhere(pointer: string, firstMm: number) {
  return fieldFault(pointer, 'other-place', `Read it where the first reading was taken: ${firstMm} mm.`)
}

/** Once the second reading is in, a new first reading would be taken in its sight; after a blow the crank is read anew. */
function mustNotFollowTheSecond({ record, tag }: JobBench, phase: MeasurementNew['phase']): void {
  if (phase !== 'building' && phase !== 'built' && phase !== 'received') return
  const { second } = secondCheck(record)
  if (!standsBeforeSigned(record) || second === null) return
  const stirredAt = lastStirredAt(record)
  if (stirredAt !== null && millisecondsOf(stirredAt) >= millisecondsOf(second.doneAt)) return
  throw new Problem(
    'conflict-state',
    `The second reading of ${tag} is in. A third set settles a difference; a blow makes a new first reading.`,
  )
}
