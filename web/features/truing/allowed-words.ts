import type { RunoutSetup } from '#contract/measurements.ts'
import type { RunoutFigures } from '#contract/runout-figures.ts'
import { limitWords } from '#core/bench/limit-words.ts'
import type { Joint } from '#core/crank-build.ts'
import { endsToRead } from '#web/features/truing/marks-to-read.ts'
import { tirText } from '#web/features/truing/tir-text.ts'

type Places = Pick<RunoutSetup, 'held' | 'dialLeftMm' | 'dialRightMm'>

/**
 * What is allowed where the dials stand, each limit beside where it was given:
 * `allowed left 0.02 at 45, here 0.0311 at 70; right here 0.02`. A half on its own shafts has no limit, and is told what to aim for.
 */
export function allowedWords(
  { limits }: Pick<RunoutFigures, 'limits'>,
  setup: Places,
  { stepMm, joint }: { stepMm: number; joint: Joint | undefined },
): string {
  const text = (mm: number) => limitText(mm, stepMm)
  const ends = endsToRead(setup.held)
  const said = ends.flatMap((side) => {
    const limitMm = side === 'left' ? limits.leftMm : limits.rightMm
    const dialMm = side === 'left' ? setup.dialLeftMm : setup.dialRightMm
    return limitMm === undefined ? [] : [{ side, says: limitWords(limits.given?.[side], { limitMm, dialMm }, text) }]
  })
  const [first] = said
  if (first === undefined && joint !== undefined)
    return 'no limit for a half on its own shafts: as near nothing as it will go; the whole is judged by its own limits'
  if (first === undefined) return 'our limit is for another place or another way of holding: not to be compared'
  if (said.length === ends.length && said.every((end) => end.says === first.says)) return `allowed ${first.says}`
  return `allowed ${said.map((end) => `${end.side} ${end.says}`).join('; ')}`
}

/** A limit keeps the digits that it has, and at least those of the dial. */
function limitText(mm: number, stepMm: number): string {
  const plain = String(Number(mm.toFixed(4)))
  const byDial = tirText(mm, stepMm)
  return Number(byDial) === Number(plain) ? byDial : plain
}
