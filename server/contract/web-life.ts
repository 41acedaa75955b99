import { z } from 'zod'
import { WEB_LIFE_BASES } from '#core/web-life.ts'
import { joint } from './crank-build.ts'
import { id, instant } from './primitives.ts'
import { method } from './sum-figures.ts'

const left = z.strictObject({
  low: z.int().describe('More pressings with the wear at its worst'),
  high: z.int().optional().describe('More pressings with the wear at its best; absent where it may wear no more'),
})

const webFit = z.strictObject({
  jobId: id,
  tag: z.string().describe('Tag of the job'),
  at: instant,
  pressings: z.int().describe('How often this web had been pressed together before this fit'),
  interferenceMm: z.number().describe('Fit of the pin of that job, mm on diameter'),
  pinOf: z.enum(['kit', 'old']).describe('Whose pin: the kit’s, or the one that came out'),
  galling: z.enum(['none', 'light', 'heavy']).optional().describe('How the bore looked when it was last parted before'),
})

const web = z
  .strictObject({
    fits: z.array(webFit).describe('One a pressing, oldest first'),
    renewedAt: instant.optional().describe('Since when it is another web, or another bore'),
    basis: z
      .enum(WEB_LIFE_BASES)
      .describe(
        'line: a straight line through three fits or more; working-figures: under three, common practice from memory; nothing: no fit is known',
      ),
    slopeMm: z.number().optional().describe('What one pressing changes, mm; less than 0 is lost'),
    slopeStandardErrorMm: z.number().optional().describe('Give or take of that, one standard error, mm'),
    untilShopFloor: left.optional().describe('Pressings left until the fit is under the floor of the shop'),
    untilScrapFloor: left.optional().describe('Pressings left until the web is scrap'),
    method,
  })
  .describe('One web')

export const webLifeQuery = z.strictObject({
  joint: joint.optional().describe('Which throw of a crank with several; the first unless said'),
})

export const webLife = z.strictObject({
  crankId: id,
  joint: joint.optional(),
  joints: z.array(joint).optional().describe('The throws that can be asked for, of a crank with several'),
  engine: z.string().describe('Maker and model code'),
  engineId: id,
  engineNumber: z.string().optional().describe('Engine number'),
  marks: z.string().optional().describe('Marks on the crank'),
  welded: z.boolean().describe('The pin was welded'),
  pressedBefore: z.int().describe('Pressings before it first came here; 1 by the maker'),
  shopFloorMm: z.number().optional().describe('Floor of the shop for this engine, mm on diameter'),
  scrapFloorMm: z.number().optional().describe('Scrap floor, mm on diameter; absent while neither pin Ø nor bore is known'),
  left: web,
  right: web,
})
export type WebLife = z.infer<typeof webLife>
export type WebOfLife = WebLife['left']
