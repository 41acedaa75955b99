import type { WebOfLife } from '#contract/web-life.ts'
import { PRESSINGS_MOST } from '#core/web-life.ts'
import { counted, mm } from '#web/lib/format.ts'

const STEP_MM = 0.001

type Left = NonNullable<WebOfLife['untilScrapFloor']>

/** `4 to 9 more pressings` */
export function leftWords({ low, high }: Left): string {
  if (low >= PRESSINGS_MOST) return `${PRESSINGS_MOST} more pressings and over`
  if (high === undefined) return `${counted(low, 'more pressing')} at least`
  if (low === high) return low === 0 ? 'no more pressings' : counted(low, 'more pressing')
  return `${low} to ${counted(high, 'more pressing')}`
}

/** What the forecast rests on, with how many fits. */
export function basisWords({ basis, fits, slopeMm, slopeStandardErrorMm }: WebOfLife): string {
  if (basis === 'nothing') return 'No fit of this web is in the book yet.'
  if (basis === 'working-figures')
    return `${counted(fits.length, 'fit')} in the book: too few for a trend. By working figures, from memory: 0.002 to 0.004 for the first re-press, 0.001 to 0.002 for a later one; a galled one costs 0.01, or the web.`
  const slope = slopeMm ?? 0
  const doubt =
    slopeStandardErrorMm === undefined || slopeStandardErrorMm < STEP_MM / 10
      ? ''
      : `, give or take ${mm(slopeStandardErrorMm, STEP_MM / 10)}`
  const through = `A straight line through ${counted(fits.length, 'fit')}`
  if (slope >= -STEP_MM / 1000) return `${through} shows no loss; it foretells no end.`
  return `${through}: each pressing costs ${mm(-slope, STEP_MM / 10)}${doubt}. Every fit is that of the pin of its own job.`
}
