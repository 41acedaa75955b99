import type { Measurement } from '#contract/measurements.ts'
import { MARKS_RUN, type MarksRun } from '#core/bench/marks-run.ts'
import { type Kept, kept } from '#web/lib/kept.ts'

/** Which way the marks run, as it was last said on this tablet: its habit, and the answer for the set that was then the last. */
export interface MarksSaid {
  run: MarksRun
  /** The set that stood last when it was said; empty where there was none. */
  setId: string
}

export const marksSaid: Kept<MarksSaid> = kept<MarksSaid>(
  'throwbook.marks',
  { run: 'clockwise', setId: '' },
  (text) => {
    const [run, setId = ''] = text.split(' ')
    const known = MARKS_RUN.find((one) => one === run)
    return known && { run: known, setId }
  },
  ({ run, setId }) => `${run} ${setId}`,
)

type Last = Pick<Measurement, 'id' | 'setup'>

/** How the marks of a set ran; one read before that was asked was counted clockwise. */
export function runOf(setup: { marksRun?: MarksRun | undefined } | undefined): MarksRun {
  return setup?.marksRun ?? 'clockwise'
}

/** How the marks run for the next set: as was said of the last one, else as that one was read, else as on this tablet before. */
export function runToRead(said: MarksSaid, last: Last | undefined): MarksRun {
  if (last !== undefined && said.setId === last.id) return said.run
  return last?.setup?.marksRun ?? said.run
}

/** Words of the sum by the marks of this rim: where they run the other way 3 and 9 change places. */
export function byMarks(words: string, run: MarksRun): string {
  if (run === 'clockwise') return words
  return words.replace(/\bmark([ \u00a0])([39])\b/g, (_all, gap: string, mark: string) => `mark${gap}${mark === '3' ? '9' : '3'}`)
}
