import { z } from 'zod'
import { CONFIDENCE, COUNT, LIST_MOST, NUMBER, type Range } from '#core/limits.ts'
import { line } from './primitives.ts'

/** What the fields of all bench sums share. Lengths mm, angles degrees unless the name says Rad, hours decimal. */

export function within(range: Range, what: string) {
  const text = `${range.min} to ${range.max}`
  return z.number().min(range.min, `From ${text}.`).max(range.max, `From ${text}.`).describe(`${what}; ${text}`)
}

export function answeredNumber(what: string) {
  return z.number().describe(what)
}

export const method = z
  .strictObject({
    name: z.string().describe('How it was worked out, no unit'),
    version: z.string().describe('Version of that method, no unit'),
  })
  .describe('Name and version of the method, so that a kept figure can be worked again')

export const confidence = within(CONFIDENCE, 'Share of intervals that hold the truth, no unit; 0.95 unless said').optional()

/** A whole count. */
export function count(what: string) {
  const text = `From ${COUNT.min} to ${COUNT.max}.`
  return z.int('A whole number.').min(COUNT.min, text).max(COUNT.max, text).describe(`${what}, a whole count; ${COUNT.min} to ${COUNT.max}`)
}

export function moreThanNothing(what: string) {
  return z
    .number()
    .gt(0, 'More than 0.')
    .max(NUMBER.max, `No more than ${NUMBER.max}.`)
    .describe(`${what}; more than 0, at most ${NUMBER.max}`)
}

export function listOfNumbers(what: string, one: string) {
  return z.array(within(NUMBER, one)).max(LIST_MOST, `At most ${LIST_MOST}.`).describe(`${what}; at most ${LIST_MOST}`)
}

/** A name, or a number that stands for its text. */
export function named(what: string) {
  return z
    .union([line().describe(`${what}, by name, no unit`), within(NUMBER, `${what}, by number, no unit`)], 'A name or a number.')
    .describe(`${what}, a name or a number that stands for its text, no unit`)
}

export function interval(what: string) {
  return z
    .strictObject({ low: answeredNumber(`Low end, ${what}`), high: answeredNumber(`High end, ${what}`) })
    .describe(`Confidence interval, ${what}`)
}

export const places = z.array(z.int().describe('A place in values, counted from 0, no unit'))
