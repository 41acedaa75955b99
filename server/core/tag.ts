import { checkCharactersOf, MOD_37_2 } from '#core/check-characters.ts'

/** The greatest running number of a tag; seven figures still fit the smallest label. */
export const TAG_NUMBER_MOST = 9_999_999

const TAG_LETTERS = /^[A-HJ-NP-Z]$/
const TYPED_TAG = /^(\d{1,7})[\s\-–—']*([A-Z])$/

export type ReadTag =
  | { ok: true; number: number; tag: string }
  /** wrong-letter: it is written as a tag, and its letter belongs to another number. */
  | { ok: false; reason: 'not-a-tag' | 'wrong-letter'; detail: string }

/**
 * The tag of a running number as it is spoken and printed: the number, a hyphen, and a check letter by ISO 7064 MOD 37-2,
 * so that a figure misread in oil does not open another crank. null for a number that is skipped: one whose check
 * character is a figure, a star, an I or an O, so that a tag always ends in a letter that cannot be taken for a figure.
 *
 * Refuses (RangeError) anything but a whole number from 1 to 9,999,999. Source: ISO/IEC 7064:2003; the skipping: our own.
 *
 * @example tagOf(318) // '318-V'
 */
export function tagOf(number: number): string | null {
  if (!Number.isInteger(number) || number < 1 || number > TAG_NUMBER_MOST) {
    throw new RangeError(`tagOf needs a whole number from 1 to ${TAG_NUMBER_MOST}`)
  }
  const letter = checkCharactersOf(MOD_37_2, String(number))
  return TAG_LETTERS.test(letter) ? `${number}-${letter}` : null
}

/**
 * The next running number that makes a tag, after the last one given out; 0 before the first.
 *
 * Refuses (RangeError) anything but a whole number of 0 or more, and going past 9,999,999.
 *
 * @example nextTagNumber(317) // 318
 */
export function nextTagNumber(after: number): number {
  if (!Number.isInteger(after) || after < 0) throw new RangeError('nextTagNumber needs a whole number of 0 or more')
  let number = after + 1
  while (tagOf(number) === null) number += 1
  return number
}

/**
 * A tag as somebody types, says or scans it: big or small letter, with or without a hyphen or spaces, and the apostrophe
 * that some keyboards make of a scanned hyphen. A letter that does not belong to its number is told apart from what is no
 * tag at all; the right letter is not given away, since either part may be the wrong one.
 *
 * @example parseTag('318v') // { ok: true, number: 318, tag: '318-V' }
 */
export function parseTag(typed: string): ReadTag {
  const parts = TYPED_TAG.exec(typed.trim().toUpperCase())
  const number = Number(parts?.[1] ?? 0)
  if (parts === null || number === 0) {
    return { ok: false, reason: 'not-a-tag', detail: 'A tag is a number and a letter, as 318-V.' }
  }
  const tag = tagOf(number)
  if (tag === null || !tag.endsWith(`-${parts[2]}`)) {
    return {
      ok: false,
      reason: 'wrong-letter',
      detail: `${number}-${parts[2]} is no tag of ours: look at the number and the letter again.`,
    }
  }
  return { ok: true, number, tag }
}
