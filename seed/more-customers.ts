/** More invented customers: names put together of parts that nobody bears together, each of a seeded draw. */
import type { CustomerNew } from '#contract/customers.ts'
import type { Chance } from './chance.ts'

type Customer = Omit<CustomerNew, 'id'>

const HEADS = 'Al Ber Bram Cor Dal Ed Fal Gar Hal Ing Jor Kel Lam Mar Nor Or Pel Quen Ros Sel Tor Ul Ver Wes Yar Zel'.split(' ')
const TAILS =
  'addock brannik corvell dresmer efjord gransky holtzen ingrave kovetz lunnare mestrin nordaal pardeau rissoni stavrek thwaine uvelli wendrup yardley zubekk'.split(
    ' ',
  )
const INITIALS = 'ABCDEFGHIJKLMNOPRSTUVWZ'
/** Beginnings of phone numbers that no exchange gives out; the first hundred of each are of the customers by name. */
const PHONES = ['030 23125', '069 90009', '040 66969', '0221 4710', '089 99998']
const CLUBS = ['Vale Trials Club', 'Northfield Kart School', 'Old Singles Society', 'Moss Lane Motors', 'Harrow & Sons Small Engines']

export function moreCustomers(count: number, chance: Chance): (readonly [key: `more ${number}`, customer: Customer])[] {
  const surnames = chance.shuffled(HEADS.flatMap((head) => TAILS.map((tail) => head + tail)))
  return Array.from({ length: count }, (_, index) => {
    const surname = surnames[index % surnames.length]!
    const name = CLUBS[index] ?? `${surname}, ${INITIALS[chance.whole(0, INITIALS.length - 1)]}.`
    return [`more ${index}` as const, { name, ...waysToReach(surname, index, chance) }] as const
  })
}

function waysToReach(surname: string, index: number, chance: Chance): Omit<Customer, 'name'> {
  const phone = `${PHONES[index % PHONES.length]} ${200 + Math.floor(index / PHONES.length)}`
  const mail = `${surname.toLowerCase()}@${chance.pick(['post', 'riders', 'twostroke', 'garage'])}.example`
  const how = chance.weighted([
    ['phone', 5],
    ['mail', 3],
    ['text', 2],
  ] as const)
  if (how === 'phone') return chance.happens(0.4) ? { phone, mail } : { phone }
  if (how === 'text') return { phone, hearBy: 'text' }
  return chance.happens(0.5) ? { mail, hearBy: 'mail' } : { phone, mail, hearBy: 'mail' }
}
