/** What earns. Owner only. */
import { z } from 'zod'
import { count, figure, hours, window, windowQuery } from './office-parts.ts'
import { id } from './primitives.ts'

export const earningQuery = z.strictObject({ ...windowQuery })
const earns = {
  n: count('Rebuilt cranks with bench hours and an agreed price'),
  meanHours: hours('Mean bench hours a crank').optional(),
  meanPriceMinor: z.number().min(0).optional().describe('Mean agreed price a crank without tax, minor units'),
  perHourMinor: z.number().min(0).optional().describe('Agreed price without tax for each bench hour, minor units'),
  cranks: figure.cranks,
}
export const officeEarning = z.strictObject({
  ...figure,
  ...window,
  all: z.strictObject(earns).describe('All engines'),
  rows: z
    .array(
      z.strictObject({
        id,
        name: z.string().describe('Maker and code'),
        ...earns,
        againstShop: z.number().describe('perHourMinor of this engine / that of all, 1 is the same'),
      }),
    )
    .describe('By engine, the least for an hour first'),
})
export type OfficeEarning = z.infer<typeof officeEarning>
