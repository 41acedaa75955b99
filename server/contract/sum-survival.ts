import { z } from 'zod'
import { AMOUNT, SURVIVAL_GROUPS_MOST, SURVIVAL_ITEMS_MOST } from '#core/limits.ts'
import { INTERVAL_KINDS } from '#core/survival-steps.ts'
import { answeredNumber, confidence, method, named, within } from './sum-figures.ts'

const item = z
  .strictObject({
    at: within(AMOUNT, 'Use until it failed or was last heard of, in any one unit; a failure comes after 0'),
    failed: z.boolean().describe('Whether it failed there, no unit; false: it still ran'),
    group: named('Group it belongs to')
      .optional()
      .describe('Group, a name or a number that stands for its text, no unit; for all items or for none'),
  })
  .describe('One life, in the unit of use')

export const survivalIn = z
  .strictObject({
    items: z
      .array(item)
      .max(SURVIVAL_ITEMS_MOST, `At most ${SURVIVAL_ITEMS_MOST}.`)
      .describe(`Lives in one unit of use; at most ${SURVIVAL_ITEMS_MOST}, in at most ${SURVIVAL_GROUPS_MOST} groups`),
    confidence,
    interval: z.enum(INTERVAL_KINDS).optional().describe('How intervals are laid, no unit; log-log unless said'),
  })
  .superRefine(({ items }, context) => {
    const grouped = items[0]?.group !== undefined
    const groups = new Set<string>()
    for (const [index, { at, failed, group }] of items.entries()) {
      const fault = (name: string, message: string) => context.addIssue({ code: 'custom', path: ['items', index, name], message })
      if (failed && at === 0) fault('at', 'More than 0 for a failure.')
      if ((group !== undefined) !== grouped) fault('group', 'A group for all items or for none.')
      groups.add(String(group))
    }
    if (groups.size > SURVIVAL_GROUPS_MOST)
      context.addIssue({ code: 'custom', path: ['items'], message: `At most ${SURVIVAL_GROUPS_MOST} groups.` })
  })
  .describe('Lives, some of them still going on, in one unit of use')

const step = z.strictObject({
  at: answeredNumber('Time of the failures, in the unit of use'),
  atRisk: answeredNumber('How many had come so far, a count'),
  failures: answeredNumber('How many failed then, a count'),
  survival: answeredNumber('Share that outlives it, no unit'),
  low: answeredNumber('Low end of the interval, no unit; absent where survival is 0').optional(),
  high: answeredNumber('High end of the interval, no unit; absent where survival is 0').optional(),
})

export const survivalOut = z
  .strictObject({
    groups: z
      .array(
        z.strictObject({
          group: z.string().describe('Name of the group, no unit; all where none is given'),
          count: answeredNumber('How many lives, a count'),
          failures: answeredNumber('How many failed, a count'),
          steps: z.array(step).describe('Kaplan–Meier curve, one step for each time with a failure, in the unit of use'),
          median: answeredNumber('When half have failed, in the unit of use; absent where more than half still run').optional(),
          weibull: z
            .strictObject({
              shape: answeredNumber('Shape, no unit'),
              scale: answeredNumber('Use at which 63 % have failed, in the unit of use'),
              logLikelihood: answeredNumber('Natural logarithm of the likelihood, no unit'),
            })
            .optional()
            .describe('Weibull curve, scale in the unit of use; absent under two different failure times'),
        }),
      )
      .describe('Groups in the order in which they are named first, in the unit of use'),
    logRank: z
      .strictObject({
        chiSquare: answeredNumber('Log-rank statistic, no unit'),
        degreesOfFreedom: answeredNumber('Degrees of freedom, a count'),
        p: answeredNumber('How likely such a difference is if the groups last equally long, no unit'),
      })
      .optional()
      .describe(
        'Log-rank test of two or more groups, no unit; absent where fewer than two came as far as the first failure, or all failed at once',
      ),
    method,
  })
  .describe('How long they last, in the unit of use')
