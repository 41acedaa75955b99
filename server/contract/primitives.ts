import { z } from 'zod'

/** Limits that both sides know; the table of them stands in DEVELOPERS.md. */
export const LIMITS = {
  shortText: 200,
  longText: 4000,
  listPage: 50,
  listPageMost: 200,
  photoBytes: 15 * 1024 * 1024,
  photosPerJob: 200,
  bodyBytes: 256 * 1024,
} as const

// U+0000 is valid JSON but PostgreSQL text refuses it; lone surrogates cannot be stored as UTF-8.
export function storable(text: string): boolean {
  return !text.includes('\u0000') && !/\p{Surrogate}/u.test(text)
}

const UNSTORABLE = 'Contains a character that cannot be kept. Type it again.'

/** One line of text, trimmed by the sender; not empty. */
export function line(most: number = LIMITS.shortText) {
  return z
    .string()
    .min(1, { error: 'Write something here.', abort: true })
    .max(most, `At most ${most} characters.`)
    .refine(storable, UNSTORABLE)
    .refine((text) => text.trim().length > 0, 'Write something here.')
}

/** One line that may be empty. */
export function optionalLine(most: number = LIMITS.shortText) {
  return z.string().max(most, `At most ${most} characters.`).refine(storable, UNSTORABLE)
}

/** Longer text, may hold line breaks. */
export function prose(most: number = LIMITS.longText) {
  return z.string().max(most, `At most ${most} characters.`).refine(storable, UNSTORABLE)
}

export const id = z.uuid('An id is a UUID.').describe('UUID, version 7 where the sender made it')
export const version = z.int().min(1).max(1_000_000_000).describe('Counts up with every change; send it back as If-Match to change this')
export const instant = z.iso.datetime({ offset: true }).describe('Instant, RFC 3339')
export const calendarDate = z.iso.date('A date looks like 2026-11-24.').describe('Calendar date, YYYY-MM-DD, in the shop’s zone')
export const money = z.int().min(0).max(1_000_000_000).describe('Amount in minor units of the shop’s currency')

/** Every POST that records something may bring its own id and say when it happened. */
export const recorded = {
  id: id.optional().describe('Id made by the sender (UUIDv7); the server makes one when absent'),
  occurredAt: instant.optional().describe('When it happened by the sender’s clock; the server keeps its own time beside it'),
}

export const idParams = z.strictObject({ id })

export const pageQuery = {
  after: z.string().max(200).optional().describe('Cursor of the last row seen, as given in `next`'),
  limit: z.coerce.number().int().min(1).max(LIMITS.listPageMost).optional().describe(`Rows to answer, ${LIMITS.listPage} unless said`),
}

export function pageOf<Row extends z.ZodType>(row: Row) {
  return z.strictObject({
    rows: z.array(row).describe('The rows of this page'),
    next: z.string().nullable().describe('Cursor for the rows after these; null at the end'),
  })
}
