import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type LearningAnswer, type LearningInput, learning } from '#core/learning.ts'
import vectors from '#tests/vectors/learning.json' with { type: 'json' }

type Nested = { [name: string]: number | Nested } | Nested[]

function rowsOf<Input, Expected>(kind: string) {
  return vectors.filter((row) => row.kind === kind) as unknown as {
    name: string
    source: string
    status: string
    tolerance: number
    input: Input
    expected: Expected
  }[]
}

function solved(input: LearningInput): LearningAnswer {
  const answer = learning(input)
  if (!answer.ok) throw new Error(answer.reason)
  return answer.value
}

/** Every number of `expected` stands in `found`, each within a share of itself. */
function closeTo(found: unknown, expected: Nested, tolerance: number): void {
  for (const [name, wanted] of Object.entries(expected)) {
    const value = (found as Record<string, unknown>)[name]
    if (typeof wanted === 'number') expect(Math.abs((value as number) - wanted), name).toBeLessThanOrEqual(tolerance * Math.abs(wanted))
    else closeTo(value, wanted as Nested, tolerance)
  }
}

function exactPoints(firstHours: number, rate: number) {
  return [1, 2, 5, 11].map((n) => ({ n, hours: firstHours * n ** Math.log2(rate) }))
}

describe('learning against published figures of the unit model', () => {
  it.each(rowsOf<{ firstHours: number; rate: number }, { n: number; hours: number }[]>('unit-model'))(
    '$name ($source, $status)',
    ({ input, expected, tolerance }) => {
      const answer = solved({ points: exactPoints(input.firstHours, input.rate), predictAt: expected.map(({ n }) => n) })
      expected.forEach(({ n, hours }, index) => {
        expect(answer.predictions[index]!.n).toBe(n)
        expect(Math.abs(answer.predictions[index]!.hours - hours)).toBeLessThanOrEqual(tolerance)
      })
      expect(answer.power.firstHours).toBeCloseTo(input.firstHours, 8)
      expect(answer.power.rate).toBeCloseTo(input.rate, 12)
    },
  )

  it.each(rowsOf<{ firstHours: number; rate: number }, { exponent: number }>('exponent'))(
    '$name ($source, $status)',
    ({ input, expected, tolerance }) => {
      expect(
        Math.abs(solved({ points: exactPoints(input.firstHours, input.rate) }).power.exponent - expected.exponent),
      ).toBeLessThanOrEqual(tolerance)
    },
  )

  it.each(rowsOf<LearningInput, Record<string, number>>('line'))('$name ($source, $status)', ({ input, expected, tolerance }) => {
    const { power } = solved(input)
    const { firstLogStandardError, ...rest } = expected
    closeTo(power, rest, tolerance)
    // The interval of ln firstHours is t standard errors each way; t(0.975, 4) = 2.776445 (NIST/SEMATECH e-Handbook 1.3.6.7.2 to three decimals).
    const half = Math.log(power.firstHoursInterval.high! / power.firstHoursInterval.low) / 2
    expect(half / firstLogStandardError!).toBeCloseTo(2.776445, 5)
  })
})

describe('learning in full', () => {
  it.each(rowsOf<LearningInput, Nested>('full'))('$name ($source, $status)', ({ input, expected, tolerance }) => {
    closeTo(solved(input), expected, tolerance)
  })

  it('is at 95 % unless said otherwise', () => {
    const points = [1, 2, 3, 5].map((n, index) => ({ n, hours: [9, 7.6, 6.4, 6.1][index]! }))
    expect(solved({ points })).toEqual(solved({ points, confidence: 0.95 }))
    const wide = solved({ points, confidence: 0.99 }).power.exponentInterval
    const narrow = solved({ points, confidence: 0.5 }).power.exponentInterval
    expect(wide.low).toBeLessThan(narrow.low)
    expect(wide.high).toBeGreaterThan(narrow.high)
  })

  it('answers no predictions and no target when none is asked for', () => {
    const answer = solved({ points: exactPoints(10, 0.8) })
    expect(answer.predictions).toEqual([])
    expect(answer).not.toHaveProperty('reachesTarget')
  })

  const hours = fc.double({ min: 1, max: 40, noNaN: true })
  const many = fc
    .tuple(
      fc.uniqueArray(fc.integer({ min: 1, max: 40 }), { minLength: 3, maxLength: 15 }),
      fc.array(hours, { minLength: 15, maxLength: 15 }),
    )
    .map(([cranks, times]) => cranks.map((n, index) => ({ n, hours: times[index]! })))

  it('does not depend on the order of the points, and turns minutes into hours as it should', () => {
    fc.assert(
      fc.property(many, (points) => {
        // Points far from n = 1 throw it into the unwritable; within their own stretch a line stands firm.
        const at = points[0]!.n
        const plain = solved({ points, predictAt: [at] })
        const back = solved({ points: [...points].reverse(), predictAt: [at] })
        const inMinutes = solved({ points: points.map((point) => ({ n: point.n, hours: point.hours * 60 })), predictAt: [at] })
        for (const [other, factor] of [
          [back, 1],
          [inMinutes, 60],
        ] as const) {
          expect(other.power.exponent).toBeCloseTo(plain.power.exponent, 8)
          expect(other.power.exponentStandardError).toBeCloseTo(plain.power.exponentStandardError, 8)
          expect(other.predictions[0]!.hours / plain.predictions[0]!.hours / factor).toBeCloseTo(1, 8)
          expect(other.predictions[0]!.low / plain.predictions[0]!.low / factor).toBeCloseTo(1, 6)
        }
      }),
    )
  })

  it('keeps its intervals in order, and the one for a new crank wider than the line', () => {
    fc.assert(
      fc.property(many, hours, (points, targetHours) => {
        const answer = learning({ points, targetHours, predictAt: [1, 10] })
        fc.pre(answer.ok)
        if (!answer.ok) return
        const { power, predictions, reachesTarget } = answer.value
        expect(power.firstHoursInterval.low).toBeLessThanOrEqual(power.firstHours)
        expect(power.firstHoursInterval.high ?? Number.MAX_VALUE).toBeGreaterThanOrEqual(power.firstHours)
        expect(predictions[0]!.hours / power.firstHours).toBeCloseTo(1, 9)
        expect(predictions[0]!.low).toBeLessThanOrEqual(power.firstHoursInterval.low)
        expect(predictions[0]!.high ?? Number.MAX_VALUE).toBeGreaterThanOrEqual(power.firstHoursInterval.high ?? 0)
        const reachesNothing = power.exponentInterval.low <= 0 && power.exponentInterval.high >= 0
        if (reachesNothing) expect(reachesTarget).toBeNull()
        else expect(reachesTarget).not.toBeNull()
        if (reachesTarget?.low !== undefined) expect(reachesTarget.low).toBeLessThanOrEqual(reachesTarget.n)
        if (reachesTarget?.high !== undefined) expect(reachesTarget.high).toBeGreaterThanOrEqual(reachesTarget.n)
        expect(JSON.stringify(answer.value).replace('"reachesTarget":null', '')).not.toContain('null')
      }),
    )
  })

  it('its 95 % intervals hold the truth about 95 times in 100 (seeded, 2000 hands)', async () => {
    const { seededRandom } = await import('#core/numeric/random.ts')
    const random = seededRandom(95)
    const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
    const exponent = Math.log2(0.85)
    let held = { exponent: 0, crank: 0, target: 0 }
    const hands = 2000
    for (let hand = 0; hand < hands; hand++) {
      const points = [1, 2, 3, 5, 8, 13, 21, 34].map((n) => ({ n, hours: 9 * n ** exponent * Math.exp(0.08 * normal()) }))
      const { power, predictions, reachesTarget } = solved({ points, predictAt: [50], targetHours: 5 })
      const next = 9 * 50 ** exponent * Math.exp(0.08 * normal())
      const truly = (5 / 9) ** (1 / exponent)
      held = {
        exponent: held.exponent + Number(power.exponentInterval.low <= exponent && exponent <= power.exponentInterval.high),
        crank: held.crank + Number(predictions[0]!.low <= next && next <= predictions[0]!.high!),
        target: held.target + Number((reachesTarget?.low ?? 0) <= truly && truly <= (reachesTarget?.high ?? Number.POSITIVE_INFINITY)),
      }
    }
    // Four standard errors of a share of 0.95 among 2000.
    for (const count of Object.values(held)) expect(Math.abs(count / hands - 0.95)).toBeLessThan(4 * Math.sqrt((0.95 * 0.05) / hands))
  })
})

describe('learning at its edges', () => {
  it('hours that are all the same: a level line, no share explained, and no target ahead', () => {
    const level = solved({ points: [1, 2, 4].map((n) => ({ n, hours: 5.3 })), targetHours: 5 })
    expect(level.power.exponent).toBeCloseTo(0, 12)
    expect(level.power.firstHours).toBeCloseTo(5.3, 12)
    expect(level.power).not.toHaveProperty('rSquared')
    expect(level.reachesTarget).toBeNull()
  })

  it('points exactly on a line: both edges of the band meet the target where the line does', () => {
    const { reachesTarget } = solved({ points: exactPoints(10, 0.8), targetHours: 6.4 })
    expect(reachesTarget!.n).toBeCloseTo(4, 9)
    expect(reachesTarget!.low).toBeCloseTo(4, 9)
    expect(reachesTarget!.high).toBeCloseTo(4, 9)
  })

  it('a hand that gets slower: the rate is over 1 and the line meets a higher target later', () => {
    const slower = solved({ points: [1, 2, 4, 8].map((n) => ({ n, hours: 4 * n ** 0.3 })), targetHours: 8 })
    expect(slower.power.rate).toBeCloseTo(2 ** 0.3, 10)
    expect(slower.reachesTarget!.n).toBeCloseTo(2 ** (1 / 0.3), 8)
  })

  it('cranks too near one another: the high end of the hours at n = 1 is absent, not infinite, and all else is answered', () => {
    const near = solved({ points: [170, 172, 173].map((n, index) => ({ n, hours: [1, 1.45, 1][index]! })), predictAt: [1, 172] })
    expect(near.power.firstHoursInterval).toEqual({ low: 0 })
    expect(near.predictions[0]).not.toHaveProperty('high')
    expect(near.predictions[1]!.high).toBeGreaterThan(near.predictions[1]!.hours)
  })

  it('a target beyond every number that can be written is absent, not infinite', () => {
    const points = [1, 2, 4].map((n) => ({ n, hours: 9999 * n ** -0.001 }))
    expect(solved({ points, targetHours: 0.01 })).not.toHaveProperty('reachesTarget')
  })

  it.each<[string, LearningInput, string]>([
    ['nothing', { points: [] }, 'too-few-points'],
    ['two points', { points: exactPoints(10, 0.8).slice(0, 2) }, 'too-few-points'],
    ['three points at one n', { points: [5, 6, 7].map((hours) => ({ n: 3, hours })) }, 'no-spread'],
    [
      'points so near that the line runs away',
      { points: [1, 1 + 1e-9, 1 + 2e-9].map((n, index) => ({ n, hours: [1, 500, 9000][index]! })), predictAt: [1000] },
      'out-of-range',
    ],
    [
      'a first crank far outside every number',
      { points: [1e9 - 2, 1e9 - 1, 1e9].map((n, index) => ({ n, hours: [1, 5, 2][index]! })) },
      'out-of-range',
    ],
  ])('refuses %s in words', (_name, input, reason) => {
    const answer = learning(input)
    expect(answer).toMatchObject({ ok: false, reason })
    expect(!answer.ok && answer.detail).toMatch(/^[A-Z][^!]*\.$/)
  })

  const points = exactPoints(10, 0.8)
  it.each<[string, LearningInput]>([
    ['the crank number 0', { points: [...points, { n: 0, hours: 5 }] }],
    ['a crank number that is none', { points: [...points, { n: Number.NaN, hours: 5 }] }],
    ['no hours', { points: [...points, { n: 3, hours: 0 }] }],
    ['more than ten thousand hours', { points: [...points, { n: 3, hours: 10_001 }] }],
    ['a confidence of 1', { points, confidence: 1 }],
    ['a confidence of 0', { points, confidence: 0 }],
    ['a target of 0', { points, targetHours: 0 }],
    ['a crank to foretell below 0', { points, predictAt: [-1] }],
  ])('refuses %s as misuse', (_name, input) => {
    expect(() => learning(input)).toThrow(/^learning needs /)
  })
})
