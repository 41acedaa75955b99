import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { type GaugeInput, gauge } from '#core/gauge.ts'
import { type GaugeReading, gaugeTable } from '#core/gauge-table.ts'
import { expectNear, expectRefused, expectWritable, solved } from '#tests/core/near.ts'
import vectors from '#tests/vectors/gauge.json' with { type: 'json' }

/** From readings[part][person][time]. */
function study(data: readonly number[][][]): GaugeReading[] {
  return data.flatMap((row, part) => row.flatMap((cell, person) => cell.map((value) => ({ part, person: `person ${person}`, value }))))
}

const cells = (parts: number, people: number, times: number, value: (part: number, person: number, time: number) => number) =>
  study(
    Array.from({ length: parts }, (_, part) =>
      Array.from({ length: people }, (_, person) => Array.from({ length: times }, (_, time) => value(part, person, time))),
    ),
  )

describe.each(vectors)('gauge: $name ($source, $status)', ({ data, squares, expected, tolerance, isPooled, percentOfTotal }) => {
  it('has the sums of squares', () => {
    const { tolerance: within, ...sums } = squares
    expectNear(solved(gaugeTable(study(data))).squares, sums, within)
  })

  it('has the standard deviations', () => {
    const answer = solved(gauge({ readings: study(data), tolerance: 8 }))
    expectNear(answer, expected, tolerance)
    expect(answer.method.name.includes('pooled')).toBe(isPooled)
    expect(answer.percentOfTotal).toBeCloseTo(percentOfTotal, 1)
    expect(answer.percentOfTolerance).toBeCloseTo((600 * answer.gauge) / 8, 9)
  })
})

describe('gauge', () => {
  const shape = fc.record({
    parts: fc.integer({ min: 2, max: 6 }),
    people: fc.integer({ min: 2, max: 4 }),
    times: fc.integer({ min: 2, max: 4 }),
  })
  const readings = shape.chain(({ parts, people, times }) =>
    fc
      .array(fc.integer({ min: -50, max: 50 }), { minLength: parts * people * times, maxLength: parts * people * times })
      .map((values) => cells(parts, people, times, (part, person, time) => values[(part * people + person) * times + time]!)),
  )

  it('its parts of the variance add up, and none is below 0', () => {
    fc.assert(
      fc.property(readings, (list) => {
        const answer = gauge({ readings: list, tolerance: 3 })
        fc.pre(answer.ok)
        const found = solved(answer)
        expectWritable(found)
        const { repeatability, reproducibility, interaction, part, total } = found
        for (const one of [repeatability, reproducibility, interaction, part]) expect(one).toBeGreaterThanOrEqual(0)
        expect(Math.hypot(repeatability, reproducibility, interaction)).toBeCloseTo(found.gauge, 9)
        expect(Math.hypot(found.gauge, part)).toBeCloseTo(total, 9)
        expect(found.percentOfTotal).toBeCloseTo((100 * found.gauge) / total, 9)
        if (found.method.name.includes('pooled')) expect(interaction).toBe(0)
      }),
    )
  })

  it('sums of squares add up to that of all readings about their mean', () => {
    fc.assert(
      fc.property(readings, (list) => {
        const { squares } = solved(gaugeTable(list))
        const mean = list.reduce((sum, { value }) => sum + value, 0) / list.length
        const all = list.reduce((sum, { value }) => sum + (value - mean) ** 2, 0)
        expect(squares.parts + squares.people + squares.interaction + squares.repeatability).toBeCloseTo(all, 6)
      }),
    )
  })

  it('does not depend on the order of the readings, nor on where the scale starts', () => {
    fc.assert(
      fc.property(readings, (list) => {
        const one = gauge({ readings: list })
        fc.pre(one.ok)
        const { method, ...figures } = solved(one)
        expectNear(solved(gauge({ readings: [...list].reverse() })), figures, 1e-9)
        // An F at just the border of pooling may fall either way when shifted by rounding; whole numbers do not round.
        expectNear(solved(gauge({ readings: list.map((reading) => ({ ...reading, value: reading.value + 4096 })) })), { method }, 0)
      }),
    )
  })

  it('people who differ by a fixed step: reproducibility alone, in decimals that binary cannot write', () => {
    const answer = solved(gauge({ readings: cells(4, 2, 2, (part, person) => part * 0.1 + person * 0.3) }))
    // Two people 0.3 apart: variance 0.3²/2.
    expect(answer.reproducibility).toBeCloseTo(0.3 / Math.SQRT2, 12)
    expect([answer.repeatability, answer.interaction]).toEqual([0, 0])
    expect(answer.method.name).toContain('pooled')
  })

  it('a gauge without scatter tells any number of steps apart: none is answered, and 0 per cent', () => {
    const answer = solved(gauge({ readings: cells(3, 2, 2, (part) => part / 7), tolerance: 1 }))
    expect(answer).toMatchObject({ gauge: 0, percentOfTotal: 0, percentOfTolerance: 0 })
    expect(answer).not.toHaveProperty('distinctSteps')
  })

  it('interaction without any scatter within is not pooled', () => {
    const answer = solved(gauge({ readings: cells(2, 2, 2, (part, person) => (part === person ? 1 : 0)) }))
    expect(answer.method.name).toBe('two-way analysis of variance with interaction')
    // Interaction of one degree of freedom: 2 × 4 × 0.25 over 1, by two times: variance 1.
    expect(answer.interaction).toBeCloseTo(1, 12)
    expect([answer.repeatability, answer.part, answer.distinctSteps]).toEqual([0, 0, 0])
  })

  it.each([
    [1.7, true],
    [1.9, false],
  ])('an interaction with F %s on 1 and 4 degrees of freedom is pooled: %s', (ratio, isPooled) => {
    // F is 1.807 where its p is 0.25 (tables of F, from memory; R: qf(0.75, 1, 4)). Repeats ±1: F is four times the square of the effect.
    const effect = Math.sqrt(ratio) / 2
    const readings = cells(2, 2, 2, (part, person, time) => 10 * part + (part === person ? effect : -effect) + (time === 0 ? 1 : -1))
    expect(solved(gauge({ readings })).method.name.includes('pooled')).toBe(isPooled)
  })

  it('parts that cannot be told apart: no step', () => {
    const answer = solved(gauge({ readings: cells(3, 3, 2, (_part, _person, time) => time) }))
    expect(answer).toMatchObject({ part: 0, distinctSteps: 0, percentOfTotal: 100 })
  })

  it('takes ten thousand readings', () => {
    const readings = cells(1000, 5, 2, (part, person, time) => part + person / 10 + time / 100)
    expect(readings).toHaveLength(10_000)
    expectWritable(solved(gauge({ readings })))
  })
})

describe('gauge refuses', () => {
  const full = cells(2, 2, 2, (part, person, time) => part + person + time)
  it.each<[string, GaugeReading[], string]>([
    ['nothing', [], 'too-few-points'],
    ['one part', cells(1, 3, 2, () => 1), 'too-few-points'],
    ['one person', cells(3, 1, 2, () => 1), 'too-few-points'],
    ['one reading of each', cells(3, 2, 1, (part) => part), 'too-few-points'],
    ['a reading short', full.slice(1), 'not-balanced'],
    ['a reading too many', [...full, full[0]!], 'not-balanced'],
    ['a cell that is empty', full.slice(2), 'not-balanced'],
    ['part and person paired one to one', full.filter(({ part, person }) => person === `person ${part}`), 'not-balanced'],
    ['readings that are all the same', cells(3, 2, 2, () => 0.1), 'no-spread'],
    ['readings of nothing but 0', cells(3, 2, 2, () => 0), 'no-spread'],
  ])('%s in words', (_name, readings, reason) => {
    expectRefused(gauge({ readings }), reason)
  })

  it('a tolerance too small for a percentage in words', () => {
    expectRefused(gauge({ readings: full, tolerance: 5e-324 }), 'out-of-range')
  })

  it.each<[string, GaugeInput]>([
    ['a reading that is none', { readings: [{ part: 1, person: 1, value: Number.NaN }] }],
    ['a reading beyond all', { readings: [{ part: 1, person: 1, value: 1e10 }] }],
    ['a tolerance of 0', { readings: full, tolerance: 0 }],
    ['a list too long', { readings: new Array(10_001).fill(full[0]) }],
  ])('%s as misuse', (_name, input) => {
    expect(() => gauge(input)).toThrow(/^gauge needs /)
  })

  it('nothing of parts named by number and by text alike', () => {
    const named = full.map((reading, index) => (index % 2 === 0 ? reading : { ...reading, part: String(reading.part) }))
    expect(solved(gauge({ readings: named }))).toEqual(solved(gauge({ readings: full })))
  })
})
