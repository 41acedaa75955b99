import { z } from 'zod'
import { measurement, runoutFigures } from './measurements.ts'
import { id, instant, recorded } from './primitives.ts'
import { truingOut } from './sums.ts'

const action = z.enum(['strike', 'squeeze', 'wedge', 'part', 'leave']).describe('What was done')
const half = z.enum(['left', 'right']).describe('Which half took the blow')
const force = z.enum(['light', 'firm', 'hard']).describe('The blow as the hand names it')

/** A move, logged after it was made and before it is read again. */
export const moveNew = z.strictObject({
  ...recorded,
  beforeId: id.describe('The set of readings that led to it'),
  action,
  half: half.optional(),
  atDeg: z
    .number()
    .min(0)
    .lt(360)
    .optional()
    .describe('Rim mark that took the blow, degrees clockwise from the pin seen from the right-hand end'),
  force: force.optional(),
  asAdvised: z.boolean().describe('It was the move that the sum advised'),
})
export type MoveNew = z.infer<typeof moveNew>

const endTirs = z.strictObject({
  leftTirMm: z.number().describe('Full swing at the left, mm'),
  rightTirMm: z.number().describe('Full swing at the right, mm'),
})

export const move = z.strictObject({
  id,
  beforeId: id,
  action,
  half: half.optional(),
  atDeg: z.number().optional().describe('Rim mark, degrees clockwise from the pin'),
  force: force.optional(),
  asAdvised: z.boolean().describe('It was the move that the sum advised'),
  foretold: endTirs.optional().describe('Full swings that a perfect move would have left, mm'),
  came: endTirs.optional().describe('Full swings read after it, mm; absent until read again'),
  by: z.string().describe('Who'),
  occurredAt: instant,
})

/** The truing bench of a job: the sets of readings so far, what was done between them, and what the last set says. */
export const truing = z.strictObject({
  sets: z
    .array(
      z.strictObject({
        id,
        phase: z.string().describe('When in the job it was read'),
        at: instant,
        by: z.string().describe('Who'),
        leftTirMm: z.number().optional().describe('Full swing at the left, mm'),
        rightTirMm: z.number().optional().describe('Full swing at the right, mm'),
        hidden: z.literal(true).optional().describe('Kept from this person until the second reading is in'),
      }),
    )
    .describe('Sets of this truing, oldest first, struck-out ones left out'),
  moves: z.array(move).describe('Moves of this truing, oldest first'),
  last: measurement.optional().describe('The last set'),
  stale: z.boolean().describe('A move or a pressing was made since the last set: what it says is “last time” only'),
  advice: truingOut
    .optional()
    .describe('What the last set says to do next; absent until both ends and 12 again are in and agree, and once it is stale'),
  figures: runoutFigures.optional().describe('What the last set came to; absent while it is hidden from this person'),
})
export type Truing = z.infer<typeof truing>

/** The second check, as its reader may see it. */
export const check = z.strictObject({
  mayRead: z.boolean().describe('This person may take the next set'),
  because: z.string().optional().describe('Why not'),
  next: z.enum(['second', 'third']).nullable().describe('Which set comes next; null when the readings settle it'),
  first: measurement.optional().describe('The first reading; its figures hidden until the second is in'),
  second: measurement.optional().describe('The second reading'),
  third: measurement.optional().describe('The third, where one was wanted'),
  agree: z.boolean().optional().describe('First and second agree within √2 × the give-or-take at each end'),
  says: z.array(z.string()).describe('What the comparison says, in sentences'),
})
export type Check = z.infer<typeof check>
