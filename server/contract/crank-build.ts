import { z } from 'zod'
import { buildFaults, CENTRES, JOINTS, THROWS_MOST } from '#core/crank-build.ts'
import { line } from './primitives.ts'

export const joint = z
  .enum(JOINTS)
  .describe(
    'Which joint of a crank with several throws, from the left: throw-1 is the pin of the first throw with its two webs, centre-1 the shaft between throws 1 and 2; absent for the whole crank, and for a crank with one throw',
  )

export const trappedPart = z.strictObject({
  what: line(80).describe('What it is, such as centre bearing'),
  between: line(80).describe('Between which webs it sits'),
})

/** How a crank is put together. A sheet without one is of a crank with one throw and one rod. */
export const engineBuild = z
  .strictObject({
    throws: z.int().min(1).max(THROWS_MOST).describe('Throws of the crank'),
    rodsOnAPin: z.int().min(1).max(2).describe('Rods on one pin; 2 for a V-twin with a common pin'),
    phaseDeg: z
      .array(z.number().min(0, 'From 0° to under 360°.').lt(360, 'From 0° to under 360°.'))
      .min(1)
      .max(THROWS_MOST)
      .describe('Where each throw stands from throw 1, degrees clockwise seen from the right-hand end; the first is 0'),
    phaseLimitDeg: z
      .number()
      .min(0.01, 'From 0.01° to 10°.')
      .max(10, 'From 0.01° to 10°.')
      .optional()
      .describe('By how much such an angle may be out either way, degrees; needed with several throws'),
    centreLimitMm: z
      .number()
      .min(0.001, 'From 0.001 to 1 mm.')
      .max(1, 'From 0.001 to 1 mm.')
      .optional()
      .describe('Full swing of a dial allowed at the middle of the crank, mm; needed with several throws'),
    centre: z
      .enum(CENTRES)
      .optional()
      .describe('The middle of the crank: a shaft pressed into the webs beside it, or of one piece with them; needed with several throws'),
    trapped: z.array(trappedPart).max(20).describe('What sits between webs and has to be in before they are pressed together'),
  })
  .superRefine((build, context) => {
    for (const { path, detail } of buildFaults(build)) context.addIssue({ code: 'custom', path: [...path], message: detail })
  })
export type EngineBuild = z.infer<typeof engineBuild>
