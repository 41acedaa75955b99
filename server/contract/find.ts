import { z } from 'zod'
import { id, line } from './primitives.ts'

export const found = z.strictObject({
  rows: z
    .array(
      z.strictObject({
        what: z.enum(['job', 'customer', 'engine']).describe('What it is'),
        id,
        title: z.string().describe('Tag, name or model'),
        says: z.string().describe('What else tells it apart'),
      }),
    )
    .describe('What was found, best first'),
})
export const findQuery = z.strictObject({ q: line(100).describe('Tag, name, phone, engine number, model') })
