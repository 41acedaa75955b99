import { z } from 'zod'
import { DOUBT_RULES, DOUBT_SHAPES, DOUBT_VERDICTS } from '#core/doubt.ts'
import { AMOUNT, CONFIDENCE, DEGREES_OF_FREEDOM, LIST_MOST, NUMBER } from '#core/limits.ts'
import { line } from './primitives.ts'
import { answeredNumber, method, moreThanNothing, within } from './sum-figures.ts'

const part = z
  .strictObject({
    name: line().describe('What makes the reading doubtful, no unit'),
    shape: z.enum(DOUBT_SHAPES).describe('How it is spread, no unit'),
    value: within(AMOUNT, 'Standard deviation of a normal part, half-width of the others, in the unit of the reading over sensitivity'),
    degreesOfFreedom: within(DEGREES_OF_FREEDOM, 'Degrees of freedom of the value, a count; infinite unless said').optional(),
    sensitivity: within(NUMBER, 'How far the reading moves for one unit of the part, no unit of its own; 1 unless said').optional(),
  })
  .describe('One part of the doubt, in the unit of the reading')

export const doubtIn = z
  .strictObject({
    parts: z
      .array(part)
      .max(LIST_MOST, `At most ${LIST_MOST}.`)
      .describe(`Parts of the doubt, in the unit of the reading; at most ${LIST_MOST}`),
    coverage: within(
      CONFIDENCE,
      'Share of readings within the expanded doubt, no unit; 0.9545 unless said, not looked at with k',
    ).optional(),
    k: moreThanNothing('Coverage factor, no unit; worked out from coverage unless said').optional(),
    measured: within(NUMBER, 'What was read, in its unit').optional(),
    limit: within(NUMBER, 'What it may be at most, in the unit of the reading').optional(),
    rule: z
      .enum(DOUBT_RULES)
      .optional()
      .describe('How measured is judged, no unit; full-guard unless said: within only with the whole doubt below the limit'),
  })
  .describe('Parts of the doubt of one reading, all in its unit')

export const doubtOut = z
  .strictObject({
    standard: answeredNumber('Standard deviation of the reading, in its unit'),
    degreesOfFreedom: answeredNumber('Effective degrees of freedom, a count, not rounded; null when infinite').nullable(),
    k: answeredNumber('Coverage factor, no unit'),
    expanded: answeredNumber('k times standard, in the unit of the reading'),
    verdict: z.enum(DOUBT_VERDICTS).optional().describe('Where measured and limit are given, no unit'),
    parts: z
      .array(
        z.strictObject({
          name: z.string().describe('As sent, no unit'),
          standard: answeredNumber('Its standard deviation in the reading, in the unit of the reading'),
          share: answeredNumber('Its share of the sum of squares, no unit; they add up to 1'),
        }),
      )
      .describe('The parts in their order, in the unit of the reading'),
    method,
  })
  .describe('What the reading is worth, in its unit')
