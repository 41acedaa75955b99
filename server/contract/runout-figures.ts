import { z } from 'zod'
import { BUDGET_PARTS } from '#core/bench/budget.ts'
import { QUALITY_CODES } from '#core/bench/reading-quality.ts'
import { GUARD_RULES } from '#core/runout-verdict.ts'
import { truingOut } from './sum-truing.ts'

const endFigures = z.strictObject({
  tirMm: z.number().describe('Full swing of the dial, mm'),
  highAtDeg: z.number().describe('Where it reads highest, degrees clockwise from the pin seen from the right-hand end'),
  residualMm: z.number().optional().describe('Root mean square of what the fit leaves, mm; absent where a full swing was given'),
})
const endVerdict = z.enum(['within', 'in-the-doubt-band', 'over'])

const endWorth = z.strictObject({
  k: z.number().describe('Give or take over the standard deviation'),
  degreesOfFreedom: z.number().nullable().describe('How well that deviation is known, degrees of freedom; null where as well as can be'),
  sets: z.int().describe('Sets in this very set-up that say how it repeats, this one among them'),
  parts: z
    .array(
      z.strictObject({
        name: z.enum(BUDGET_PARTS).describe('What makes the reading doubtful'),
        standardMm: z.number().describe('Standard deviation that it brings, mm'),
        share: z.number().describe('Its share of the whole, 0 to 1'),
      }),
    )
    .describe('The parts of the doubt; their shares add up to 1'),
})

const givenLimits = z.strictObject({
  limitMm: z.number().describe('What the house allows there, full swing in mm'),
  makerMm: z.number().optional().describe('What the maker allows there, full swing in mm; absent where he gives none'),
  dialMm: z.number().describe('From the support to the dial that it counts for, mm, + outboard'),
})

/** What the server worked out of a runout set when it was stored; kept with the method so that it can be worked again. */
export const runoutFigures = z.strictObject({
  sum: truingOut.optional().describe('The truing sum; absent where an end was not read'),
  refused: z.string().optional().describe('Why the sum could not be done'),
  left: endFigures.optional().describe('What the left end reads'),
  right: endFigures.optional().describe('What the right end reads'),
  closes: z
    .strictObject({
      leftMm: z.number().optional().describe('12 read again less 12 read first at the left end, mm'),
      rightMm: z.number().optional().describe('12 read again less 12 read first at the right end, mm'),
      agree: z
        .boolean()
        .describe('Every end that was read mark by mark has 12 again, and it repeats within 0.005 mm or half a division of the dial'),
    })
    .describe('12 read again less 12 read first, mm, and whether both repeat'),
  giveOrTake: z
    .strictObject({
      leftMm: z.number().describe('Give or take of one full swing at the left end, mm'),
      rightMm: z.number().describe('Give or take of one full swing at the right end, mm'),
    })
    .describe('Give or take of one full swing, mm; it holds the true figure 95 times in 100'),
  worth: z
    .strictObject({
      left: endWorth.describe('The budget of the left end'),
      right: endWorth.describe('The budget of the right end'),
      rule: z
        .enum(GUARD_RULES)
        .describe(
          'By which rule the ends were judged. full-guard: within where the figure and its give or take together do not pass the limit; simple: where the figure alone does not',
        ),
    })
    .optional()
    .describe('What makes the give or take; absent for a set stored when a table said it'),
  limits: z
    .strictObject({
      leftMm: z.number().optional().describe('House limit carried to where the left dial stood, mm; absent where it cannot be'),
      rightMm: z.number().optional().describe('House limit carried to where the right dial stood, mm; absent where it cannot be'),
      makerLeftMm: z.number().optional().describe('The maker’s limit carried to where the left dial stood, mm; absent where it cannot be'),
      makerRightMm: z
        .number()
        .optional()
        .describe('The maker’s limit carried to where the right dial stood, mm; absent where it cannot be'),
      given: z
        .strictObject({
          left: givenLimits.optional().describe('At the left; absent where it cannot be carried to that dial'),
          right: givenLimits.optional().describe('At the right; absent where it cannot be carried to that dial'),
        })
        .optional()
        .describe('The limits as the sheet gave them, each at its own place; absent for a set stored before they were kept'),
      atStatedPlace: z
        .boolean()
        .describe(
          'The crank lay on the supports that the sheet says, so that its limits could be carried to both dials; false: not to be compared',
        ),
    })
    .describe('What is allowed where the dials stood, mm'),
  verdicts: z
    .strictObject({
      left: endVerdict.optional().describe('The left end with its give or take against the house limit'),
      right: endVerdict.optional().describe('The right end with its give or take against the house limit'),
    })
    .describe('How the ends stand against the house limit; absent where it cannot be carried to the dial'),
  quality: z
    .array(
      z.strictObject({
        code: z.enum(QUALITY_CODES).describe('What is not well'),
        side: z.enum(['left', 'right']).optional().describe('At which end'),
        figure: z.number().optional().describe('The figure behind it, mm; for a keyway the degrees that it takes'),
        says: z.string().describe('What is seen, in a sentence'),
        do: z.string().describe('What to do about it'),
      }),
    )
    .optional()
    .describe('What is not well about the reading; empty for a clean one, absent for a set stored before this was judged'),
  method: z
    .strictObject({ name: z.string().describe('How the set was worked'), version: z.string().describe('Version of that method') })
    .optional()
    .describe('Method of everything here but the sum, which carries its own'),
})
export type RunoutFigures = z.infer<typeof runoutFigures>
