import type { PersonLearning } from '#contract/learning.ts'
import { type LearningAnswer, learning } from '#core/learning.ts'
import { type LearningLine, learningLine } from '#core/learning-line.ts'
import { studentTQuantile } from '#core/numeric/distributions.ts'
import { differByMoreThanDoubt, levelOf, movesACrank, trueAtFirstCheck } from '#core/readiness.ts'
import type { TruedJob } from './store.ts'

const TEN = 10

/** One person's line and readiness, from the jobs they called true. */
export function personLearningOf(
  person: { id: string; name: string; cranksBefore: number },
  jobs: readonly TruedJob[],
  targetHours: number,
): PersonLearning {
  const line = learningLine(
    jobs.map((job) => ({ ...job, isPractice: false, signedAt: job.signedAt?.toISOString() ?? null })),
    { declaredBefore: person.cranksBefore },
  )
  const byId = new Map(jobs.map((job) => [job.jobId, job]))
  const fitted = line.mayFitRate ? fittedLine(line, targetHours) : undefined
  const level = line.mayFitRate ? undefined : levelOfLine(line)
  return {
    person: { id: person.id, name: person.name },
    points: line.points.map((point) => {
      const job = byId.get(point.jobId)!
      return { ...point, tag: job.tag, engine: job.engine, signedAt: job.signedAt!.toISOString(), moves: job.moves }
    }),
    ...(fitted === undefined ? {} : { line: fitted }),
    mayFitRate: line.mayFitRate,
    ...(line.noRateBecause === null ? {} : { noRateBecause: line.noRateBecause }),
    ...(level === undefined ? {} : { level }),
    caption: line.caption,
    targetHours,
    ready: readinessOf(jobs.filter((job) => job.signedAt !== null && job.kind === 'rebuild')),
  }
}

function fittedLine(line: LearningLine, targetHours: number): LearningAnswer | undefined {
  const last = Math.max(...line.fitted.map((point) => point.n))
  // The band is drawn from crank 1 to the next whole doubling after twice the last one.
  const to = 2 ** Math.ceil(Math.log2(last * 2))
  const predictAt = Array.from({ length: 41 }, (_, step) => to ** (step / 40))
  const answer = learning({ points: line.fitted, targetHours, predictAt: [...predictAt, last] })
  return answer.ok ? answer.value : undefined
}

function levelOfLine(line: LearningLine): PersonLearning['level'] {
  const hours = line.fitted.map((point) => point.hours)
  return hours.length < 2 ? undefined : levelOf(hours, studentTQuantile(0.975, hours.length - 1))
}

function readinessOf(signed: readonly TruedJob[]): PersonLearning['ready'] {
  const checks = signed.map((job) => (job.second ? trueAtFirstCheck(job.second) : null)).filter((answer) => answer !== null)
  const compared = signed
    .map((job) => (job.first && job.second ? differByMoreThanDoubt(job.first, job.second) : null))
    .filter((answer) => answer !== null)
  const count = (answers: readonly boolean[]) => ({ count: answers.filter(Boolean).length, of: answers.length })
  const first = signed.slice(0, TEN)
  const last = signed.slice(-TEN)
  return {
    firstCheck: count(checks),
    firstCheckLastTen: count(checks.slice(-TEN)),
    secondDiffered: count(compared),
    ...given('movesFirstTen', movesACrank(first.map((job) => job.moves))),
    ...given('movesLastTen', movesACrank(last.map((job) => job.moves))),
    ...given('truingShareFirstTen', truingShare(first)),
    ...given('truingShareLastTen', truingShare(last)),
  }
}

function truingShare(jobs: readonly TruedJob[]): number | undefined {
  const all = jobs.reduce((sum, job) => sum + job.ownHours + job.othersHours, 0)
  return all > 0 ? jobs.reduce((sum, job) => sum + job.truingHours, 0) / all : undefined
}

function given<Name extends string>(name: Name, value: number | undefined): { [key in Name]?: number } {
  return value === undefined ? {} : ({ [name]: value } as { [key in Name]: number })
}
