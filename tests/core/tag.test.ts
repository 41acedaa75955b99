import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { checkCharactersOf, MOD_11_2, MOD_37_2, MOD_97_10, MOD_661_26, MOD_1271_36, type PureSystem } from '#core/check-characters.ts'
import { nextTagNumber, parseTag, TAG_NUMBER_MOST, tagOf } from '#core/tag.ts'
import vectors from '#tests/vectors/check-characters.json' with { type: 'json' }

const SYSTEMS: readonly PureSystem[] = [MOD_11_2, MOD_37_2, MOD_97_10, MOD_661_26, MOD_1271_36]

describe('check characters, ISO/IEC 7064:2003', () => {
  test.each(vectors.cases)('$system of $text is $check ($source)', ({ system, text, check }) => {
    expect(checkCharactersOf(SYSTEMS.find((one) => one.name === system)!, text)).toBe(check)
  })

  test('every system has a case', () => {
    expect(new Set(vectors.cases.map((one) => one.system))).toEqual(new Set(SYSTEMS.map((one) => one.name)))
  })

  test('one figure misread, or two neighbours exchanged, changes the check', () => {
    fc.assert(
      fc.property(fc.integer({ min: 10, max: TAG_NUMBER_MOST }), fc.nat(), fc.nat(9), (number, place, figure) => {
        const figures = [...String(number)]
        const at = place % figures.length
        const misread = figures.with(at, String(figure)).join('')
        if (misread !== String(number)) expect(checkCharactersOf(MOD_37_2, misread)).not.toBe(checkCharactersOf(MOD_37_2, String(number)))
        const next = (at + 1) % figures.length
        if (next === 0 || figures[at] === figures[next]) return
        const exchanged = figures.with(at, figures[next]!).with(next, figures[at]!).join('')
        expect(checkCharactersOf(MOD_37_2, exchanged)).not.toBe(checkCharactersOf(MOD_37_2, String(number)))
      }),
    )
  })

  test('refuses an empty text and a foreign character', () => {
    expect(() => checkCharactersOf(MOD_37_2, '')).toThrow('checkCharactersOf needs at least one character')
    expect(() => checkCharactersOf(MOD_11_2, '12A')).toThrow('checkCharactersOf needs characters of MOD 11-2')
  })
})

describe('tags', () => {
  // Worked by hand for 318: ((3·2 + 1)·2 + 8)·2 = 44, and 1 − 44 leaves 31 of 37, which is V.
  test.each([
    [187, '187-L'],
    [296, '296-B'],
    [300, '300-E'],
    [302, '302-A'],
    [309, '309-X'],
    [316, '316-Z'],
    [318, '318-V'],
    [319, '319-T'],
  ])('%i is spoken %s', (number, tag) => {
    expect(tagOf(number)).toBe(tag)
  })

  test('numbers whose check is a figure, a star, I or O make no tag', () => {
    // 1 − 2·n of 37 for one figure: 1 → 36 (*), 7 → 24 (O), 2 → 34 (Y).
    expect([tagOf(1), tagOf(7), tagOf(2)]).toEqual([null, null, '2-Y'])
    const letters = Array.from({ length: 5000 }, (_, index) => tagOf(index + 1)).filter((tag) => tag !== null)
    expect(letters.every((tag) => /^\d+-[A-HJ-NP-Z]$/.test(tag))).toBe(true)
    // 24 of 37 checks are letters other than I and O.
    expect(Math.abs(letters.length / 5000 - 24 / 37)).toBeLessThan(0.01)
  })

  test('the next number skips those that make none', () => {
    expect([nextTagNumber(0), nextTagNumber(6), nextTagNumber(317)]).toEqual([2, 8, 318])
    let number = 0
    for (let given = 0; given < 500; given += 1) {
      const next = nextTagNumber(number)
      for (let skipped = number + 1; skipped < next; skipped += 1) expect(tagOf(skipped)).toBeNull()
      expect(tagOf(next)).not.toBeNull()
      number = next
    }
  })

  test.each(['318V', '318-V', '318v', ' 318 v ', '318 - V', '318–V', "318'v"])('%s is read as 318-V', (typed) => {
    expect(parseTag(typed)).toEqual({ ok: true, number: 318, tag: '318-V' })
  })

  test.each(['318-U', '381-V', '1-A', '7-O'])('%s is written as a tag with a letter of another number', (typed) => {
    expect(parseTag(typed)).toMatchObject({ ok: false, reason: 'wrong-letter' })
  })

  test('a wrong letter does not give the right one away', () => {
    const read = parseTag('318-U')
    expect('detail' in read && read.detail).toBe('318-U is no tag of ours: look at the number and the letter again.')
  })

  test.each(['', '318', 'V', '0-V', '318-VV', '318-*', '318.5-V', '12345678-A', 'R4-20718'])('%s is no tag', (typed) => {
    expect(parseTag(typed)).toMatchObject({ ok: false, reason: 'not-a-tag' })
  })

  test('what is printed is read back', () => {
    fc.assert(
      fc.property(fc.integer({ min: 0, max: TAG_NUMBER_MOST - 100 }), (after) => {
        const number = nextTagNumber(after)
        const tag = tagOf(number)
        expect(parseTag(tag!)).toEqual({ ok: true, number, tag })
      }),
    )
  })

  test('refuses numbers that are none', () => {
    for (const number of [0, -1, 1.5, Number.NaN, TAG_NUMBER_MOST + 1]) expect(() => tagOf(number)).toThrow(RangeError)
    for (const after of [-1, 0.5, Number.NaN, TAG_NUMBER_MOST]) expect(() => nextTagNumber(after)).toThrow(RangeError)
  })
})
