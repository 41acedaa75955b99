import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import { findWords, foldForFind } from '#core/find-text.ts'

describe('folding a text for finding', () => {
  test.each([
    ['Żółkiewski-Müller, A.', 'zolkiewskimuller a'],
    ['ÅRØ Øystein', 'aro oystein'],
    ['Weiß & Söhne', 'weiss sohne'],
    ["O'Dwyer", 'odwyer'],
    ['İstanbul ISPARTA ılık', 'istanbul isparta ilik'],
    ['Þórðarson', 'thordarson'],
    ['+44 (0)161 496-0187', '441614960187'],
    ['0161 / 496 01 87', '01614960187'],
    ['R4-20718', 'r420718'],
    ['R449-4X', 'r4494x'],
    ['ｆｕｌｌ ｗｉｄｔｈ １２', 'full width 12'],
    ['Čapek   Motor\tsport', 'capek motor sport'],
    ['---', ''],
  ])('%s', (typed, folded) => {
    expect(foldForFind(typed)).toBe(folded)
  })

  test('folding again changes nothing, and capitals do not matter', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 60 }), (text) => {
        const folded = foldForFind(text)
        expect(foldForFind(folded)).toBe(folded)
        expect(folded).not.toMatch(/[%_\\]/)
      }),
    )
    fc.assert(
      fc.property(fc.stringMatching(/^[a-zà-ö0-9 ]{0,30}$/), (text) => {
        expect(foldForFind(text.toUpperCase())).toBe(foldForFind(text))
      }),
    )
  })
})

describe('words to find by', () => {
  test.each([
    ['Hollis 0161 496-01', ['hollis', '16149601']],
    ['hollis', ['hollis']],
    ['A. Hollis', ['a', 'hollis']],
    ['0044 161 496', ['44161496']],
    ['007', ['007']],
    ['  ', []],
    ['%', []],
  ])('%s', (typed, words) => {
    expect(findWords(typed)).toEqual(words)
  })

  test('a phone is found however it is grouped, with or without its country code', () => {
    const kept = [foldForFind('+44 (0)161 496-0187'), foldForFind('0161 4960187'), foldForFind('+44 161 496 0187')]
    for (const typed of ['0161 496 0187', '01614960187', '161-496', '496 01 87'])
      for (const text of kept) expect(findWords(typed).every((word) => text.includes(word))).toBe(true)
  })

  test('no more than eight count, so that a pasted page does not make a search of a page', () => {
    expect(findWords('a b c d e f g h i j')).toHaveLength(8)
  })
})
