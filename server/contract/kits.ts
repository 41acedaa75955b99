import { z } from 'zod'
import { KIT_SIGNS } from '#core/limits.ts'
import { joint } from './crank-build.ts'
import { id, line, optionalLine, recorded } from './primitives.ts'

export const kitModelNew = z.strictObject({
  id: id.optional(),
  maker: line(KIT_SIGNS.maker).describe('Kit maker'),
  part: line(KIT_SIGNS.part).describe('Part number'),
  engineId: id.optional().describe('The engine it is for'),
})
export const kitModel = z.strictObject({
  id,
  maker: z.string().describe('Maker'),
  part: z.string().describe('Part number'),
  engineId: id.optional(),
  lots: z
    .array(z.strictObject({ id, lot: z.string().describe('Lot or batch'), fitted: z.int().describe('Cranks that have a kit of this lot') }))
    .describe('Its lots, by name'),
})
export const kitQuery = z.strictObject({ engineId: id.optional(), q: optionalLine(80).optional() })

/** Naming the kit of a job: model and lot, ours or theirs. A lot seen for the first time is added. */
export const kitNaming = z.strictObject({
  ...recorded,
  maker: line(KIT_SIGNS.maker).describe('Kit maker'),
  part: line(KIT_SIGNS.part).describe('Part number'),
  lot: line(KIT_SIGNS.lot).describe('Lot or batch, from the rod or the bag'),
  whose: z.enum(['ours', 'theirs']).describe('Whose kit'),
  joint: joint.optional().describe('The throw that it goes into; absent: every throw that has no kit of its own'),
})
export const kitOfJob = z.strictObject({
  maker: z.string().describe('Maker'),
  part: z.string().describe('Part number'),
  lot: z.string().describe('Lot or batch'),
  whose: z.enum(['ours', 'theirs']).describe('Whose kit'),
})
