/** Practice cranks: made up, with faults that the book keeps to itself until the crank is put down. */
import { z } from 'zod'
import { PRACTICE_CALLS } from '#core/practice.ts'
import { PRACTICE_LEVELS } from '#core/practice-crank.ts'
import { PRACTICE_MOVES_MOST } from '#core/practice-hand.ts'
import { PRACTICE_BLOWS, PRACTICE_PRESSES } from '#core/practice-move.ts'
import { id, instant, pageOf, pageQuery } from './primitives.ts'

const level = z
  .enum(PRACTICE_LEVELS)
  .describe('What may be wrong: one fault; swing and opening; all four and a hand can cure it; all four and perhaps no hand can')

const called = z.enum(PRACTICE_CALLS).describe('How it was put down: called true, called one that no hand cures, or left without a call')

export const practiceNew = z.strictObject({ id: id.optional().describe('Id made by the sender (UUIDv7)'), level })
export type PracticeNew = z.infer<typeof practiceNew>

const strike = z.strictObject({
  action: z.literal('strike').describe('A blow on the rim of one web'),
  half: z.enum(['left', 'right']).describe('Which web takes it'),
  atDeg: z.int().min(0).max(359).describe('Rim mark that takes it, degrees clockwise from the pin seen from the right-hand end'),
  how: z.enum(PRACTICE_BLOWS).describe('How hard'),
})
const press = z.strictObject({
  action: z.enum(['squeeze', 'wedge']).describe('The rims squeezed together or wedged apart at mark 6, opposite the pin'),
  how: z.enum(PRACTICE_PRESSES).describe('How much'),
})
const move = z.discriminatedUnion('action', [strike, press]).describe('What the hand does')

/** A full swing that somebody says before the blow. */
const saidTir = z.number().min(0).max(20)
const said = z
  .strictObject({
    leftTirMm: saidTir.describe('Full swing that the left end will read, mm'),
    rightTirMm: saidTir.describe('Full swing that the right end will read, mm'),
  })
  .describe('What the learner says, before the move, that both ends will read after it')

export const practiceMoveNew = z.strictObject({
  n: z
    .int()
    .min(0)
    .max(PRACTICE_MOVES_MOST - 1)
    .describe('Number of this move in the run, from 0; it has to be the next one'),
  move,
  said,
})
export type PracticeMoveNew = z.infer<typeof practiceMoveNew>

export const practiceEnd = z.strictObject({ called })
export type PracticeEnd = z.infer<typeof practiceEnd>

const end = z.strictObject({
  tirMm: z.number().describe('Full swing of the dial, mm'),
  highAtDeg: z.number().describe('Where it is high, degrees clockwise from the pin'),
})

const faults = z.strictObject({
  swingMm: z.number().describe('Right half carried towards mark 3 (+), mm'),
  openRad: z.number().describe('Webs wider apart opposite the pin (+), rad'),
  throwMm: z.number().describe('Right shaft away towards the pin (+), mm; no hand cures it'),
  cockedRad: z.number().describe('Right shaft leaning to mark 3 going outward (+), rad; no hand cures it'),
})

const score = z.strictObject({
  worstMm: z.number().describe('Greater full swing that it was put down with, in truth, mm'),
  bestMm: z.number().describe('Greater full swing of the best that a hand could reach, mm'),
  calledRight: z.boolean().describe('Whether the call was right'),
  moves: z.int().describe('Moves made'),
  goodMoves: z.int().describe('Moves of a good hand on the same crank with the same luck'),
  saidOffMm: z.number().optional().describe('Mean distance of what was said from what came, mm; absent without a move'),
  unchangedOffMm: z.number().optional().describe('The same for saying each time that nothing will move, mm'),
  wrongWay: z.int().describe('Moves aimed away from the best reachable'),
})
export type PracticeScoreOut = z.infer<typeof score>

export const practiceRun = z.strictObject({
  id,
  personId: id.describe('Whose practice it is'),
  by: z.string().describe('Who practises'),
  level,
  startedAt: instant,
  endedAt: instant.optional().describe('When it was put down'),
  crank: z
    .strictObject({
      strokeMm: z.number().describe('Stroke, mm'),
      rimRadiusMm: z.number().describe('Crank centre to the rim of a web, mm'),
      held: z.enum(['v-blocks-bare', 'centres']).describe('How it lies'),
      supportLeftMm: z.number().describe('Crank centre to the left support, mm'),
      supportRightMm: z.number().describe('Crank centre to the right support, mm'),
      dialLeftMm: z.number().describe('Left support to its dial, + outboard, mm'),
      dialRightMm: z.number().describe('Right support to its dial, + outboard, mm'),
    })
    .describe('Sizes and set-up of the made-up crank'),
  limitMm: z.number().describe('Full swing allowed at each end, mm'),
  stepMm: z.number().describe('A division of the practice dials, mm'),
  worthMm: z.number().describe('Give or take of a full swing read by them, mm'),
  readings: z
    .array(
      z.strictObject({
        marks: z
          .array(
            z.strictObject({
              atDeg: z.number().describe('Mark under the dials, degrees clockwise from the pin'),
              leftMm: z.number().describe('Left dial, mm'),
              rightMm: z.number().describe('Right dial, mm'),
            }),
          )
          .describe('12, 3, 6, 9 and 12 again, both dials set to 0 at 12'),
        left: end.describe('The left end over a turn'),
        right: end.describe('The right end over a turn'),
      }),
    )
    .describe('One reading before the first move and one after each'),
  moves: z
    .array(z.strictObject({ n: z.int().describe('Number of the move, from 0'), move, said, at: instant }))
    .describe('Moves so far, in order'),
  result: z
    .strictObject({
      called,
      score: score.describe('What it is worth, figure by figure'),
      faultsAtStart: faults.describe('What was wrong with it'),
      faultsAtEnd: faults.describe('What is left'),
      best: z
        .strictObject({
          leftTirMm: z.number().describe('Full swing at the left, mm'),
          rightTirMm: z.number().describe('Full swing at the right, mm'),
        })
        .describe('The best that a hand could reach'),
      curable: z.boolean().describe('Whether that is within what is allowed'),
      moves: z
        .array(
          z.strictObject({
            rimMm: z.number().describe('How far the rim opposite the pin went, mm; 0 where the joint stuck'),
            wrongWay: z.boolean().describe('Aimed away from the best reachable'),
          }),
        )
        .describe('What each move did in truth'),
      good: z
        .strictObject({
          moves: z.array(move).describe('What it did, in order'),
          called: z.enum(['true', 'no-hand']).optional().describe('How it called it; absent where it came to no end'),
          worstMm: z.number().describe('Greater full swing that it left, in truth, mm'),
        })
        .describe('A good hand on the same crank with the same luck'),
    })
    .optional()
    .describe('The hidden faults and what came of it; absent until it is put down'),
})
export type PracticeRun = z.infer<typeof practiceRun>

const practiceLine = z.strictObject({
  id,
  level,
  startedAt: instant,
  endedAt: instant.optional().describe('When it was put down; absent while it lies on the practice bench'),
  called: called.optional(),
  score: score.optional().describe('What it is worth; absent until it is put down'),
})
export type PracticeLine = z.infer<typeof practiceLine>

export const practiceQuery = z.strictObject(pageQuery)
/** Practice cranks of one person, the last first. They are in no figure of the shop. */
export const practiceLines = pageOf(practiceLine)
export type PracticeLines = z.infer<typeof practiceLines>
