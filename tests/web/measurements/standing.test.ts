import { expect, test } from 'vitest'
import { EMPTY, read, setOf } from '#tests/web/bench-sample.ts'
import { fitsOf } from '#web/features/measurements/fit-now.tsx'
import { pinAndBores, stackOf } from '#web/features/measurements/standing.ts'

const bores = setOf({ kind: 'bore', values: read({ 'left-outer-0': 34.905, 'right-outer-0': 34.921 }) })
const oldPin = setOf({ kind: 'pin', values: read({ 'left-0': 35.012, 'right-0': 35.012 }) })
const kitPin = setOf({ kind: 'pin', phase: 'kit', values: read({ 'left-0': 35.014, 'right-0': 35.015 }) })

test('the pin of the kit counts before the old one, whichever was read later', () => {
  const { webs, ofOldPin } = pinAndBores({ ...EMPTY, measurements: [kitPin, bores, oldPin] })
  expect(webs).toEqual({ left: { pinMm: [35.014], boreMm: [34.905] }, right: { pinMm: [35.015], boreMm: [34.921] } })
  expect(ofOldPin).toBe(false)
})

test('without the kit’s the old pin is shown, and said to be it', () => {
  const { webs, ofOldPin } = pinAndBores({ ...EMPTY, measurements: [oldPin, bores] })
  expect(webs.left.pinMm).toEqual([35.012])
  expect(ofOldPin).toBe(true)
})

test('what is keyed stands in for its own kind; a struck-out set counts for nothing', () => {
  const struck = { ...bores, struck: { by: 'Jonas', at: '2026-11-24T10:00:00Z', because: 'wrong ring' } }
  const bench = { ...EMPTY, measurements: [kitPin, struck] }
  expect(pinAndBores(bench).webs.left.boreMm).toEqual([])
  const now = { kind: 'bore' as const, ofKit: false, taken: { 'left-outer-0': 34.91 } }
  expect(pinAndBores(bench, now).webs.left).toEqual({ pinMm: [35.014], boreMm: [34.91] })
})

test('the fit shown is the sum of the book: least pin less greatest bore', () => {
  const { webs } = pinAndBores({ ...EMPTY, measurements: [kitPin, bores] })
  const figures = { pinDiameterMm: 35, engagementMm: 21.8, shopFloorMm: 0.1 }
  const { left, right } = fitsOf({ webs, figures, scrapShare: 0.0022 })
  expect(left?.interferenceMm).toBeCloseTo(0.109, 9)
  expect(left?.verdict).toBe('go')
  expect(right?.interferenceMm).toBeCloseTo(0.094, 9)
  expect(right?.verdict).toBe('below-shop-floor')
})

test('a stack is whole or nothing', () => {
  const whole = setOf({ kind: 'stack', values: read({ 'web-left': 20.98, 'web-right': 20.99, rod: 19.75, 'washer-1': 1 }) })
  expect(stackOf({ ...EMPTY, measurements: [whole] })).toEqual({ webLeftMm: 20.98, webRightMm: 20.99, rodWidthMm: 19.75, washersMm: [1] })
  expect(stackOf({ ...EMPTY, measurements: [setOf({ kind: 'stack', values: read({ rod: 19.75 }) })] })).toBeUndefined()
})
