import { z } from 'zod'
import { engineBuild, joint } from './crank-build.ts'
import { fitStop } from './fit-stop.ts'
import { kitOfJob } from './kits.ts'
import { measurement } from './measurements.ts'
import { oursWidths } from './odd-readings.ts'
import { pressing, trappedSeen, weld } from './pressings.ts'
import { fitOut } from './sum-fit.ts'
import { widthOut } from './sum-width.ts'

const fitOfPin = z
  .strictObject({
    left: fitOut.optional(),
    right: fitOut.optional(),
    ofOldPin: z.boolean().describe('The pin measured is the one that came out, not the kit’s'),
    shopFloorMm: z.number().optional().describe('Floor of the shop, mm on diameter'),
    scrapFloorMm: z.number().optional().describe('Scrap floor, mm on diameter'),
  })
  .describe('Fit of the pin in each web, from the latest pin and bore readings')

/** Everything measured on a job and what it comes to, in one answer. */
export const bench = z.strictObject({
  measurements: z.array(measurement).describe('All sets, oldest first, struck-out ones too'),
  pressings: z.array(pressing).describe('All pressings, oldest first, struck-out ones too'),
  welds: z.array(weld).describe('Welds, oldest first'),
  kit: kitOfJob.optional().describe('The kit that is named for it now'),
  fit: fitOfPin.optional(),
  width: widthOut.optional().describe('The two windows, where webs, rod and washers are measured'),
  ours: oursWidths.optional().describe('Our own last widths of this engine; absent where there are none'),
  fitStops: z
    .array(fitStop)
    .optional()
    .describe('What the owner decided where a pin is too loose in a web, oldest first; absent where nothing was'),
  build: engineBuild.optional().describe('How the crank is put together, by the sheet of its engine; absent: one throw with one rod'),
  trapped: trappedSeen.optional().describe('The last look at the parts between the webs; absent until somebody looked'),
  joints: z
    .array(
      z.strictObject({
        joint,
        says: z.string().describe('The joint as it is said, such as Throw 2'),
        kit: kitOfJob.optional().describe('The kit that is in it, where it has one of its own'),
        fit: fitOfPin.optional(),
        width: widthOut.optional().describe('The two windows, where its webs, rod and washers are measured'),
      }),
    )
    .optional()
    .describe('What it comes to joint by joint, of a crank with several throws; the kit above is then the one for all of them'),
})
export type Bench = z.infer<typeof bench>
