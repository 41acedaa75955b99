import { type Kept, kept } from '#web/lib/kept.ts'
import type { Keyed } from '#web/lib/keyed.ts'

export const READ_BACK = ['voice', 'buzz'] as const
export type ReadBack = (typeof READ_BACK)[number]

/** How this tablet answers a figure that it took, beside showing it: by voice, by a short shake, both or neither. */
export const readBack: Kept<readonly ReadBack[]> = kept<readonly ReadBack[]>(
  'throwbook.read-back',
  [],
  (text) => READ_BACK.filter((one) => text.split(' ').includes(one)),
  (value) => value.join(' '),
)

/** A figure as it is said aloud: the sign in words, every digit of a width by itself, as it was keyed. */
export function spoken({ digits, negative, half }: Keyed, kind: 'dial' | 'tail'): string {
  if (kind === 'tail') return digits.split('').join(' ')
  const whole = Number(digits === '' ? '0' : digits)
  const size = half ? (whole === 0 ? 'a half' : `${whole} and a half`) : String(whole)
  return negative && (whole > 0 || half) ? `minus ${size}` : size
}

const TAKEN_MS = 30
const REFUSED_MS = [60, 60, 60]

/** A figure was taken. */
export function sayTaken(words: string): void {
  const ways = readBack.read()
  if (ways.includes('buzz')) shake(TAKEN_MS)
  if (!ways.includes('voice') || typeof speechSynthesis === 'undefined') return
  // The next figure does not wait for the last one to be said.
  speechSynthesis.cancel()
  const said = new SpeechSynthesisUtterance(words)
  said.lang = 'en'
  said.rate = 1.2
  speechSynthesis.speak(said)
}

/** The big key took nothing: no figure, or a second press of a shaking hand. */
export function sayRefused(): void {
  if (readBack.read().includes('buzz')) shake(REFUSED_MS)
}

function shake(pattern: number | number[]): void {
  if (typeof navigator.vibrate === 'function') navigator.vibrate(pattern)
}
