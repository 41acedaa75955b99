import { z } from 'zod'
import { instant, storable } from './primitives.ts'

export const draftParams = z.strictObject({ form: z.enum(['booking', 'engine']).describe('Which form') })
export const draft = z.strictObject({
  data: z.record(z.string(), z.unknown()).describe('The form as it stands, not checked'),
  changedAt: instant,
})
const DRAFT_DEPTH = 20

/** Whether a form half filled can be kept: no character that the database refuses, and not nested without end. */
function keepable(data: Record<string, unknown>): boolean {
  const open: { value: unknown; depth: number }[] = [{ value: data, depth: 0 }]
  for (let at = open.pop(); at !== undefined; at = open.pop()) {
    const { value, depth } = at
    if (depth > DRAFT_DEPTH) return false
    if (typeof value === 'string' && !storable(value)) return false
    if (typeof value !== 'object' || value === null) continue
    for (const [name, inner] of Object.entries(value)) {
      if (!storable(name)) return false
      open.push({ value: inner, depth: depth + 1 })
    }
  }
  return true
}

export const draftAnswer = z.strictObject({ draft: draft.nullable().describe('The draft; null where there is none') })
export const draftSave = z.strictObject({
  data: z
    .record(z.string(), z.unknown())
    .refine(keepable, 'This draft cannot be kept: it holds a character that cannot be stored, or is nested too deep.')
    .describe('The form as it stands, not checked'),
})
