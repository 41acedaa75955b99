import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { Lives } from '#core/survival-lives.ts'
import { fitWeibull, type Weibull } from '#core/survival-weibull.ts'

function lives(failed: number[], running: number[] = []): Lives {
  return { group: 'all', failed: Float64Array.from(failed).sort(), all: Float64Array.from([...failed, ...running]).sort() }
}

function logLikelihood({ shape, scale }: Pick<Weibull, 'shape' | 'scale'>, failed: number[], running: number[]): number {
  const hazard = failed.map((at) => Math.log(shape / scale) + (shape - 1) * Math.log(at / scale))
  const passed = [...failed, ...running].map((at) => -((at / scale) ** shape))
  return [...hazard, ...passed].reduce((sum, one) => sum + one, 0)
}

// Published fits stand in tests/vectors/survival.json.
describe('fitWeibull', () => {
  const times = fc.array(fc.double({ min: 0.5, max: 500, noNaN: true }), { minLength: 2, maxLength: 20 })

  it('is as likely as it says, and no shape or scale nearby is likelier', () => {
    fc.assert(
      fc.property(times, times, (failed, running) => {
        fc.pre(Math.max(...failed) / Math.min(...failed) > 1.01)
        const fit = fitWeibull(lives(failed, running))!
        const best = logLikelihood(fit, failed, running)
        expect(fit.logLikelihood).toBeCloseTo(best, 5)
        for (const [shape, scale] of [
          [1.001, 1],
          [0.999, 1],
          [1, 1.001],
          [1, 0.999],
          [1.001, 1.001],
        ] as const) {
          const near = { shape: fit.shape * shape, scale: fit.scale * scale }
          expect(logLikelihood(near, failed, running)).toBeLessThanOrEqual(best + 1e-9 * Math.abs(best))
        }
      }),
    )
  })

  it.each<[string, number[], number[]]>([
    ['no failure', [], [1, 2]],
    ['one failure', [5], [1, 9]],
    ['two failures at one time', [5, 5], [1, 9]],
  ])('is absent for %s', (_name, failed, running) => {
    expect(fitWeibull(lives(failed, running))).toBeUndefined()
  })

  it('a life of 0 that did not fail says nothing', () => {
    expect(fitWeibull(lives([3, 4, 9], [0, 0, 20]))).toEqual(fitWeibull(lives([3, 4, 9], [20])))
  })

  it.each<[string, number[], number[]]>([
    ['two failures a hair apart', [1e9, 1e9 - 1e-6], []],
    ['two neighbours among the binary fractions', [1, 1 + 2 ** -52], []],
    ['failures over the whole range of numbers', [1e-300, 1e9], []],
    ['failures far below the rest', [1e-300, 2e-300], new Array(1000).fill(1e9)],
    ['failures as small as can be', [5e-324, 1e-323], [1e9]],
  ])('%s: a curve that can be written, or none', (_name, failed, running) => {
    const fit = fitWeibull(lives(failed, running))
    if (fit !== undefined) for (const value of Object.values(fit)) expect(Number.isFinite(value)).toBe(true)
  })

  it('finds the shape of a million to one', () => {
    // Near 1 a distance a hundred times as great makes a shape a hundred times less.
    const fit = fitWeibull(lives([1 - 1e-6, 1]))!
    const wider = fitWeibull(lives([1 - 1e-4, 1]))!
    expect(fit.shape / wider.shape).toBeCloseTo(100, 1)
    expect(fit.scale).toBeCloseTo(1, 5)
  })
})
