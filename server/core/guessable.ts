/** What the password is for, so that it is not the first thing that somebody who knows the shop would try. */
export interface PasswordOf {
  shop: string
  name: string
  signIn: string
}

/**
 * Passwords of ten characters and more that lists of leaked ones are full of. Shorter ones are refused by their length.
 * Source: from memory of published lists of frequent passwords; order and completeness are not claimed.
 */
const FREQUENT: ReadonlySet<string> = new Set([
  'administrator',
  'iloveyou12',
  'iloveyouso',
  'iloveyou123',
  'letmein123',
  'motorcycle',
  'password10',
  'password11',
  'password12',
  'password123',
  'password1234',
  'passwordpassword',
  'p@ssw0rd123',
  'q1w2e3r4t5',
  'q1w2e3r4t5y6',
  '1q2w3e4r5t',
  '1q2w3e4r5t6y',
  '1qaz2wsx3edc',
  'qazwsxedcrfv',
  'qwer1234qwer',
  'welcome123',
  'changeme123',
  'superman123',
  'throwbook1',
  'throwbook123',
  'correcthorsebatterystaple',
])

/** Rows of keys that a finger runs along, and the alphabet. */
const RUNS = ['12345678901234567890', 'qwertyuiopasdfghjklzxcvbnm', 'qwertzuiopasdfghjklyxcvbnm', 'abcdefghijklmnopqrstuvwxyz']

/**
 * Why a password would be guessed at once, as a sentence with what to do; null where it would not. Capitals, gaps and
 * marks between make no difference. Length is asked for elsewhere.
 *
 * Refuses nothing. Source: OWASP Application Security Verification Standard 5.0 (2025), 6.2.4 and 6.2.11: frequent passwords
 * and words of the place itself are not taken.
 *
 * @example guessable('1234567890', { shop: 'Kettle Row', name: 'Hana', signIn: 'hana' }) // 'Keys in a row are guessed first. A few words make a good one.'
 */
export function guessable(password: string, of: PasswordOf): string | null {
  const plain = bare(password)
  if (FREQUENT.has(plain) || FREQUENT.has(password.toLowerCase()))
    return 'This one is on every list of guesses. A few words make a good one.'
  if (new Set(password.toLowerCase()).size <= 2)
    return 'One or two characters over and over are guessed first. A few words make a good one.'
  if (plain.length >= LEAST_RUN && RUNS.some((run) => isAlong(run, plain)))
    return 'Keys in a row are guessed first. A few words make a good one.'
  const known = [of.shop, of.name, of.signIn].map(bare).filter((word) => word !== '')
  if (known.some((word) => isBarely(plain, word))) return 'The shop’s name or their own is guessed first. Take other words.'
  return null
}

/** Fewer characters in a row happen in any text. */
const LEAST_RUN = 5

function bare(text: string): string {
  return text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '')
}

function isAlong(run: string, plain: string): boolean {
  const backwards = [...run].reverse().join('')
  return run.includes(plain) || backwards.includes(plain)
}

/** The word itself, once or over and over, with nothing but figures around it. */
function isBarely(plain: string, word: string): boolean {
  return plain.includes(word) && /^\d*$/.test(plain.replaceAll(word, ''))
}
