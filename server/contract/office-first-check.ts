/** True at first check. Owner only. */
import { z } from 'zod'
import { figure, share, window, windowQuery } from './office-parts.ts'
import { id } from './primitives.ts'

export const firstCheckQuery = z.strictObject({
  ...windowQuery,
  engine: id.optional().describe('Only cranks of this engine'),
  person: id.optional().describe('Only cranks that this person called true'),
})
export const officeFirstCheck = z.strictObject({
  ...figure,
  ...window,
  engine: id.optional().describe('Only cranks of this engine'),
  person: id.optional().describe('Only cranks that this person called true'),
  all: z.strictObject(share).describe('Inside the house limit at both ends at the first check'),
  byPerson: z
    .array(
      z.strictObject({
        id: id.nullable().describe('Person; null where nobody called it true'),
        name: z.string().describe('Name'),
        ...share,
        cranks: figure.cranks,
      }),
    )
    .describe('By who called it true, the most first'),
  byEngine: z
    .array(z.strictObject({ id, name: z.string().describe('Maker and code'), ...share, cranks: figure.cranks }))
    .describe('By engine, the most first'),
  byMonth: z
    .array(z.strictObject({ month: z.string().describe('Month, such as 2026-11'), ...share, cranks: figure.cranks }))
    .describe('Month by month, the oldest first, months without any included; at the edges only the days counted'),
})
export type OfficeFirstCheck = z.infer<typeof officeFirstCheck>
