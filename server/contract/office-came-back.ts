/** What came back, per hundred, and how long they run. Owner only. */
import { z } from 'zod'
import { COMEBACK_CAUSES } from '#core/comeback.ts'
import { COMEBACK_KEYS } from '#core/office-rules.ts'
import { count, figure, hours, wilson, window, windowQuery } from './office-parts.ts'
import { id } from './primitives.ts'

export const comebackQuery = z.strictObject({
  ...windowQuery,
  by: z.enum(COMEBACK_KEYS).optional().describe('Rows by cause, kit lot, engine or person; by cause unless said'),
})
const cameBack = {
  n: count('Cranks that went home'),
  back: count('Of these, came back'),
  perHundred: z.number().min(0).max(100).optional().describe('100 × back / n; absent where n is 0'),
  wilson: wilson.optional().describe('95 % interval of back / n by Wilson, as shares of 1; absent where n is 0'),
  young: count('Of the n, went home less than 12 months ago: their time is not over'),
  cranks: z.string().nullable().describe('Query of GET /api/office/cranks for the n'),
  cranksBack: z.string().nullable().describe('Query of GET /api/office/cranks for those that came back'),
}
export const officeComebacks = z.strictObject({
  ...figure,
  ...window,
  by: z.enum(COMEBACK_KEYS).describe('What the rows are by'),
  all: z.strictObject(cameBack).describe('All cranks that went home in the window'),
  rows: z
    .array(
      z.strictObject({
        key: z.string().nullable().describe('Id of the engine, person or lot, name of the cause; null: not known, or no kit named'),
        name: z.string().describe('In words'),
        ...cameBack,
        lot: z
          .strictObject({
            others: z
              .strictObject({ n: cameBack.n, back: cameBack.back, perHundred: cameBack.perHundred, wilson: cameBack.wilson })
              .describe('All other kits'),
            p: z.number().min(0).max(1).describe('Chance of a difference so great between lots that are alike (Fisher, two-sided)'),
            pHolm: z
              .number()
              .min(0)
              .max(1)
              .describe(
                'The same, raised for as many lots as could show anything with their few cranks (Holm, Tarone); 1 for a lot that could not',
              ),
            notChance: z.boolean().describe('It comes back more often than other kits, and pHolm is under 0.05'),
            stillOut: count('Its cranks that are out running with it now, whenever they went home'),
            cranksStillOut: z.string().describe('Query of GET /api/office/cranks for those'),
            says: z.string().optional().describe('In words, where it is not chance'),
          })
          .optional()
          .describe('This lot against all other kits (by=lot only, not on the row without a kit)'),
      }),
    )
    .describe('Most back first, at most 60; the CSV has all'),
  left: count('Rows left out here'),
  lotRule: z.string().optional().describe('When a lot is called not chance (by=lot only)'),
  lotsLookedAt: count('Lots compared').optional(),
})
export type OfficeComebacks = z.infer<typeof officeComebacks>
export const comebackCause = z.enum(COMEBACK_CAUSES).describe('Cause as decided after looking')

export const runningQuery = z.strictObject({
  lot: id.optional().describe('This lot against all other kits; one line for all kits unless said'),
})
export const officeRunning = z.strictObject({
  ...figure,
  lot: z
    .strictObject({ id, name: z.string().describe('Maker, part and lot') })
    .optional()
    .describe('The lot asked for'),
  curves: z
    .array(
      z.strictObject({
        group: z.enum(['all', 'lot', 'others']).describe('All kits, this lot, or all other kits'),
        name: z.string().describe('In words'),
        n: count('Cranks on the curve, without those that came back at hours nobody knows'),
        back: count('Of these, came back at hours that are known'),
        noHours: count('Came back at hours that nobody knows, left out'),
        neverHeardOf: count('Not back and never heard of: they count as running at 0 h'),
        steps: z
          .array(
            z.strictObject({
              hours: hours('Hours ridden'),
              atRisk: count('Heard of at these hours or later'),
              back: count('Came back at these hours'),
              running: z.number().min(0).max(1).describe('Share still running from here on'),
              low: z
                .number()
                .min(0)
                .max(1)
                .optional()
                .describe('Lower end of its 95 % interval; both ends absent where nothing runs any more'),
              high: z.number().min(0).max(1).optional().describe('Upper end of its 95 % interval'),
            }),
          )
          .describe('One step for each hour at which some came back (Kaplan–Meier); the share is 1 before the first'),
        heard: z
          .array(z.strictObject({ hours: hours('Hours ridden'), count: count('So many') }))
          .describe('When the others were last heard of'),
        medianHours: hours('Half still run at').optional(),
        cranks: z.string().describe('Query of GET /api/office/cranks for these'),
      }),
    )
    .describe('The lot first, then all other kits; or one curve for all kits'),
  logRank: z
    .strictObject({
      chiSquare: z.number().min(0).describe('Log-rank chi-square, one degree of freedom'),
      p: z.number().min(0).max(1).describe('Chance of a difference so great between lots that are alike'),
    })
    .optional()
    .describe('Whether the two curves differ; absent without a lot or where none came back'),
})
export type OfficeRunning = z.infer<typeof officeRunning>
