import { COVERAGE, type Expand } from '#core/bench/end-worth.ts'
import { doubt } from '#core/doubt.ts'

/**
 * Puts the parts of a budget together by the doubt sum: k = 2 where all parts are known as well as can be, else Student's t
 * for the same coverage.
 *
 * @example byDoubt([{ name: 'repeat', shape: 'normal', value: 0.004, degreesOfFreedom: 2 }]).k.toFixed(2) // '4.53'
 *
 * Refuses (RangeError) what the doubt sum refuses, parts that are all nothing among them. Kept apart from the sums of the
 * bench, whose screens are not to load the distributions. Source: as doubt; the k of 2 degrees of freedom: GUM, table G.2.
 */
export const byDoubt: Expand = (parts) => {
  const isKnown = parts.every((part) => part.degreesOfFreedom === undefined)
  const sum = doubt({ parts, ...(isKnown ? { k: 2 } : { coverage: COVERAGE }) })
  if (!sum.ok) throw new RangeError(`byDoubt needs parts of a budget: ${sum.detail}`)
  const { expanded, k, degreesOfFreedom } = sum.value
  return { giveOrTakeMm: expanded, k, degreesOfFreedom }
}
