import { expect, test } from 'vitest'
import { booking } from '#contract/jobs.ts'
import { ID } from '#tests/web/jobs/sample-job.ts'
import { type BookingForm, bookingForm, EMPTY_BOOKING, isBlank, readBooking } from '#web/features/jobs/booking-form.ts'

const form = (change: Partial<BookingForm>): BookingForm => ({ ...EMPTY_BOOKING, ...change })
const somebody = { ...EMPTY_BOOKING.customer, name: 'Petit, J.', phone: '0161 496 0107' }
const engine = { ...EMPTY_BOOKING.crank, engineId: ID.engine }

test('a name, a way to reach them and the engine are enough, and the wire takes it', () => {
  const read = readBooking(form({ customer: somebody, crank: engine }), 'EUR')
  expect(read.ok).toBe(true)
  if (!read.ok) return
  expect(read.booking).toMatchObject({ customer: { name: 'Petit, J.', phone: '0161 496 0107' }, crank: { engineId: ID.engine } })
  expect(booking.safeParse(read.booking).success).toBe(true)
  // What was not given is not on the wire, not even as empty text.
  expect(read.booking).not.toHaveProperty('usedFor')
  expect(read.booking).not.toHaveProperty('depositMinor')
})

test('an empty booking names what is missing, all in one go', () => {
  const read = readBooking(EMPTY_BOOKING, 'EUR')
  expect(read.ok).toBe(false)
  if (read.ok) return
  expect(Object.keys(read.faults).sort()).toEqual(['crank.engineId', 'customer.name', 'customer.phone'])
})

test('what came with it keeps its order, its counts, and what was written beside the chips', () => {
  const read = readBooking(
    form({ customer: somebody, crank: engine, cameWith: ['keys', 'cam gear'], counts: { keys: '2' }, cameElse: 'tin of shims; label' }),
    'EUR',
  )
  expect(read.ok && read.booking.cameWith).toEqual([
    { what: 'keys', count: 2 },
    { what: 'cam gear' },
    { what: 'tin of shims' },
    { what: 'label' },
  ])
})

test.each([
  [{ hours: 'sixty', hoursHow: 'metered' as const }, 'hours'],
  [{ hours: '61' }, 'hoursHow'],
  [{ depositMinor: '12.345' }, 'depositMinor'],
  [{ depositMinor: '100' }, 'depositHow'],
  [{ cameWith: ['keys' as const], counts: { keys: 'two' } }, 'counts.keys'],
  [{ crank: { ...engine, pressedBefore: '1.5' } }, 'crank.pressedBefore'],
  [{ customer: { ...somebody, mail: 'not an address' } }, 'customer.mail'],
])('%o is shown at its field', (change, at) => {
  const read = readBooking(form({ customer: somebody, crank: engine, ...change }), 'EUR')
  expect(read.ok).toBe(false)
  expect(read.ok ? {} : read.faults).toHaveProperty([at])
})

test('a known crank goes by its id, and only then can it be a comeback', () => {
  const known = form({
    customer: { ...somebody, id: ID.customer },
    crank: { ...engine, id: ID.crank },
    comebackOf: ID.job,
    comebackWhy: 'knock at 12 h',
  })
  const read = readBooking(known, 'EUR')
  expect(read.ok && read.booking).toMatchObject({ customer: { id: ID.customer }, crank: { id: ID.crank }, comebackOf: ID.job })
  const other = readBooking(form({ ...known, crank: engine }), 'EUR')
  expect(other.ok && other.booking.comebackOf).toBeUndefined()
})

test('money is read into minor units with either mark', () => {
  const read = readBooking(form({ customer: somebody, crank: engine, depositMinor: '100,50', depositHow: 'cash' }), 'EUR')
  expect(read.ok && read.booking).toMatchObject({ depositMinor: 10_050, depositHow: 'cash' })
})

test('a draft from another day still opens: what no longer fits falls back, the rest stands', () => {
  const old = bookingForm.parse({ customer: { name: 'Walden, M.' }, kind: 'polish', hours: 12, promisedOn: '2026-12-01', gone: true })
  expect(old.customer.name).toBe('Walden, M.')
  expect(old.kind).toBe('rebuild')
  expect(old.hours).toBe('')
  expect(old.promisedOn).toBe('2026-12-01')
  expect(bookingForm.parse({}).customer.hearBy).toBe('phone')
})

test('a booking with nothing in it is blank, whatever its id', () => {
  expect(isBlank({ ...EMPTY_BOOKING, id: ID.job })).toBe(true)
  expect(isBlank(form({ usedFor: 'kart' }))).toBe(false)
})
