import { z } from 'zod'
import { COUNT_MOST, HOURS, LIST_MOST } from '#core/limits.ts'
import { answeredNumber, confidence, interval, method, within } from './sum-figures.ts'

function crankNumber(what: string) {
  return z
    .number()
    .gt(0, 'More than 0.')
    .max(COUNT_MOST, `No more than ${COUNT_MOST}.`)
    .describe(`${what}, a count, more than 0, at most ${COUNT_MOST}; need not be whole`)
}

export const learningIn = z
  .strictObject({
    points: z
      .array(z.strictObject({ n: crankNumber('Which crank it was'), hours: within(HOURS, 'Hours it took') }))
      .max(LIST_MOST)
      .describe(`Cranks and their hours, three or more at two or more different n; at most ${LIST_MOST}`),
    confidence,
    targetHours: within(HOURS, 'Hours aimed at').optional(),
    predictAt: z
      .array(crankNumber('A crank to foretell'))
      .max(LIST_MOST)
      .optional()
      .describe(`Cranks to foretell, a count each; at most ${LIST_MOST}`),
  })
  .describe('Hours of a hand’s cranks in order')

const highHours = answeredNumber('High end, hours; absent where it lies beyond every number').optional()

export const learningOut = z
  .strictObject({
    power: z
      .strictObject({
        firstHours: answeredNumber('Where the line stands at n = 1, hours'),
        exponent: answeredNumber('Exponent of n, no unit; less than 0 when the hours fall'),
        rate: answeredNumber('What a doubling of n leaves of the hours, 2 to the exponent, no unit'),
        rSquared: answeredNumber(
          'Share of the scatter of ln hours that the line explains, no unit; absent when all hours are the same',
        ).optional(),
        residualSd: answeredNumber('Scatter about the line in natural logarithms of hours, n − 2 degrees of freedom'),
        firstHoursInterval: z
          .strictObject({ low: answeredNumber('Low end, hours'), high: highHours })
          .describe('Confidence interval, hours'),
        exponentStandardError: answeredNumber('Standard error of the exponent, no unit'),
        exponentInterval: interval('no unit'),
      })
      .describe('Power law of the unit times: hours = firstHours × n to the exponent; hours'),
    predictions: z
      .array(
        z.strictObject({
          n: answeredNumber('The crank foretold, a count'),
          hours: answeredNumber('Hours on the line'),
          low: answeredNumber('Low end of the interval for one new crank, hours'),
          high: highHours,
        }),
      )
      .describe('Hours foretold for each n of predictAt'),
    reachesTarget: z
      .strictObject({
        n: answeredNumber('Where the line meets the target, a count'),
        low: answeredNumber('Where the nearer edge of the confidence band meets it, a count; absent where it never does').optional(),
        high: answeredNumber('Where the farther edge of the confidence band meets it, a count; absent where it never does').optional(),
      })
      .nullable()
      .optional()
      .describe('Crank at which the line meets targetHours, a count; null when the exponent’s interval reaches 0'),
    method,
  })
  .describe('The learning line, hours')
