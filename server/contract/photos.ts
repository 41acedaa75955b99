import { z } from 'zod'
import { id, instant, line, optionalLine, recorded } from './primitives.ts'

export const photo = z.strictObject({
  id,
  step: z.string().describe('Where the job stood'),
  caption: z.string().optional().describe('What it shows'),
  width: z.int().describe('Pixels'),
  height: z.int().describe('Pixels'),
  by: z.string().describe('Who took it'),
  at: instant,
})

/** The parts of an upload, multipart/form-data. */
export const photoNew = z.strictObject({
  ...recorded,
  photo: z.file().describe('The picture: JPEG, PNG or WebP, at most 15 MiB'),
  caption: optionalLine().optional().describe('What it shows'),
  sha256: z
    .string()
    .regex(/^[0-9a-f]{64}$/, 'Sixty-four hexadecimal figures.')
    .optional()
    .describe('SHA-256 of the picture as it was sent; another one arriving is refused'),
})

export const photoQuery = z.strictObject({ size: z.enum(['thumb']).optional().describe('thumb: the small copy; absent: the photo') })
export const photoStrike = z.strictObject({ ...recorded, reason: line(400).describe('Why it is struck out') })
