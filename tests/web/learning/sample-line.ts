import type { PersonLearning } from '#contract/learning.ts'
import { learning } from '#core/learning.ts'

const JONAS = { id: '0198f3a0-0000-7000-8000-000000000002', name: 'Jonas' }

type Point = PersonLearning['points'][number]

function point(place: number, over: Partial<Point> = {}): Point {
  const n = place + 1
  return {
    jobId: `0198f3a0-0000-7000-8000-${String(place).padStart(12, '0')}`,
    tag: `${100 + place}-K`,
    engine: 'Tolvane T84-W',
    signedAt: '2026-06-01T10:00:00Z',
    n,
    drawAt: n,
    // A wave about a plain power law, so that the points scatter and the figures can be worked again.
    hours: 6.2 * n ** Math.log2(0.82) * Math.exp(0.3 * Math.sin(7 * n)),
    moves: 8,
    ...over,
  }
}

/** Forty-three cranks of a learner, three of them hollow. */
export function learner(): PersonLearning {
  const points = Array.from({ length: 43 }, (_, place) =>
    place === 20 ? point(place, { hollow: 'comeback' }) : place === 30 ? point(place, { hollow: 'others-over-a-fifth' }) : point(place),
  )
  points.push({ ...point(43), n: undefined, drawAt: 43, hollow: 'other-kind', tag: '190-T' } as Point)
  const fitted = points.flatMap(({ n, hours, hollow }) => (n === undefined || hollow !== undefined ? [] : [{ n, hours }]))
  const answer = learning({
    points: fitted,
    targetHours: 1.8,
    predictAt: [...Array.from({ length: 41 }, (_, step) => 128 ** (step / 40)), 43],
  })
  if (!answer.ok) throw new Error(answer.detail)
  return {
    person: JONAS,
    points,
    line: answer.value,
    mayFitRate: true,
    caption:
      '41 cranks fitted, none left out. Drawn hollow and not fitted: 1 not a rebuild, 1 comeback put right, 1 with over a fifth of the hours by others.',
    targetHours: 1.8,
    ready: {
      firstCheck: { count: 26, of: 43 },
      firstCheckLastTen: { count: 8, of: 10 },
      secondDiffered: { count: 2, of: 43 },
      movesFirstTen: 14.2,
      movesLastTen: 7.9,
      truingShareFirstTen: 0.62,
      truingShareLastTen: 0.44,
    },
  }
}

/** An old hand, counted on from 690: too short a way to see a doubling. */
export function oldHand(): PersonLearning {
  const { line: _line, ...rest } = learner()
  return {
    ...rest,
    person: { id: '0198f3a0-0000-7000-8000-000000000003', name: 'Marek' },
    points: Array.from({ length: 12 }, (_, place) => point(690 + place, { hours: 1.6 + 0.05 * (place % 4) })),
    mayFitRate: false,
    noRateBecause: 'No rate: crank 702 is less than 4 times crank 691, too short a way to see a doubling. The level is shown.',
    level: { hours: 1.674, low: 1.641, high: 1.708, of: 12 },
    caption: '12 cranks fitted, none left out. Counted on from 690 declared at joining.',
    ready: { firstCheck: { count: 0, of: 0 }, firstCheckLastTen: { count: 0, of: 0 }, secondDiffered: { count: 0, of: 0 } },
  }
}
