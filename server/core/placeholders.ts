/**
 * The texts of the shop with places in them that are filled when the text is used: `Your crank {tag} is ready to go home`.
 */

/** What may stand in braces, and what is put there. */
export const PLACEHOLDERS = {
  shop: 'the name of the shop',
  tag: 'the tag of the crank',
  amount: 'what is to pay, or was quoted',
  date: 'the day that was promised',
  days: 'the days until storage may be charged',
  promise: 'how long the promise holds, in months and hours',
  where: 'where the work stands',
  wait: 'what holds it up',
} as const
export type Placeholder = keyof typeof PLACEHOLDERS

/** The texts that are filled, each with the placeholders that have a meaning there. */
export const PLACEHOLDERS_OF = {
  storageRule: ['shop', 'days'],
  promiseText: ['shop', 'promise'],
  tellReady: ['shop', 'tag', 'amount', 'days'],
  tellYes: ['shop', 'tag', 'where', 'amount', 'date'],
  tellLate: ['shop', 'tag', 'where', 'wait', 'date'],
} as const satisfies Readonly<Record<string, readonly Placeholder[]>>
export type FilledText = keyof typeof PLACEHOLDERS_OF

const IN_BRACES = /\{([^{}]*)\}/g
const IN_BRACKETS = /\[([^[\]]*)\]/g

const NOT_KNOWN = 'not known'

/**
 * The first thing in braces that has no meaning in this text, as it stands there; null where all have one.
 *
 * Refuses nothing. Source: common practice, no source.
 *
 * @example unknownPlaceholder('Ready within {dais} days.', ['shop', 'days']) // '{dais}'
 */
export function unknownPlaceholder(text: string, known: readonly Placeholder[]): string | null {
  for (const [whole, name] of text.matchAll(IN_BRACES)) if (!known.some((one) => one === name)) return whole
  return null
}

/**
 * Fills a text: each placeholder in braces takes its value. What stands in square brackets around a placeholder is left
 * out, brackets and all, where that placeholder has no value; outside brackets a missing value is said to be not known.
 * Brackets without a placeholder and names in braces that nobody knows stay as they are, so that a text from before is
 * still printed.
 *
 * Refuses nothing. Source: common practice, no source.
 *
 * @example fillText('{tag} is ready[, {amount} to pay].', { tag: '318-V', amount: '312.00 EUR' }) // '318-V is ready, 312.00 EUR to pay.'
 */
export function fillText(text: string, values: Readonly<Partial<Record<Placeholder, string>>>): string {
  const given = (name: string) => (isPlaceholder(name) ? values[name] : undefined)
  // Brackets are judged before anything is filled in, so that brackets in a value are only text.
  const kept = text.replaceAll(IN_BRACKETS, (whole, inner: string) => {
    const names = [...inner.matchAll(IN_BRACES)].map(([, name]) => name ?? '').filter(isPlaceholder)
    if (names.length === 0) return whole
    return names.every((name) => given(name) !== undefined) ? inner : ''
  })
  return kept.replaceAll(IN_BRACES, (whole, name: string) => (isPlaceholder(name) ? (given(name) ?? NOT_KNOWN) : whole))
}

function isPlaceholder(name: string): name is Placeholder {
  return Object.hasOwn(PLACEHOLDERS, name)
}

/**
 * How long the promise on the work holds, in words: months since it went home, and engine hours where the shop set them.
 *
 * Refuses (RangeError) months that are not whole or under 1, and hours that are not more than 0.
 * Source: common practice, no source.
 *
 * @example promiseWords(12, 60) // '12 months or 60 h ridden, whichever comes first'
 */
export function promiseWords(months: number, hours: number | null): string {
  if (!Number.isInteger(months) || months < 1) throw new RangeError('promiseWords needs whole months, 1 or more')
  if (hours !== null && !(hours > 0 && Number.isFinite(hours))) throw new RangeError('promiseWords needs hours of more than 0')
  const said = `${months} ${months === 1 ? 'month' : 'months'}`
  return hours === null ? said : `${said} or ${hours} h ridden, whichever comes first`
}
