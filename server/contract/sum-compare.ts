import { z } from 'zod'
import { answeredNumber, count, method } from './sum-figures.ts'

function side(which: string) {
  return z
    .strictObject({ failures: count('How many failed'), total: count('Of how many') })
    .refine(({ failures, total }) => total < 0 || failures <= total, { path: ['failures'], message: 'No more than total.' })
    .describe(`Side ${which}, a count each`)
}

export const compareIn = z.strictObject({ a: side('a'), b: side('b') }).describe('Failures on two sides, counts')

export const compareOut = z
  .strictObject({
    p: answeredNumber('How likely a table no likelier than this one is if both sides are alike, no unit'),
    oddsRatio: answeredNumber('Odds of a failure on side a over those on side b, no unit; absent when a cell that divides is 0').optional(),
    method,
  })
  .describe('Fisher’s exact test, two-sided, no unit')
