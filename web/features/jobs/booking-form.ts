import { z } from 'zod'
import { type CustomerNew, customerNew, HEAR_BY } from '#contract/customers.ts'
import { type Booking, CAME_WITH, CONDITIONS, HOURS_HOW, YES_HOW } from '#contract/jobs.ts'
import { JOB_KINDS, WHY_NOW } from '#core/steps.ts'
import { readMoney, readQuantity } from '#web/lib/quantity.ts'

const text = z.string().catch('')
const chosen = <const Values extends readonly [string, ...string[]]>(values: Values, usual: Values[number]) =>
  z.enum(values).catch(usual as never)

/**
 * The booking as it stands on the screen: everything as typed. Each field that an older draft lacks or holds in another
 * form falls back by itself, so that a draft is never lost to a change of the form. Names follow the wire, so that what
 * the book refuses finds its field.
 */
export const bookingForm = z.object({
  id: text,
  customer: z
    .object({ id: text, name: text, phone: text, mail: text, address: text, hearBy: chosen(HEAR_BY, 'phone'), note: text })
    .catch({ id: '', name: '', phone: '', mail: '', address: '', hearBy: 'phone', note: '' }),
  crank: z
    .object({ id: text, engineId: text, engineNumber: text, marks: text, welded: z.boolean().catch(false), pressedBefore: text })
    .catch({ id: '', engineId: '', engineNumber: '', marks: '', welded: false, pressedBefore: '' }),
  engineTyped: text,
  cameBy: chosen(['counter', 'carrier'], 'counter'),
  goesBy: chosen(['counter', 'carrier'], 'counter'),
  hours: text,
  hoursHow: chosen(HOURS_HOW, 'unknown'),
  earlierRebuild: text,
  whyNow: chosen(WHY_NOW, 'not-known'),
  usedFor: text,
  oil: text,
  whoFits: text,
  kind: chosen(JOB_KINDS, 'rebuild'),
  wantedOn: text,
  promisedOn: text,
  kitFrom: chosen(['ours', 'theirs', 'none'], 'ours'),
  cameWith: z.array(z.enum(CAME_WITH)).catch([]),
  counts: z.record(z.string(), z.string()).catch({}),
  cameElse: text,
  condition: z.array(z.enum(CONDITIONS)).catch([]),
  conditionNote: text,
  oldPartsBack: z.boolean().catch(false),
  place: text,
  depositMinor: text,
  depositHow: text,
  feeYesBy: text,
  feeYesHow: z.enum(YES_HOW).or(z.literal('')).catch(''),
  comebackOf: text,
  comebackWhy: text,
})
export type BookingForm = z.infer<typeof bookingForm>

/** A draft as it lies in the book; a field that no longer fits stands empty, and what is no booking is none. */
export function readBookingForm(raw: unknown): BookingForm | undefined {
  return bookingForm.safeParse(raw).data
}

export const EMPTY_BOOKING: BookingForm = bookingForm.parse({})

/** What comes in numbers that matter: a key too few is found out only when the crank goes into its engine. */
export const COUNTED = ['keys', 'spacers'] as const

/** The fields that a refusal of the book can point at. */
export const BOOKING_NAMES = [
  'customer.name',
  'customer.phone',
  'customer.mail',
  'customer.address',
  'crank.engineId',
  'crank.engineNumber',
  'crank.pressedBefore',
  'crank.marks',
  'hours',
  'hoursHow',
  'earlierRebuild',
  'usedFor',
  'oil',
  'whoFits',
  'wantedOn',
  'promisedOn',
  'cameWith',
  'cameElse',
  'condition',
  'conditionNote',
  'place',
  'depositMinor',
  'depositHow',
  'feeYesBy',
  'feeYesHow',
  'comebackOf',
  'comebackWhy',
] as const
type BookingName = (typeof BOOKING_NAMES)[number] | `counts.${(typeof COUNTED)[number]}`

type Faults = Partial<Record<BookingName, string>>

const ONE_WAY = 'A phone number, a mail address or a postal address: one way to reach them.'

const given = (typed: string) => (typed.trim() === '' ? undefined : typed.trim())

/** Leaves out what was not given, which the wire does not know as empty text. */
function known<Fields extends Record<string, unknown>>(fields: Fields): { [Name in keyof Fields]: Exclude<Fields[Name], undefined> } {
  return Object.fromEntries(Object.entries(fields).filter(([, value]) => value !== undefined)) as never
}

function customerOf(form: BookingForm, faults: Faults): Booking['customer'] {
  const { id, name, phone, mail, address, hearBy, note } = form.customer
  if (id !== '') return { id }
  const made = known({
    name: name.trim(),
    phone: given(phone),
    mail: given(mail),
    address: given(address),
    hearBy,
    note: given(note),
  }) as CustomerNew
  const read = customerNew.safeParse(made)
  for (const issue of read.error?.issues ?? []) {
    const at = `customer.${String(issue.path[0])}` as BookingName
    faults[at] ??= at === 'customer.name' ? 'Whose is it? A name is enough.' : issue.message
  }
  // The shape says this only of a customer that is else in order; both are to be mended in one go.
  if (given(phone) === undefined && given(mail) === undefined && given(address) === undefined) faults['customer.phone'] ??= ONE_WAY
  return made
}

function crankOf(form: BookingForm, faults: Faults): Booking['crank'] {
  const { id, engineId, engineNumber, marks, welded, pressedBefore } = form.crank
  if (id !== '') return { id }
  if (engineId === '') faults['crank.engineId'] = 'Which engine? Choose its sheet, or make one.'
  const pressed = wholeNumber(pressedBefore, 0, 50)
  if (pressed === 'wrong') faults['crank.pressedBefore'] = 'A whole number from 0 to 50.'
  return known({
    engineId,
    engineNumber: given(engineNumber),
    marks: given(marks),
    welded: welded || undefined,
    pressedBefore: pressed === 'wrong' ? undefined : pressed,
  }) as Booking['crank']
}

function wholeNumber(typed: string, least: number, most: number): number | undefined | 'wrong' {
  if (typed.trim() === '') return undefined
  const number = Number(typed.trim())
  return Number.isInteger(number) && number >= least && number <= most ? number : 'wrong'
}

function hoursOf(form: BookingForm, faults: Faults): number | undefined {
  const read = readQuantity(form.hours, 'h')
  if (read.ok && read.value >= 0) {
    if (form.hoursHow === 'unknown') faults.hoursHow = 'Say how the hours are known: off a meter, or declared.'
    return read.value
  }
  if (read.ok) faults.hours = 'Not less than 0.'
  else if (!read.nothingTyped) faults.hours = read.detail
  return undefined
}

function depositOf(form: BookingForm, currency: string, faults: Faults): number | undefined {
  const read = readMoney(form.depositMinor, currency)
  if (!read.ok) {
    if (!read.nothingTyped) faults.depositMinor = read.detail
    return undefined
  }
  if (read.value > 0 && form.depositHow.trim() === '') faults.depositHow = 'Say how the deposit was paid.'
  return read.value > 0 ? read.value : undefined
}

/** What came with the crank: the chips in their order, with counts where they matter, then what was written beside them. */
function cameWithOf(form: BookingForm, faults: Faults): Booking['cameWith'] {
  const ticked = form.cameWith.map((what) => {
    if (!COUNTED.some((one) => one === what)) return { what }
    const count = wholeNumber(form.counts[what] ?? '', 1, 99)
    if (count === 'wrong') faults[`counts.${what}` as BookingName] = 'A whole number from 1 to 99.'
    return typeof count === 'number' ? { what, count } : { what }
  })
  return [...ticked, ...listed(form.cameElse).map((what) => ({ what }))]
}

/** `tin of shims, label` as two things. */
export function listed(typed: string): string[] {
  return typed
    .split(/[,;\n]/)
    .map((one) => one.trim())
    .filter((one) => one !== '')
}

export type ReadBooking = { ok: true; booking: Booking } | { ok: false; faults: Faults }

/** The booking as the wire wants it, or what is to be mended first, by field. */
export function readBooking(form: BookingForm, currency: string): ReadBooking {
  const faults: Faults = {}
  const deposit = depositOf(form, currency, faults)
  const isKnownCrank = form.crank.id !== ''
  const booking = known({
    id: given(form.id),
    customer: customerOf(form, faults),
    crank: crankOf(form, faults),
    kind: form.kind,
    whyNow: form.whyNow,
    cameBy: form.cameBy,
    goesBy: form.goesBy,
    hours: hoursOf(form, faults),
    hoursHow: form.hoursHow,
    usedFor: given(form.usedFor),
    oil: given(form.oil),
    whoFits: given(form.whoFits),
    earlierRebuild: given(form.earlierRebuild),
    wantedOn: given(form.wantedOn),
    promisedOn: given(form.promisedOn),
    place: given(form.place),
    kitFrom: form.kitFrom,
    cameWith: cameWithOf(form, faults),
    condition: form.condition,
    conditionNote: given(form.conditionNote),
    oldPartsBack: form.oldPartsBack,
    feeYesBy: given(form.feeYesBy),
    feeYesHow: form.feeYesHow === '' ? undefined : form.feeYesHow,
    depositMinor: deposit,
    depositHow: deposit === undefined ? undefined : given(form.depositHow),
    comebackOf: isKnownCrank ? given(form.comebackOf) : undefined,
    comebackWhy: isKnownCrank && form.comebackOf !== '' ? given(form.comebackWhy) : undefined,
  }) as Booking
  return Object.keys(faults).length === 0 ? { ok: true, booking } : { ok: false, faults }
}

/** Whether anything worth keeping has been put in. */
export function isBlank(form: BookingForm): boolean {
  const { id: _id, ...rest } = form
  const { id: _none, ...empty } = EMPTY_BOOKING
  return JSON.stringify(rest) === JSON.stringify(empty)
}
