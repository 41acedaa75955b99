import { z } from 'zod'
import { FIT_STOP_CHOICES } from '#core/fit-stop.ts'
import { joint } from './crank-build.ts'
import { instant, line, recorded } from './primitives.ts'

const side = z.enum(['left', 'right']).describe('Which web')
const choice = z
  .enum(FIT_STOP_CHOICES)
  .describe(
    'matched-half: a matched used half or a new web; oversize-pin: a pin made to order; bore-and-sleeve; weld: the last resort, and no way past the scrap floor; give-back: given back unbuilt',
  )

export const fitStopNew = z.strictObject({
  ...recorded,
  side,
  joint: joint.optional(),
  choice,
  because: line(300).describe('Why this way out'),
})
export type FitStopNew = z.infer<typeof fitStopNew>

export const fitStop = z
  .strictObject({
    side,
    joint: joint.optional(),
    choice,
    says: z.string().describe('The way out, in words'),
    because: z.string().describe('Why'),
    by: z.string().describe('Who decided'),
    at: instant,
  })
  .describe('What the owner decided on a web that is too loose for its pin')
export type FitStop = z.infer<typeof fitStop>
