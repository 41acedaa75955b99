import { describe, expect, test } from 'vitest'
import { KINDS, nearOf, phasesFor } from '#web/features/measurements/kinds.ts'
import {
  figureKeyed,
  figureTyped,
  isInFull,
  resumeSet,
  type SetState,
  setAfter,
  setForBook,
  startSet,
  type TakenFigure,
} from '#web/features/measurements/set-state.ts'

const places = KINDS.width.places
const NOW = '2026-11-24T09:00:00.000Z'
const figure = (mm: number): TakenFigure => ({ typed: mm.toFixed(2), unit: 'mm', mm })

function taken(...figures: number[]): SetState {
  return figures.reduce((state, mm) => setAfter(state, { do: 'take', figure: figure(mm), now: NOW }), startSet('a', places))
}

test('one figure after another, then the set is in', () => {
  const state = taken(63.99, 64.01, 64.06)
  expect(state.at).toBe(3)
  expect(isInFull(state)).toBe(false)
  const full = setAfter(state, { do: 'take', figure: figure(64), now: NOW })
  expect(full.at).toBe(4)
  expect(isInFull(full)).toBe(true)
})

test('back one empties the cell before and keys it afresh; going back keeps what came after', () => {
  const back = setAfter(taken(63.99, 64.01), { do: 'back' })
  expect([back.at, back.taken[0]?.valueOf(), back.taken[1]]).toEqual([1, figure(63.99), null])
  const first = setAfter(taken(63.99, 64.01, 64.06, 64), { do: 'go', at: 0 })
  expect([first.at, first.taken[0], first.taken[3]]).toEqual([0, null, figure(64)])
  const again = setAfter(first, { do: 'take', figure: figure(63.98), now: NOW })
  expect(again.at).toBe(4)
})

test('back one at the first cell only rubs out what is keyed', () => {
  const state = setAfter(startSet('a', places), { do: 'key', keyed: { digits: '63', negative: false, half: false } })
  expect(setAfter(state, { do: 'back' })).toEqual(startSet('a', places))
})

test('nothing but left-out cells is no set', () => {
  const rod = KINDS.rod.places
  const out = rod.reduce((state) => setAfter(state, { do: 'leave-out' }), startSet('a', rod))
  expect(out.at).toBe(rod.length)
  expect(isInFull(out)).toBe(false)
})

test('what was kept is gone on with; a set of other places begins afresh', () => {
  const kept = { setId: 'a', taken: [figure(63.99), null, null, null], takenAt: NOW }
  expect(resumeSet(kept, places).at).toBe(1)
  expect(resumeSet({ ...kept, taken: [null] }, places)).toEqual(startSet('a', places))
})

test('the set goes to the book in order, as typed, without what was left out', () => {
  const rod = KINDS.play.places
  const first = setAfter(startSet('a', rod), { do: 'take', figure: { typed: '2.5', unit: 'thou', mm: 0.0635 }, now: NOW })
  const body = setForBook(setAfter(first, { do: 'leave-out' }), rod, {
    kind: 'play',
    phase: 'received',
    instrumentId: undefined,
    temperatureC: 21,
  })
  expect(body).toEqual({
    id: 'a',
    kind: 'play',
    phase: 'received',
    occurredAt: NOW,
    temperatureC: 21,
    values: [{ place: 'up-down', typed: '2.5', unit: 'thou', mm: 0.0635 }],
  })
})

test('a keyed figure is what its text says, a typed one keeps its unit', () => {
  expect(figureKeyed({ digits: '06', negative: false, half: false }, 0.01, 64)).toEqual({ typed: '64.06', unit: 'mm', mm: 64.06 })
  expect(figureKeyed({ digits: '', negative: false, half: false }, 0.01, 64)).toBeUndefined()
  // 25.4 µm to the thou exactly (NIST SP 811).
  expect(figureTyped('2,5', 'thou')).toEqual({ ok: true, figure: { typed: '2,5', unit: 'thou', mm: 0.0635 } })
  expect(figureTyped('2.5 mm', 'thou')).toEqual({ ok: true, figure: { typed: '2.5 mm', unit: 'mm', mm: 2.5 } })
  expect(figureTyped('1.2.3', 'mm').ok).toBe(false)
})

describe('when a set can be taken', () => {
  test('before parting the width is first of all as it came in', () => {
    expect(phasesFor('width', 'rebuild', 'booked')[0].value).toBe('received')
    expect(phasesFor('width', 'rebuild', 'apart')[0].value).toBe('built')
  })
  test('a report has only what came in', () => {
    expect(phasesFor('clearance', 'check-and-report', 'measured').map((one) => one.value)).toEqual(['received'])
  })
  test('the pin of the kit comes before the one that came out', () => {
    expect(phasesFor('pin', 'rebuild', 'apart').map((one) => one.value)).toEqual(['kit', 'building'])
  })
})

test('whole millimetres are known where the sheet has them', () => {
  expect(nearOf('width', { widthMinMm: 63.95, widthMaxMm: 64.05 })).toBeCloseTo(64, 10)
  expect(nearOf('bore', { pinDiameterMm: 35 })).toBe(35)
  expect(nearOf('stack', { engagementMm: 21.8 })).toBeUndefined()
})
