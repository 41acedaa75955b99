import { z } from 'zod'
import { MARKS_RUN } from '#core/bench/marks-run.ts'
import { TURNS } from '#core/bench/move-told.ts'
import { STOPS } from '#core/bench/truing-story.ts'
import { joint } from './crank-build.ts'
import { measurement } from './measurements.ts'
import { id, instant, recorded } from './primitives.ts'
import { runoutFigures } from './runout-figures.ts'
import { truingOut } from './sum-truing.ts'

const action = z.enum(['strike', 'squeeze', 'wedge', 'part', 'leave']).describe('What was done')
const half = z.enum(['left', 'right']).describe('Which half took the blow')
const force = z.enum(['light', 'firm', 'hard']).describe('The blow as the hand names it')

/** A move, logged after it was made and before it is read again. */
export const moveNew = z.strictObject({
  ...recorded,
  beforeId: id.describe('The set of readings that led to it'),
  action,
  joint: joint.optional().describe('Which joint took it, on a crank with several throws; needed there'),
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
  joint: joint.optional(),
  half: half.optional(),
  atDeg: z.number().optional().describe('Rim mark, degrees clockwise from the pin'),
  force: force.optional(),
  asAdvised: z.boolean().describe('It was the move that the sum advised'),
  foretold: endTirs.optional().describe('Full swings that a perfect move would have left, mm'),
  came: endTirs.optional().describe('Full swings read after it, mm; absent until read again'),
  told: z
    .strictObject({
      turn: z.enum(TURNS).describe('What it did to the fault that it was meant for'),
      says: z.string().describe('The same in a sentence'),
      askMarks: z.literal(true).optional().describe('The readings look as if the marks ran the other way round'),
    })
    .optional()
    .describe('What it did; absent until read again in the same set-up on both supports'),
  by: z.string().describe('Who'),
  occurredAt: instant,
})

export const truingQuery = z.strictObject({
  joint: joint.optional().describe('One throw on its own two shafts; absent: the whole crank, or its only throw'),
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
        lateAt: instant.optional().describe('When the book got it, where that was late: long after it was read, or after something later'),
        marksRun: z.enum(MARKS_RUN).optional().describe('How the marks ran by which it was read; absent: nobody has said'),
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
  repeats: z
    .array(z.string())
    .describe('Where sets read one after the other, nothing done between, differ by more than they are worth; a sentence an end'),
  band: z
    .strictObject({
      held: force.optional().describe('The hardest blow that did nothing'),
      moved: force.optional().describe('The softest blow that moved it'),
      uneven: z.boolean().describe('A softer blow moved it than one that did nothing'),
      went: z
        .strictObject({ past: z.int().describe('So many of them went past'), of: z.int().describe('Blows that moved it') })
        .describe('How often it jumped past'),
      next: force.describe('The blow to try next'),
      says: z.string().describe('The same in a sentence'),
    })
    .optional()
    .describe('What it takes to move this crank, by the hand of this person; absent until a blow was told'),
  stop: z
    .strictObject({ because: z.enum(STOPS).describe('Why'), says: z.string().describe('The same in a sentence, with what to do') })
    .optional()
    .describe('Why to stop; absent: go on'),
  ahead: endTirs.optional().describe('Full swings that a perfect advised move would leave, mm'),
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
