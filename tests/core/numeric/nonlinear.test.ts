import { describe, expect, test } from 'vitest'
import { learning } from '#core/learning.ts'
import { choleskyFactor, solveFactored } from '#core/numeric/symmetric-matrix.ts'
import vectors from '#tests/vectors/nonlinear.json' with { type: 'json' }

/** What a model leaves at one point, and how its own value changes with each of its parameters. */
type Model = (parameters: readonly number[], x: number, y: number) => { rest: number; slopes: number[] }

const MODELS: Record<string, Model> = {
  circle([atX = 0, atY = 0, radius = 0], x, y) {
    const away = Math.hypot(x - atX, y - atY)
    return { rest: away - radius, slopes: [(x - atX) / away, (y - atY) / away, 1] }
  },
  power([factor = 0, exponent = 0], x, y) {
    return { rest: y - factor * x ** exponent, slopes: [x ** exponent, factor * Math.log(x) * x ** exponent] }
  },
}

/** Gauss and Newton's steps on the solver that the harmonic fit of a turn uses. */
function fitted(model: Model, start: readonly number[], x: readonly number[], y: readonly number[]): number[] {
  const size = start.length
  let parameters = [...start]
  for (let round = 0; round < 60; round++) {
    const normal = new Array<number>(size * size).fill(0)
    const right = new Array<number>(size).fill(0)
    x.forEach((at, point) => {
      const { rest, slopes } = model(parameters, at, y[point]!)
      for (let row = 0; row < size; row++) {
        right[row] = right[row]! + slopes[row]! * rest
        for (let column = 0; column < size; column++)
          normal[row * size + column] = normal[row * size + column]! + slopes[row]! * slopes[column]!
      }
    })
    const step = solveFactored(choleskyFactor(normal, size), right, size)
    parameters = parameters.map((value, index) => value + step[index]!)
  }
  return parameters
}

describe('published nonlinear least squares, solved on the normal matrix of the core', () => {
  test.each(vectors)('$name ($status: $source)', ({ model, start, x, y, expected, tolerance }) => {
    const answer = fitted(MODELS[model]!, start, x, y)
    answer.forEach((value, index) => {
      expect(Math.abs(value - expected[index]!)).toBeLessThanOrEqual(tolerance)
    })
  })

  test('the learning line is the log–log one and must not be taken for the nonlinear fit of the same points', () => {
    const danWood = vectors.find((vector) => vector.model === 'power')!
    const line = learning({ points: danWood.x.map((n, point) => ({ n, hours: danWood.y[point]! })) })
    expect(line.ok && line.value.power.exponent).toBeCloseTo(3.91720563648, 9)
    expect(line.ok && Math.abs(line.value.power.exponent - danWood.expected[1]!)).toBeGreaterThan(0.05)
  })
})
