import { z } from 'zod'
import { id, instant, line, money, optionalLine, prose, recorded, version } from './primitives.ts'

const yesHow = z.enum(['at the counter', 'by phone', 'by mail', 'by text', 'by post']).describe('How the yes came')

export const quoteNew = z.strictObject({
  ...recorded,
  totalMinor: money.min(1, 'A quote has a total.').describe('Total with tax, in minor units'),
  text: prose(2000).min(1, 'Say what it is for.').describe('What it is for, as the customer reads it'),
})
export type QuoteNew = z.infer<typeof quoteNew>

export const quote = z.strictObject({
  id,
  version: z.int().describe('Counts the quotes of this job; only the last one can be agreed'),
  totalMinor: money.describe('Total with tax, in minor units'),
  taxMinor: money.describe('Tax contained in it, in minor units'),
  text: z.string().describe('What it is for'),
  madeBy: z.string().describe('Who made it'),
  madeAt: instant,
  yes: z
    .strictObject({ by: z.string().describe('Who said yes'), how: yesHow, at: instant, enteredBy: z.string().describe('Who entered it') })
    .optional()
    .describe('The customer’s yes, where it was given'),
})

/** The customer's yes, entered by the counter. */
export const yesNew = z.strictObject({
  ...recorded,
  quoteVersion: z.int().min(1).describe('The quote they said yes to; must be the last one'),
  by: line().describe('Who said yes'),
  how: yesHow,
})

export const paymentNew = z.strictObject({
  ...recorded,
  amountMinor: money.min(1, 'An amount, please.').describe('Amount in minor units'),
  what: z.enum(['deposit', 'payment', 'back']).describe('Deposit, payment, or money given back'),
  how: line(40).describe('Cash, card, transfer and so on; no card data'),
  note: optionalLine().optional().describe('Note'),
})
export const payment = z.strictObject({
  id,
  amountMinor: money,
  what: z.enum(['deposit', 'payment', 'back']).describe('What it is'),
  how: z.string().describe('How'),
  note: z.string().optional().describe('Note'),
  by: z.string().describe('Who took it'),
  at: instant,
})

/** The box list: everything that came in, ticked off, and how it goes. */
export const boxCheck = z.strictObject({
  items: z
    .array(
      z.strictObject({
        what: line(60).describe('What it is'),
        came: z.int().min(0).max(99).describe('How many came in'),
        back: z.int().min(0).max(99).describe('How many go back'),
        why: optionalLine().optional().describe('Why fewer'),
      }),
    )
    .max(60)
    .describe('What came in and what goes back'),
  carrier: optionalLine(60).optional().describe('Carrier'),
  carrierNo: optionalLine(80).optional().describe('Number of the parcel'),
  grams: z.int().min(0).max(200_000).optional().describe('Weight of the parcel, g'),
  ownersWord: optionalLine(400).optional().describe('Why it may go though not paid (owner only)'),
})
export type BoxCheck = z.infer<typeof boxCheck>
export const box = boxCheck.extend({ checkedBy: z.string().describe('Who checked it'), checkedAt: instant, version })
