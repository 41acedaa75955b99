/** What puts an instrument in doubt: a check or a zero of the day that did not hold, or a fall. */
export type DoubtKind = 'check' | 'zero' | 'dropped'

const DOUBT_WORDS: Readonly<Record<DoubtKind, string>> = {
  check: 'failed its check',
  zero: 'did not hold its zero',
  dropped: 'was dropped',
}

/**
 * Why an instrument is in doubt, as a clause that begins with its name.
 *
 * @example instrumentDoubtWords('dial 4', 'dropped') // 'dial 4 was dropped'
 *
 * It stays in doubt until a check finds it good: a fall or a wrong zero says nothing of the readings since the last good
 * check. Common practice, no source.
 */
export function instrumentDoubtWords(name: string, kind: DoubtKind): string {
  return `${name} ${DOUBT_WORDS[kind]}`
}
