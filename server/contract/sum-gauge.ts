import { z } from 'zod'
import { LIST_MOST, NUMBER } from '#core/limits.ts'
import { answeredNumber, method, moreThanNothing, named, within } from './sum-figures.ts'

const reading = z
  .strictObject({ part: named('What was read'), person: named('Who read it'), value: within(NUMBER, 'The reading, in its unit') })
  .describe('One reading, in its unit')

export const gaugeIn = z
  .strictObject({
    readings: z
      .array(reading)
      .max(LIST_MOST, `At most ${LIST_MOST}.`)
      .describe(`Readings in one unit, equally many, two or more, for each of two or more parts and people; at most ${LIST_MOST}`),
    tolerance: moreThanNothing('Width of the window to be judged, in the unit of the readings').optional(),
  })
  .describe('A gauge study, in the unit of its readings')

export const gaugeOut = z
  .strictObject({
    repeatability: answeredNumber('Same person, same part: standard deviation in the unit of the readings'),
    reproducibility: answeredNumber('From person to person: standard deviation in the unit of the readings'),
    interaction: answeredNumber('Person by part: standard deviation in the unit of the readings; 0 where pooled, as method says'),
    gauge: answeredNumber('Those three together: standard deviation in the unit of the readings'),
    part: answeredNumber('From part to part: standard deviation in the unit of the readings'),
    total: answeredNumber('Gauge and part together: standard deviation in the unit of the readings'),
    percentOfTotal: answeredNumber('100 × gauge/total, per cent, no other unit'),
    percentOfTolerance: answeredNumber('100 × 6 gauge/tolerance, per cent, no other unit').optional(),
    distinctSteps: answeredNumber('How many steps of part the gauge tells apart, a count; absent where it has no scatter').optional(),
    method,
  })
  .describe('What the gauge and its people add to the scatter, in the unit of the readings')
