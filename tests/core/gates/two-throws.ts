import type { JobFacts, SeveralFacts } from '#core/gates/facts.ts'
import type { MissingCode } from '#core/gates/missing.ts'
import type { JobKind, Step } from '#core/steps.ts'
import { at, readyJob, taken } from '#tests/core/gates/ready-job.ts'

export type TwinFacts = JobFacts & { several: SeveralFacts }

/** An invented parallel twin with a pressed middle and every gate open. */
export function readyTwin(kind: JobKind = 'rebuild', changes: Partial<SeveralFacts> = {}): TwinFacts {
  const whole = readyJob(kind)
  const own = { ...readyJob(kind), secondSet: null, certificate: null }
  return {
    ...whole,
    // What is read of a throw is not read of the whole.
    received: { ...whole.received, width: null, bigEndPlay: null },
    asItStands: { ...whole.asItStands, width: null, sideClearance: null },
    fit: { left: null, right: null },
    kitLot: null,
    several: {
      throws: [
        { joint: 'throw-1', facts: own },
        { joint: 'throw-2', facts: own },
      ],
      centres: [{ joint: 'centre-1', parting: whole.parting }],
      phase: [{ joint: 'throw-2', nominalDeg: 180, read: taken(180.3, 104) }],
      phaseLimitDeg: 0.5,
      middle: [{ joint: 'centre-1', read: taken(0.03, 105) }],
      centreLimitMm: 0.04,
      trappedLeft: [],
      readAt: at(105),
      ...changes,
    },
  }
}

/** The same with something changed at the second throw alone. */
export function secondThrow(change: (facts: JobFacts) => Partial<JobFacts>): TwinFacts {
  const twin = readyTwin()
  const throws = twin.several.throws.map((one) =>
    one.joint === 'throw-2' ? { ...one, facts: { ...one.facts, ...change(one.facts) } } : one,
  )
  return { ...twin, several: { ...twin.several, throws } }
}

/** Each line takes one thing away that only a crank with several throws has. */
export const OF_SEVERAL: [Step, MissingCode, Partial<SeveralFacts>][] = [
  ['together', 'trapped-parts', { trappedLeft: ['centre bearing', 'labyrinth'] }],
  ['trued', 'phase', { phase: [{ joint: 'throw-2', nominalDeg: 180, read: null }] }],
  ['trued', 'phase-older-than-last-move', { phase: [{ joint: 'throw-2', nominalDeg: 180, read: taken(180, 70) }] }],
  ['trued', 'phase-out-of-limit', { phase: [{ joint: 'throw-2', nominalDeg: 180, read: taken(179.4, 104) }] }],
  ['trued', 'centre-runout', { middle: [{ joint: 'centre-1', read: null }] }],
  ['trued', 'centre-runout-older-than-last-move', { middle: [{ joint: 'centre-1', read: taken(0.03, 70) }] }],
  ['trued', 'centre-runout-over', { middle: [{ joint: 'centre-1', read: taken(0.041, 105) }] }],
]
