import type { Customer, HEAR_BY } from '#contract/customers.ts'
import { counted, money } from '#web/lib/format.ts'

export const HEAR_BY_WORDS: Readonly<Record<(typeof HEAR_BY)[number], string>> = {
  phone: 'phone',
  mail: 'mail',
  text: 'text',
  post: 'post',
}

const WANTS: Readonly<Record<(typeof HEAR_BY)[number], string>> = {
  phone: 'wants a call',
  mail: 'wants mail, not calls',
  text: 'wants a text, not calls',
  post: 'wants post',
}

const MONTHS = ['January', 'February', 'March', 'April', 'May', 'June', 'July', 'August', 'September', 'October', 'November', 'December']

/** `March 2025` of 2025-03-04 */
export function monthOf(date: string): string {
  return `${MONTHS[Number(date.slice(5, 7)) - 1] ?? ''} ${date.slice(0, 4)}`
}

/** `3 cranks here before, last 187-L March 2025, paid` */
export function historyWords(known: Customer, currency: string): string {
  if (known.cranksHere === 0) return 'no crank here before'
  const last = known.lastTag === undefined ? '' : `, last ${known.lastTag}${known.lastOn === undefined ? '' : ` ${monthOf(known.lastOn)}`}`
  const owed = known.owes > 0 ? `${money(known.owes, currency, true)} agreed and not yet paid` : 'paid'
  return `${counted(known.cranksHere, 'crank')} here before${last}, ${owed}`
}

export function wantsWords(known: Customer): string {
  return WANTS[known.hearBy]
}

/** `0161 496 01, a.hollis@place.example` */
export function reachWords(known: Customer): string {
  return [known.phone, known.mail, known.address?.replaceAll('\n', ', ')].filter((one) => one !== undefined).join(', ')
}
