import { describe, expect, test } from 'vitest'
import { type LearningJob, learningLine } from '#core/learning-line.ts'

// The counting rule is the shop's own, decided once; nothing published.

function job(day: number, changes: Partial<LearningJob> = {}): LearningJob {
  return {
    jobId: `job-${day}`,
    kind: 'rebuild',
    isPractice: false,
    isComeback: false,
    signedAt: new Date(Date.UTC(2026, 0, day, 15)).toISOString(),
    ownHours: 4,
    othersHours: 0,
    ...changes,
  }
}

const days = (count: number) => Array.from({ length: count }, (_, index) => index + 1)

describe('which crank is the n-th', () => {
  test('rebuilds in order of signing, whatever order they come in', () => {
    const line = learningLine([job(3), job(1), job(2)], { declaredBefore: 0 })
    expect(line.points.map(({ jobId, n }) => [jobId, n])).toEqual([
      ['job-1', 1],
      ['job-2', 2],
      ['job-3', 3],
    ])
    expect(line.fitted).toEqual([
      { n: 1, hours: 4 },
      { n: 2, hours: 4 },
      { n: 3, hours: 4 },
    ])
  })

  test('counted on from the number declared at joining', () => {
    expect(learningLine([job(1), job(2)], { declaredBefore: 640 }).fitted.map(({ n }) => n)).toEqual([641, 642])
  })

  test('two signed at one instant stand in the order of their ids', () => {
    const same = { signedAt: job(1).signedAt }
    const line = learningLine([job(1, { ...same, jobId: 'b' }), job(1, { ...same, jobId: 'a' })], { declaredBefore: 0 })
    expect(line.points.map(({ jobId }) => jobId)).toEqual(['a', 'b'])
  })

  test('its hours are those of everybody', () => {
    expect(learningLine([job(1, { ownHours: 4, othersHours: 0.5 })], { declaredBefore: 0 }).points[0]?.hours).toBe(4.5)
  })
})

describe('drawn hollow and not fitted', () => {
  const jobs = [
    job(1),
    job(2, { kind: 'true-only', ownHours: 1 }),
    job(3, { isPractice: true, ownHours: 5 }),
    job(4, { isComeback: true }),
    job(5, { ownHours: 3, othersHours: 1 }),
    job(6),
  ]
  const line = learningLine(jobs, { declaredBefore: 0 })

  test('each says why; another kind and practice have no number, the others keep theirs', () => {
    expect(line.points.map(({ n, drawAt, hollow }) => [n, drawAt, hollow])).toEqual([
      [1, 1, undefined],
      [undefined, 1, 'other-kind'],
      [undefined, 1, 'practice'],
      [2, 2, 'comeback'],
      [3, 3, 'others-over-a-fifth'],
      [4, 4, undefined],
    ])
    expect(line.fitted.map(({ n }) => n)).toEqual([1, 4])
    expect(line.hollow).toEqual({ 'other-kind': 1, practice: 1, comeback: 1, 'others-over-a-fifth': 1 })
  })

  test('the caption counts them', () => {
    expect(line.caption).toBe(
      '2 cranks fitted, none left out. Drawn hollow and not fitted: 1 not a rebuild, 1 for practice, 1 comeback put right, ' +
        '1 with over a fifth of the hours by others. Hours are all bench hours on a crank from booked to true, after corrections.',
    )
  })

  test('exactly a fifth by others is still the person’s own', () => {
    expect(learningLine([job(1, { ownHours: 4, othersHours: 1 })], { declaredBefore: 0 }).points[0]?.hollow).toBeUndefined()
    // Two stretches of 0.1 and 0.2 h add up to a last binary digit over 0.3.
    expect((0.1 + 0.2) / (1.2 + 0.1 + 0.2)).toBeGreaterThan(0.2)
    expect(learningLine([job(1, { ownHours: 1.2, othersHours: 0.1 + 0.2 })], { declaredBefore: 0 }).points[0]?.hollow).toBeUndefined()
    expect(learningLine([job(1, { ownHours: 4, othersHours: 1.001 })], { declaredBefore: 0 }).points[0]?.hollow).toBe('others-over-a-fifth')
  })

  test('practice before the first crank is drawn at 1, where the line begins', () => {
    expect(learningLine([job(1, { isPractice: true })], { declaredBefore: 0 }).points[0]).toMatchObject({ drawAt: 1, hollow: 'practice' })
  })
})

describe('left out', () => {
  test('not signed has no number; signed without hours keeps its number and has no point', () => {
    const line = learningLine([job(1), job(2, { signedAt: null }), job(3, { ownHours: 0 }), job(4)], { declaredBefore: 0 })
    expect(line.leftOut).toEqual({ notSigned: 1, noHours: 1 })
    expect(line.fitted.map(({ n }) => n)).toEqual([1, 3])
    expect(line.caption).toContain('2 cranks fitted, left out: 1 not signed yet, 1 without hours.')
  })

  test('nothing at all', () => {
    const line = learningLine([], { declaredBefore: 0 })
    expect(line).toMatchObject({ points: [], fitted: [], caption: 'No cranks yet.', mayFitRate: false })
  })
})

describe('whether a rate may be printed', () => {
  test('from crank 1 to crank 3 not, to crank 4 yes', () => {
    expect(
      learningLine(
        days(3).map((day) => job(day)),
        { declaredBefore: 0 },
      ),
    ).toMatchObject({
      mayFitRate: false,
      noRateBecause: 'No rate: crank 3 is less than 4 times crank 1, too short a way to see a doubling. The level is shown.',
    })
    expect(
      learningLine(
        days(4).map((day) => job(day)),
        { declaredBefore: 0 },
      ),
    ).toMatchObject({ mayFitRate: true, noRateBecause: null })
  })

  test('an old hand has a level and no rate', () => {
    const line = learningLine(
      days(60).map((day) => job(day)),
      { declaredBefore: 640 },
    )
    expect(line.mayFitRate).toBe(false)
    expect(line.noRateBecause).toContain('crank 700 is less than 4 times crank 641')
    expect(line.caption).toContain('Counted on from 640 declared at joining.')
  })

  test('the span is that of the cranks fitted, hollow ones do not stretch it', () => {
    const jobs = [...days(3).map((day) => job(day)), job(4, { isComeback: true })]
    expect(learningLine(jobs, { declaredBefore: 0 }).mayFitRate).toBe(false)
  })

  test('two points are no line', () => {
    const jobs = [job(1), job(2, { isComeback: true }), job(3, { isComeback: true }), job(4)]
    expect(learningLine(jobs, { declaredBefore: 0 }).noRateBecause).toBe('No rate: 2 cranks fitted, and a line needs 3.')
  })
})

test('refuses counts and hours that are none', () => {
  for (const declaredBefore of [-1, 0.5, Number.NaN]) expect(() => learningLine([], { declaredBefore })).toThrow(RangeError)
  for (const ownHours of [-1, Number.NaN]) {
    expect(() => learningLine([job(1, { ownHours })], { declaredBefore: 0 })).toThrow('learningLine needs hours of 0 or more')
  }
})
