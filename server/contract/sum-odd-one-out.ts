import { z } from 'zod'
import { NUMBER } from '#core/limits.ts'
import { answeredNumber, listOfNumbers, method, moreThanNothing, places, within } from './sum-figures.ts'

export const oddOneOutIn = z
  .strictObject({
    values: listOfNumbers('Values to compare, in their unit', 'A value, in its unit'),
    candidate: within(NUMBER, 'One more value, judged by the others, in their unit').optional(),
    threshold: moreThanNothing('Score above which a value is flagged, no unit; 3.5 unless said').optional(),
  })
  .describe('Values of which one may be odd, in their unit')

export const oddOneOutOut = z
  .strictObject({
    median: answeredNumber('Middle value, in the unit of the values'),
    mad: answeredNumber('Median distance from the median, in the unit of the values'),
    scores: z.array(answeredNumber('A modified z-score, no unit')).describe('One for each value, no unit'),
    flagged: places.describe('Values whose score is over the threshold, no unit'),
    candidateScore: answeredNumber('Score of the candidate, no unit').optional(),
    method,
  })
  .describe('Modified z-scores, no unit')
