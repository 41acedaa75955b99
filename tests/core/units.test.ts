import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { isWithin, runoutVerdict } from '#core/runout-verdict.ts'
import { type FlatteringSide, fromMm, LENGTH_UNITS, type LengthUnit, lengthAt20C, printedFigure, readLength, toMm } from '#core/units.ts'
import vectors from '#tests/vectors/units.json' with { type: 'json' }

function rows<Input, Expected>(kind: string) {
  return vectors.filter((row) => row.kind === kind) as unknown as {
    name: string
    source: string
    status: string
    tolerance: number
    input: Input
    expected: Expected
  }[]
}

const unit = fc.constantFrom(...LENGTH_UNITS)

describe('conversion', () => {
  it.each(rows<{ value: number; unit: LengthUnit }, number>('to-mm'))('$name ($source, $status)', ({ input, expected, tolerance }) => {
    expect(Math.abs(toMm(input.value, input.unit) - expected)).toBeLessThanOrEqual(tolerance)
    expect(fromMm(expected, input.unit)).toBeCloseTo(input.value, 12)
  })

  it('there and back changes nothing that could be read', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), unit, (mm, other) => {
        expect(Math.abs(toMm(fromMm(mm, other), other) - mm)).toBeLessThanOrEqual(4 * Number.EPSILON * Math.abs(mm))
      }),
    )
  })

  it('refuses what is not finite', () => {
    expect(() => toMm(Number.NaN, 'thou')).toThrow(/^toMm needs a finite length$/)
    expect(() => fromMm(Number.POSITIVE_INFINITY, 'mm')).toThrow(/^fromMm needs a finite length$/)
  })
})

describe('readLength', () => {
  type Typed = { typed: string; unit: LengthUnit }

  it.each(rows<Typed, { mm: number; unit: LengthUnit }>('typed'))('$name', ({ input, expected }) => {
    const read = readLength(input.typed, input.unit)
    expect(read).toEqual({ ok: true, value: { ...expected, typed: input.typed } })
    // A minus that is typed on a 0 stays no minus.
    expect(read.ok && Object.is(read.value.mm, -0)).toBe(false)
  })

  it.each(rows<Typed, string>('refused'))('$name', ({ input, expected }) => {
    const read = readLength(input.typed, input.unit)
    expect(read).toMatchObject({ ok: false, reason: expected })
    expect(!read.ok && read.detail).toMatch(/^[^!]+\.$/)
  })

  it('reads back the decimal that was written, with either mark and any unit, to the last bit', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: -999_999, max: 999_999 }),
        fc.integer({ min: 0, max: 5 }),
        fc.constantFrom('.', ','),
        unit,
        (digits, after, mark, other) => {
          const text = decimalText(digits, after)
          const read = readLength(`${text.replace('.', mark)} ${other}`, 'mm')
          expect(read.ok).toBe(true)
          if (!read.ok) return
          // The exact decimal: thou and tenths are 254 of a ten-thousandth and of a hundred-thousandth of a mm.
          const exact = other === 'mm' ? text : decimalText(digits * 254, after + (other === 'thou' ? 4 : 5))
          expect(read.value.mm).toBe(Number(exact) + 0)
          expect(read.value.unit).toBe(other)
        },
      ),
    )
  })

  it('is the same length, bit by bit, in thou, in tenths and in mm, and at its limit whichever of the two was typed in which', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 99_999 }), fc.integer({ min: 0, max: 4 }), unit, unit, (digits, after, one, other) => {
        const said = {
          thou: `${decimalText(digits, after)} thou`,
          tenth: `${decimalText(digits * 10, after)} tenths`,
          mm: `${decimalText(digits * 254, after + 4)} mm`,
        } as const satisfies Record<LengthUnit, string>
        const [read, limit] = [readLength(said[one], 'mm'), readLength(said[other], 'mm')]
        expect(read.ok && limit.ok && Object.is(read.value.mm, limit.value.mm)).toBe(true)
        if (!read.ok || !limit.ok) return
        expect(isWithin(read.value.mm, limit.value.mm)).toBe(true)
        expect(runoutVerdict({ tirMm: read.value.mm, limitMm: limit.value.mm, giveOrTakeMm: 0.008 })).toBe('in-the-doubt-band')
      }),
    )
  })

  it('never answers a number a thousand times another way of reading it, nor 0 for something else', () => {
    fc.assert(
      fc.property(fc.string({ unit: fc.constantFrom(...'0123456789.,-−\u00a0 mthou'), maxLength: 12 }), (typed) => {
        const read = readLength(typed, 'mm')
        if (!read.ok) return
        const figures = typed
          .replace(/[\s\u00a0]/g, '')
          .replace('−', '-')
          .replace(',', '.')
        const expected = Number.parseFloat(figures)
        expect(read.value.mm).toBeCloseTo(toMm(expected, read.value.unit), 9)
        if (read.value.mm === 0) expect(figures).toMatch(/^[-+]?[0.]+(mm|thou)?$/)
      }),
      { numRuns: 2000 },
    )
  })
})

describe('printedFigure', () => {
  type Figure = { mm: number; stepMm: number; unit: LengthUnit; flattering: FlatteringSide }

  it.each(rows<Figure, { value: number; decimals: number }>('printed'))('$name', ({ input, expected }) => {
    expect(printedFigure(input)).toEqual(expected)
  })

  it('never flatters, never moves a whole digit, and shows no digit finer than the step', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -5, max: 5, noNaN: true }),
        fc.constantFrom(0.01, 0.005, 0.002, 0.001, 0.0127, 0.00254),
        unit,
        (mm, stepMm, other) => {
          const digit = (decimals: number) => 10 ** -decimals
          const high = printedFigure({ mm, stepMm, unit: other, flattering: 'low' })
          const low = printedFigure({ mm, stepMm, unit: other, flattering: 'high' })
          const value = fromMm(mm, other)
          expect(high.value).toBeGreaterThanOrEqual(value - 1e-8 * Math.max(1, Math.abs(value)))
          expect(low.value).toBeLessThanOrEqual(value + 1e-8 * Math.max(1, Math.abs(value)))
          expect(high.value - value).toBeLessThan(digit(high.decimals))
          expect(value - low.value).toBeLessThan(digit(low.decimals))
          expect(high.decimals).toBe(low.decimals)
          expect(high.decimals === 0 || digit(high.decimals) >= fromMm(stepMm, other) * (1 - 1e-6)).toBe(true)
        },
      ),
    )
  })

  it('refuses a step that is none', () => {
    for (const stepMm of [0, -0.01, Number.NaN]) {
      expect(() => printedFigure({ mm: 1, stepMm, unit: 'mm', flattering: 'low' })).toThrow(/^printedFigure needs a dial step/)
    }
    expect(() => printedFigure({ mm: Number.NaN, stepMm: 0.01, unit: 'mm', flattering: 'low' })).toThrow(RangeError)
  })
})

describe('lengthAt20C', () => {
  it.each(rows<{ mm: number; temperatureC: number }, number>('warm'))('$name ($source, $status)', ({ input, expected, tolerance }) => {
    expect(Math.abs(lengthAt20C(input.mm, input.temperatureC) - expected)).toBeLessThanOrEqual(tolerance)
  })

  it('leaves a part at 20 °C alone, and refuses what is not finite', () => {
    expect(lengthAt20C(61.5, 20)).toBe(61.5)
    expect(() => lengthAt20C(61.5, Number.NaN)).toThrow(RangeError)
  })
})

function decimalText(digits: number, after: number): string {
  const sign = digits < 0 ? '-' : ''
  const text = String(Math.abs(digits)).padStart(after + 1, '0')
  return after === 0 ? `${sign}${text}` : `${sign}${text.slice(0, -after)}.${text.slice(-after)}`
}
