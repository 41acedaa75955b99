import type { PracticeLine } from '#contract/practice.ts'
import type { PracticeMove } from '#core/practice-move.ts'
import { figure } from '#web/lib/format.ts'

export const LEVEL_WORDS: Readonly<Record<PracticeLine['level'], string>> = {
  one: 'one fault',
  two: 'swing and opening',
  four: 'all four faults',
  'perhaps-none': 'perhaps beyond a hand',
}

/** What may be wrong, for whoever chooses. */
export const LEVEL_SAYS: Readonly<Record<PracticeLine['level'], string>> = {
  one: 'A swing, or webs that are not parallel. Always on V-blocks.',
  two: 'Both at once. It may lie between centres, where the dials read the other way round.',
  four: 'Throw and cock besides, little enough that a hand can bring it in.',
  'perhaps-none': 'All four, and often more throw or cock than any hand can cure. Say so when it is so.',
}

export const CALL_WORDS: Readonly<Record<NonNullable<PracticeLine['called']>, string>> = {
  true: 'called true',
  'no-hand': 'called beyond a hand',
  left: 'left',
}

export const HELD_WORDS = { 'v-blocks-bare': 'V-blocks, bare seats', centres: 'between centres' } as const

/** `3` for 90 degrees: the mark as on a clock. */
export function hourOf(atDeg: number): string {
  const hour = Math.round(atDeg / 30) % 12
  return String(hour === 0 ? 12 : hour)
}

/** `struck the right web at 3, firm`; `wedged, a little` */
export function moveDone(move: PracticeMove): string {
  if (move.action === 'strike') return `struck the ${move.half} web at ${hourOf(move.atDeg)}, ${move.how}`
  const much = { little: 'a little', more: 'more', much: 'much' }[move.how]
  return `${move.action === 'squeeze' ? 'squeezed' : 'wedged'}, ${much}`
}

export function dialText(mm: number): string {
  return figure(mm, 3)
}
