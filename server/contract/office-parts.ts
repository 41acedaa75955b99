/** What the figures of the office have in common: counts and shares, the rule and the ways on, windows of whole weeks or months. */
import { z } from 'zod'
import { calendarDate } from './primitives.ts'

export const count = (what: string) => z.int().min(0).describe(what)
export const hours = (what: string) => z.number().min(0).describe(`${what}, h`)
export const days = (what: string) => z.number().min(0).describe(`${what}, days`)
export const minor = (what: string) => z.int().describe(`${what}, minor units of the shop’s currency`)
export const tag = z.string().describe('Tag of the job, such as 318-V')

/** What every figure of the office carries. */
export const figure = {
  rule: z.string().describe('How it is counted, in a sentence'),
  n: count('So many it is counted from'),
  cranks: z
    .string()
    .nullable()
    .describe('Query of GET /api/office/cranks that lists the cranks behind it, such as figure=late; null where there are none to list'),
  csv: z.string().describe('Address of the same as CSV, with the same filters'),
}

export const wilson = z
  .strictObject({
    low: z.number().min(0).max(1).describe('Lower end, a share of 1'),
    high: z.number().min(0).max(1).describe('Upper end, a share of 1'),
  })
  .describe('95 % interval by Wilson, as shares of 1')

/** A share with its counts; without an interval where nothing was counted. */
export const share = {
  n: count('Out of so many'),
  count: count('So many'),
  share: z.number().min(0).max(1).optional().describe('count / n, a share of 1; absent where n is 0'),
  wilson: wilson.optional().describe('95 % interval of the share by Wilson; absent where n is 0'),
}

export const windowQuery = {
  from: calendarDate
    .optional()
    .describe('First day; moved back to its Monday or first of the month, whichever is nearer. 12 months ago unless said'),
  to: calendarDate.optional().describe('Last day; moved on to its Sunday or last of the month, whichever is nearer. Today unless said'),
}
export const window = {
  from: calendarDate.describe('First day counted'),
  to: calendarDate.describe('Last day counted'),
}
