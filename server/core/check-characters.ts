/** One of the pure systems of ISO 7064: a modulus, a radix, the characters by their values, and how many check characters. */
export interface PureSystem {
  name: string
  modulus: number
  radix: number
  /** Every character that a check character can be, in the order of the values; the text may use them as well. */
  alphabet: string
  checkCharacters: 1 | 2
}

const DIGITS = '0123456789'
const LETTERS = 'ABCDEFGHIJKLMNOPQRSTUVWXYZ'

export const MOD_11_2: PureSystem = { name: 'MOD 11-2', modulus: 11, radix: 2, alphabet: `${DIGITS}X`, checkCharacters: 1 }
export const MOD_37_2: PureSystem = { name: 'MOD 37-2', modulus: 37, radix: 2, alphabet: `${DIGITS}${LETTERS}*`, checkCharacters: 1 }
export const MOD_97_10: PureSystem = { name: 'MOD 97-10', modulus: 97, radix: 10, alphabet: DIGITS, checkCharacters: 2 }
export const MOD_661_26: PureSystem = { name: 'MOD 661-26', modulus: 661, radix: 26, alphabet: LETTERS, checkCharacters: 2 }
export const MOD_1271_36: PureSystem = { name: 'MOD 1271-36', modulus: 1271, radix: 36, alphabet: DIGITS + LETTERS, checkCharacters: 2 }

/**
 * The check characters of a text: those which make the sum of value × radix^place over text and check, counted from the
 * right, leave 1 when divided by the modulus. With a prime modulus one wrong character and two neighbours exchanged are
 * always seen.
 *
 * Refuses (RangeError) an empty text and a character that is not in the alphabet of the system.
 * Source: ISO/IEC 7064:2003, pure systems (from memory; checked against published strings, see the vectors).
 *
 * @example checkCharactersOf(MOD_37_2, '318') // 'V'
 */
export function checkCharactersOf(system: PureSystem, text: string): string {
  const { modulus, radix, alphabet, checkCharacters } = system
  if (text.length === 0) throw new RangeError('checkCharactersOf needs at least one character')
  let sum = 0
  for (const character of text) {
    const value = alphabet.indexOf(character)
    if (value < 0) throw new RangeError(`checkCharactersOf needs characters of ${system.name}`)
    sum = ((sum + value) * radix) % modulus
  }
  if (checkCharacters === 2) sum = (sum * radix) % modulus
  const check = (modulus + 1 - sum) % modulus
  const last = alphabet.charAt(check % radix)
  return checkCharacters === 2 ? alphabet.charAt(Math.floor(check / radix)) + last : alphabet.charAt(check)
}
