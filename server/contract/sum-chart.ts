import { z } from 'zod'
import { NUMBER } from '#core/limits.ts'
import { answeredNumber, listOfNumbers, method, places, within } from './sum-figures.ts'

export const chartIn = z
  .strictObject({
    values: listOfNumbers('Single values in the order in which they came, in their unit', 'A value, in its unit'),
    upperLimit: within(NUMBER, 'What no value should exceed, in the unit of the values').optional(),
  })
  .describe('A run of single values, in their unit')

export const chartOut = z
  .strictObject({
    centre: answeredNumber('Mean, in the unit of the values'),
    upper: answeredNumber('Centre and three sigma, in the unit of the values'),
    lower: answeredNumber('Centre less three sigma, in the unit of the values'),
    averageMovingRange: answeredNumber('Mean step from one value to the next, in the unit of the values'),
    sigma: answeredNumber('Average moving range by 1.128, in the unit of the values'),
    outside: places.describe('Values above upper or below lower, no unit'),
    capability: answeredNumber('(upperLimit − centre)/3 sigma, no unit; absent without a limit or without scatter').optional(),
    method,
  })
  .describe('Chart of individuals, in the unit of the values')
