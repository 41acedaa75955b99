import { JOB_KINDS, type JobKind, nextStep, PATHS, type Step, WAITING_FOR, type WaitingFor } from '#core/steps.ts'

/** A place on a path where the bench has the next move, unless the job waits for one of these. */
export interface BenchTurn {
  kind: JobKind
  step: Step
  heldUpBy: readonly WaitingFor[]
}

/** Steps that the bench does not take: an agreement and the door are the counter's. */
const COUNTERS: readonly Step[] = ['booked', 'agreed', 'gone']

/** A kit is first missed when the pin goes in. A missing yes holds up everything after measuring, work outside all. */
function heldUpBy(next: Step): readonly WaitingFor[] {
  if (next === 'measured') return ['outside']
  return next === 'together' ? WAITING_FOR : WAITING_FOR.filter((what) => what !== 'kit')
}

/**
 * Where the bench can go on: every kind of job and step after which the next step is the bench's, with what holds it up. A
 * crank can be measured and parted while its kit is on the way, and is not parted before the yes has come.
 *
 * Source: common practice of the trade, no source.
 *
 * @example benchTurns().find((turn) => turn.kind === 'rebuild' && turn.step === 'apart').heldUpBy // ['kit', 'yes', 'outside']
 */
export function benchTurns(): BenchTurn[] {
  return JOB_KINDS.flatMap((kind) =>
    PATHS[kind].flatMap((step) => {
      const next = nextStep(kind, step)
      return next === null || COUNTERS.includes(next) ? [] : [{ kind, step, heldUpBy: heldUpBy(next) }]
    }),
  )
}
