import { z } from 'zod'
import { id, instant } from './primitives.ts'

/** Hours after the last held drill at which the office says that it is too long ago. */
export const PROOF_HOURS = 48
/** When the night's drill runs, by the clock on the shop's wall. */
export const NIGHT_AT = '02:10'

export const proof = z.strictObject({
  id,
  kind: z
    .enum(['backup', 'drill'])
    .describe('backup: a file was written; drill: it was put into a scratch database and compared with the book it came from'),
  startedAt: instant,
  endedAt: instant.optional(),
  held: z.boolean().optional().describe('Whether all of it was there; absent while it runs, or where it was cut off'),
  says: z.string().optional().describe('What was found, in a sentence'),
  file: z.string().optional().describe('Name of the backup, in the folder backups of the data folder unless it was sent elsewhere'),
  bytes: z.int().optional().describe('Size of the backup, bytes'),
  rows: z.int().optional().describe('Rows of all tables in it'),
  auditSeq: z.int().optional().describe('Last row of the audit chain in it'),
})
export type Proof = z.infer<typeof proof>

export const proofs = z.strictObject({
  lastHeld: proof.nullable().describe('The last drill that held; null where none ever did'),
  overdue: z.boolean().describe(`Whether no drill held in the last ${PROOF_HOURS} hours`),
  underWay: proof.nullable().describe('The drill that is asked for or runs now'),
  nightAt: z.string().describe('When the night’s drill runs, HH:MM in the shop’s zone'),
  rows: z.array(proof).describe('Backups and drills, the last first, thirty at most'),
})
export type Proofs = z.infer<typeof proofs>

export const proofWanted = z.strictObject({})
