import { PRACTICE_BLOWS, PRACTICE_PRESSES } from '#core/practice-move.ts'
import { fields, figure, flag, oneOf, optional, read, text } from '#web/lib/shape.ts'

export const ACTS = { left: 'strike the left web', right: 'strike the right web', squeeze: 'squeeze at 6', wedge: 'wedge at 6' } as const
export type ActName = keyof typeof ACTS
export const ACT_NAMES = Object.keys(ACTS) as ActName[]

/** The next move as far as it is said. */
export interface MoveGiven {
  act?: ActName | undefined
  atDeg?: string | undefined
  blow?: (typeof PRACTICE_BLOWS)[number] | undefined
  press?: (typeof PRACTICE_PRESSES)[number] | undefined
  left: string
  right: string
}

/** How far the hand is with one reading of a practice crank, so that a reload or another page loses nothing. */
export interface PracticeDraft {
  runId: string
  /** Which reading, from 0. */
  n: number
  /** The mark under the dials, in the order of reading. */
  at: number
  isRead: boolean
  given: MoveGiven
}

const practiceDraft = fields<PracticeDraft>({
  runId: text,
  n: figure,
  at: figure,
  isRead: flag,
  given: fields<MoveGiven>({
    act: optional(oneOf(...ACT_NAMES)),
    atDeg: optional(text),
    blow: optional(oneOf(...PRACTICE_BLOWS)),
    press: optional(oneOf(...PRACTICE_PRESSES)),
    left: text,
    right: text,
  }),
})

export function readPracticeDraft(raw: unknown): PracticeDraft | undefined {
  return read(practiceDraft, raw)
}

export function startReading(runId: string, n: number): PracticeDraft {
  return { runId, n, at: 0, isRead: false, given: { left: '', right: '' } }
}
