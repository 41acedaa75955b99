const COMBINING_MARKS = /\p{M}+/gu
const PUNCTUATION = /[^\p{L}\p{N}\s]+/gu
const GAP_BETWEEN_FIGURES = /(?<=\p{N})\s+(?=\p{N})/gu
const FIGURES_OF_A_PHONE = /^\p{N}{6,}$/u
const WORDS_MOST = 8

/** Letters that do not come apart into a plain letter and a mark. */
const PLAIN_LETTERS: Readonly<Record<string, string>> = {
  ł: 'l',
  ø: 'o',
  đ: 'd',
  ð: 'd',
  ħ: 'h',
  ŧ: 't',
  ı: 'i',
  þ: 'th',
  ß: 'ss',
  æ: 'ae',
  œ: 'oe',
}
const LETTERS_TO_REPLACE = new RegExp(`[${Object.keys(PLAIN_LETTERS).join('')}]`, 'gu')

/**
 * A text as finding compares it: small letters without diacritics, no punctuation, and no gaps between figures, so that a
 * phone number or an engine number is found however it is grouped. The (0) that some write after a country code goes too.
 * Folding a folded text changes nothing.
 *
 * Source: common practice, no source; the decomposition is Unicode's NFKD (Unicode Standard Annex 15).
 *
 * @example foldForFind('Żółkiewski-Müller, A.') // 'zolkiewskimuller a'
 */
export function foldForFind(text: string): string {
  return text
    .normalize('NFKD')
    .toLowerCase()
    .normalize('NFKD')
    .replace(COMBINING_MARKS, '')
    .replace(LETTERS_TO_REPLACE, (letter) => PLAIN_LETTERS[letter] ?? letter)
    .replaceAll('(0)', ' ')
    .replace(PUNCTUATION, '')
    .replace(GAP_BETWEEN_FIGURES, '')
    .replace(/\s+/gu, ' ')
    .trim()
}

/**
 * What somebody typed to find something, as folded words that all have to be in the text; at most eight count. The zeros
 * in front of a long run of figures are left out, since a phone kept with its country code has none there.
 *
 * Source: common practice, no source.
 *
 * @example findWords('Hollis 0161 496-01') // ['hollis', '16149601']
 */
export function findWords(typed: string): string[] {
  const words = foldForFind(typed).split(' ')
  return words
    .map((word) => (FIGURES_OF_A_PHONE.test(word) ? word.replace(/^0+/, '') : word))
    .filter((word) => word !== '')
    .slice(0, WORDS_MOST)
}
