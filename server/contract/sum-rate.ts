import { z } from 'zod'
import { AMOUNT } from '#core/limits.ts'
import { answeredNumber, confidence, count, interval, method, within } from './sum-figures.ts'

export const rateIn = z
  .strictObject({
    failures: count('How many failed'),
    total: count('Of how many, with no exposure').optional(),
    exposure: within(AMOUNT, 'Over how much use, in any unit, with no total').optional(),
    confidence,
  })
  .superRefine(({ failures, total, exposure }, context) => {
    const fault = (path: string, message: string) => context.addIssue({ code: 'custom', path: [path], message })
    if (total === undefined && exposure === undefined) fault('total', 'Give total, or exposure.')
    if (total !== undefined && exposure !== undefined) fault('exposure', 'Give either total or exposure, not both.')
    if (total !== undefined && total >= 0 && failures > total) fault('failures', 'No more than total.')
  })
  .describe('Failures among a total, or over an exposure; counts')

export const rateOut = z
  .strictObject({
    rate: answeredNumber('Failures by one of the total, no unit, or by one unit of exposure'),
    wilson: interval('no unit; Wilson').optional(),
    exact: interval('no unit or by one unit of exposure; Clopper–Pearson, or Poisson'),
    method,
  })
  .describe('How often it fails, no unit or by one unit of exposure')
