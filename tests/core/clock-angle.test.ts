import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { clockAngle, cosDegrees, sinDegrees, wrapDegrees } from '#core/clock-angle.ts'

describe('clock angles', () => {
  it('are exact at the four marks, however often round', () => {
    for (const turn of [-720, -360, 0, 360, 3600]) {
      expect([0, 90, 180, 270].map((mark) => cosDegrees(mark + turn))).toEqual([1, 0, -1, 0])
      expect([0, 90, 180, 270].map((mark) => sinDegrees(mark + turn))).toEqual([0, 1, 0, -1])
    }
  })

  it('wrap into one turn, a hair under 0 and a whole turn included', () => {
    expect(wrapDegrees(360)).toBe(0)
    expect(Object.is(wrapDegrees(-0), 0)).toBe(true)
    expect(Object.is(wrapDegrees(-360), 0)).toBe(true)
    expect(wrapDegrees(-1e-20)).toBe(0)
    fc.assert(
      fc.property(fc.double({ min: -1e9, max: 1e9, noNaN: true }), (angle) => {
        const wrapped = wrapDegrees(angle)
        expect(wrapped).toBeGreaterThanOrEqual(0)
        expect(wrapped).toBeLessThan(360)
      }),
    )
  })

  it('agree with the functions of the language and find their way back', () => {
    fc.assert(
      fc.property(fc.double({ min: -1000, max: 1000, noNaN: true }), (angle) => {
        expect(cosDegrees(angle)).toBeCloseTo(Math.cos((angle * Math.PI) / 180), 12)
        expect(sinDegrees(angle)).toBeCloseTo(Math.sin((angle * Math.PI) / 180), 12)
        const back = clockAngle(cosDegrees(angle), sinDegrees(angle)) - wrapDegrees(angle)
        expect(Math.min(Math.abs(back), 360 - Math.abs(back))).toBeLessThan(1e-9)
      }),
    )
  })

  it('answer 0 for an arrow without length', () => {
    expect(clockAngle(0, 0)).toBe(0)
    expect(clockAngle(-0, -0)).toBe(0)
  })
})
