import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { CHECK_CODE_SIGNS, checkCodeFrom, parseCheckCode } from '#core/check-code.ts'

// RFC 4648 (2006), section 10: the five bytes of "fooba" are MZXW6YTB in base 32 and CPNMUOJ1 in its extended hex form.
// The values of the signs are the same; only the signs differ. Status: from memory, recomputed.
const FOOBA = new Uint8Array([0x66, 0x6f, 0x6f, 0x62, 0x61])
const RFC_4648_SIGNS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ234567'
const RFC_4648_HEX_SIGNS = '0123456789ABCDEFGHIJKLMNOPQRSTUV'

function inOurSigns(text: string, signs: string): string {
  return [...text].map((sign) => CHECK_CODE_SIGNS.charAt(signs.indexOf(sign))).join('')
}

describe('a check code', () => {
  test('is eight groups of five bits, first bit first (RFC 4648)', () => {
    const code = checkCodeFrom(FOOBA).replace('-', '')
    expect(code).toBe(inOurSigns('MZXW6YTB', RFC_4648_SIGNS))
    expect(code).toBe(inOurSigns('CPNMUOJ1', RFC_4648_HEX_SIGNS))
  })

  test('has 32 signs, without I, L, O and U', () => {
    expect(new Set(CHECK_CODE_SIGNS).size).toBe(32)
    expect(CHECK_CODE_SIGNS).not.toMatch(/[ILOU]/)
  })

  test('its ends and the example', () => {
    expect(checkCodeFrom(new Uint8Array(5))).toBe('0000-0000')
    expect(checkCodeFrom(new Uint8Array(5).fill(255))).toBe('ZZZZ-ZZZZ')
    expect(checkCodeFrom(new Uint8Array([0x3c, 0xc9, 0x44, 0xdf, 0x5d]))).toBe('7K4M-9QTX')
  })

  test('refuses more or fewer bytes', () => {
    expect(() => checkCodeFrom(new Uint8Array(4))).toThrow('checkCodeFrom needs 5 bytes')
    expect(() => checkCodeFrom(new Uint8Array(6))).toThrow(RangeError)
  })

  test('different bytes make different codes, and each is read back', () => {
    fc.assert(
      fc.property(fc.uint8Array({ minLength: 5, maxLength: 5 }), fc.uint8Array({ minLength: 5, maxLength: 5 }), (one, other) => {
        const code = checkCodeFrom(one)
        expect(code).toMatch(/^[0-9A-HJKMNP-TV-Z]{4}-[0-9A-HJKMNP-TV-Z]{4}$/)
        expect(parseCheckCode(code)).toEqual({ ok: true, code })
        expect(checkCodeFrom(other) === code).toBe(one.every((byte, place) => byte === other[place]))
      }),
    )
  })
})

describe('reading one off paper', () => {
  test.each(['7K4M-9QTX', '7k4m-9qtx', '7k4m9qtx', ' 7K4M 9QTX ', '7K4M–9QTX'])('%s', (typed) => {
    expect(parseCheckCode(typed)).toEqual({ ok: true, code: '7K4M-9QTX' })
  })

  test('O is 0, I and L are 1', () => {
    expect(parseCheckCode('oOiI-lL01')).toEqual({ ok: true, code: '0011-1101' })
  })

  test.each(['', '7K4M-9QT', '7K4M-9QTXX', '7K4M-9QTU', '7K4M-9QT*', '7K4M_9QTX'])('%s is none', (typed) => {
    expect(parseCheckCode(typed)).toMatchObject({ ok: false, reason: 'not-a-check-code' })
  })
})
