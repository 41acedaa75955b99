/** The cranks that are in the house today: one or more at every step, and what each waits for. */

import { openAfter } from './days.ts'
import { KIT_MAKERS } from './engines.ts'
import { putLetGo } from './let-go.ts'
import type { Shop } from './life.ts'
import { putKitWait, putPayment, putTold } from './life-at-the-counter.ts'
import { A_DAY, ago, agreed, apart, asked, bookedToday, inDays, kitIn, measured, putPlace, trued } from './open-steps.ts'
import { putSigning } from './rebuild.ts'
import { putHalf } from './twins-built.ts'

const kitFrom =
  ({ name, part }: (typeof KIT_MAKERS)[number]) =>
  (code: string, lot: string) => ({ maker: name, part: part(code), lot })
const ardenlow = kitFrom(KIT_MAKERS[0])
const stellmarch = kitFrom(KIT_MAKERS[1])

const BY_JONAS = { kind: 'rebuild', builder: 'jonas', checker: 'marek' } as const
const BY_MAREK = { kind: 'rebuild', builder: 'marek', checker: 'ewa' } as const
const BY_EWA = { kind: 'rebuild', builder: 'ewa', checker: 'marek' } as const

/** Signed and ready to go home: one left on the shelf for weeks, one paid, one told and not paid, one not told yet. */
export function putReadyOnes(shop: Shop): void {
  putLeftOnTheShelf(shop)
  putReadyAndPaid(shop)
  putNotToldYet(shop)
  putToldAndUnpaid(shop)
}

function putLeftOnTheShelf(shop: Shop): void {
  const wanted = {
    ...BY_JONAS,
    name: 'left on the shelf',
    code: 'M108-4P',
    customer: 'papad',
    why: 'hours-up',
    daysAgo: 34.3,
    promised: -26,
  } as const
  const open = agreed(shop, measured(shop, bookedToday(shop, wanted)))
  const built = trued(shop, kitIn(shop, open, ardenlow('M108-4P', 'A-2391')))
  const { at } = putSigning(shop, built.life, { trued: built, borderline: false })
  putPlace(shop, built.life, openAfter(at, 0.4), 'shelf 3')
  putTold(shop, built.life, openAfter(at, 1), 'It is ready to be fetched.')
  putTold(shop, built.life, openAfter(at, 13 * A_DAY), 'It is still here, ready. Shall we send it?')
}

function putReadyAndPaid(shop: Shop): void {
  const wanted = { ...BY_MAREK, name: 'ready and paid', code: 'H249-4X', customer: 'nguyen' } as const
  const booked = bookedToday(shop, { ...wanted, why: 'knock', daysAgo: 17.2, promised: 2, as: { goesBy: 'carrier', depositMinor: 0 } })
  const open = kitIn(shop, agreed(shop, measured(shop, booked, { hoursLater: 6 * A_DAY })), ardenlow('H249-4X', 'A-2404'))
  const built = trued(shop, { ...open, at: ago(shop, 6) })
  const { at } = putSigning(shop, built.life, { trued: built, borderline: false, also: 'both mains new; oil hole blown through' })
  putTold(shop, built.life, openAfter(at, 0.4), 'It is ready. We send it as soon as it is paid.')
  putPayment(shop, built.life, openAfter(at, 2 * A_DAY), built.price.totalMinor)
}

function putNotToldYet(shop: Shop): void {
  const wanted = {
    ...BY_MAREK,
    name: 'not told yet',
    code: 'B486-X',
    customer: 'achter',
    why: 'seized',
    daysAgo: 16.1,
    promised: 1,
  } as const
  const open = agreed(shop, measured(shop, bookedToday(shop, wanted)))
  putKitWait(shop, open.life, open.at, inDays(shop, -3), 'Stellmarch B486-X K2')
  const built = trued(shop, kitIn(shop, { ...open, at: ago(shop, 1) }, stellmarch('B486-X', 'S-0951')))
  putSigning(shop, built.life, { trued: built, borderline: false })
}

function putToldAndUnpaid(shop: Shop): void {
  const wanted = { ...BY_MAREK, name: 'told and unpaid', code: 'H197-E', customer: 'imai' } as const
  const booked = bookedToday(shop, { ...wanted, why: 'hours-up', daysAgo: 9, promised: 3, as: { depositMinor: 94_00, depositHow: 'card' } })
  const open = agreed(shop, measured(shop, booked, { hoursLater: 4 * A_DAY }))
  const built = trued(shop, kitIn(shop, { ...open, at: ago(shop, 2.5) }, ardenlow('H197-E', 'A-2404')))
  const { at } = putSigning(shop, built.life, { trued: built, borderline: false })
  putPlace(shop, built.life, openAfter(at, 0.2), 'shelf 3')
  putTold(shop, built.life, openAfter(at, 1), 'It is ready. 182.00 to pay.')
}

/** At the bench, or waiting on the way there; two of them late. */
export function putUnderWay(shop: Shop): void {
  putQuillfens(shop)
  putTwin(shop)
  putWaitingForKits(shop)
  putToBeReadAgain(shop)

  const brandl = {
    ...BY_JONAS,
    name: 'waiting for a yes',
    code: 'L249-X',
    customer: 'brandl',
    why: 'hours-up',
    daysAgo: 5.5,
    promised: 8,
  } as const
  const quoted = measured(shop, bookedToday(shop, { ...brandl, as: { place: 'rack C' } }), { hand: 'marek', hoursLater: 2.6 * A_DAY })
  asked(shop, quoted, { totalMinor: 268_00, text: 'Press apart, new rod kit, press together, true; certificate.' })

  const sorensen = {
    ...BY_EWA,
    name: 'agreed',
    code: 'D497-4R',
    customer: 'sorensen',
    why: 'knock',
    daysAgo: 5,
    promised: 10,
  } as const
  const open = agreed(shop, measured(shop, bookedToday(shop, { ...sorensen, as: { depositMinor: 100_00, depositHow: 'cash' } })))
  const { life } = kitIn(shop, open, ardenlow('D497-4R', 'A-2417'))
  putPlace(shop, life, openAfter(open.at, A_DAY), 'bench 1', 'ewa')
}

/** Late by a day: the right web went on too far and was taken back, so that it is trued a second time. */
function putQuillfens(shop: Shop): void {
  const wanted = { ...BY_MAREK, name: 'late at the bench', code: 'F124-K', customer: 'quillfen' } as const
  const booked = bookedToday(shop, { ...wanted, why: 'hours-up', daysAgo: 14.4, promised: -1, as: { depositMinor: 0 } })
  const open = agreed(shop, measured(shop, booked))
  putPayment(shop, open.life, openAfter(open.at, 3), open.price.totalMinor)
  putKitWait(shop, open.life, open.at, inDays(shop, -3), 'Ardenlow F124-K K1')
  const built = trued(shop, kitIn(shop, { ...open, at: ago(shop, 2.6) }, ardenlow('F124-K', 'A-2417')))
  const { life } = built
  putPlace(shop, life, openAfter(built.at, 0.1), 'bench 2', 'marek')
  putLetGo(shop, built, openAfter(built.at, 7))
}

/** A snow twin: its first throw is pressed and true on its own shafts, the second lies beside it. */
function putTwin(shop: Shop): void {
  const wanted = { ...BY_EWA, name: 'first throw done', code: 'P594-2S', customer: 'thorvald' } as const
  const booked = bookedToday(shop, { ...wanted, why: 'seized', daysAgo: 6.2, promised: 7, as: { place: 'rack A', depositMinor: 0 } })
  const parted = apart(shop, agreed(shop, measured(shop, booked)), { hours: 1.6 })
  const open = kitIn(shop, parted, ardenlow('P594-2S', 'A-2417'))
  const at = putHalf(shop, open.life, 'throw-1', { hand: 'ewa', from: openAfter(open.at, 1), hours: 1.7, n: 300 })
  putPlace(shop, open.life, openAfter(at, 0.1), 'bench 1', 'ewa')
}

function putWaitingForKits(shop: Shop): void {
  const ordered = {
    ...BY_MAREK,
    name: 'agreed, waits for its kit',
    code: 'O244-T',
    customer: 'szoke',
  } as const
  const agreedOn = agreed(shop, measured(shop, bookedToday(shop, { ...ordered, why: 'rust', daysAgo: 15.3, promised: 7 })))
  putKitWait(shop, agreedOn.life, openAfter(agreedOn.at, 0.2), inDays(shop, 2), 'Ardenlow O244-T K1, made to order')

  const oduya = {
    ...BY_MAREK,
    name: 'late, waits for its kit',
    code: 'O371-X',
    customer: 'oduya',
  } as const
  const deposit = { depositMinor: 60_00, depositHow: 'cash', place: 'rack B' } as const
  const parted = apart(
    shop,
    agreed(shop, measured(shop, bookedToday(shop, { ...oduya, why: 'knock', daysAgo: 12.3, promised: -2, as: deposit }))),
  )
  putKitWait(shop, parted.life, openAfter(parted.at, 0.3), inDays(shop, 1), 'Ardenlow O371-X K1, the pin on order')
  putTold(shop, parted.life, ago(shop, 0.05), 'It is apart and we wait for its pin, due tomorrow. We are late, and sorry for it.')

  const waits = {
    ...BY_JONAS,
    name: 'apart, waits for its kit',
    code: 'L349-4E',
    customer: 'haugs',
    why: 'seized',
    daysAgo: 9.4,
    promised: 9,
  } as const
  const open = apart(shop, agreed(shop, measured(shop, bookedToday(shop, { ...waits, as: { place: 'rack B' } }))))
  putKitWait(shop, open.life, openAfter(open.at, 0.3), inDays(shop, 3), 'Stellmarch L349-4E K2')
}

/** True, or of a report measured, and waiting for the second pair of eyes. */
function putToBeReadAgain(shop: Shop): void {
  const wanted = {
    ...BY_JONAS,
    name: 'to be read again',
    code: 'B293-E',
    customer: 'moreau',
    why: 'hours-up',
    daysAgo: 13,
    promised: 4,
  } as const
  const open = agreed(shop, measured(shop, bookedToday(shop, wanted)))
  putKitWait(shop, open.life, open.at, inDays(shop, -3), 'Ardenlow B293-E K1')
  const built = trued(shop, kitIn(shop, { ...open, at: ago(shop, 2.1) }, ardenlow('B293-E', 'A-2417')))
  putPlace(shop, built.life, openAfter(built.at, 0.05), 'bench 2', 'jonas')

  const report = {
    name: 'report to be read again',
    code: 'T149-4C',
    customer: 'kessen',
    kind: 'check-and-report',
    why: 'not-known',
  } as const
  measured(shop, agreed(shop, bookedToday(shop, { ...report, builder: 'jonas', checker: 'marek', daysAgo: 3.5, promised: 5 })), {
    hoursLater: A_DAY,
  })
}
