import { expect, test } from 'vitest'
import { dial4, dial7, jonas, sheet, swung } from '#tests/web/truing/sample-bench.ts'
import { NOW, SET_UP, START, take, takeAll } from '#tests/web/truing/true-page.ts'
import { cellsOf, marksOf } from '#web/features/truing/marks-to-read.ts'
import { isOdd } from '#web/features/truing/odd-figure.ts'
import { isComplete, readingAfter, resumeReading, startReading } from '#web/features/truing/reading-state.ts'
import { preview, setToSend } from '#web/features/truing/set-to-send.ts'
import { completeSetUp, knownSetUp } from '#web/features/truing/set-up.ts'
import { markName } from '#web/features/truing/words.ts'
import { NOTHING_KEYED } from '#web/lib/keyed.ts'

test('one turn reads both ends: left then right at 12, 3, 6, 9 and 12 again', () => {
  expect(cellsOf(SET_UP).map((cell) => `${cell.place} ${cell.name}`)).toEqual([
    'left 12',
    'right 12',
    'left 3',
    'right 3',
    'left 6',
    'right 6',
    'left 9',
    'right 9',
    'left-again 12 again',
    'right-again 12 again',
  ])
})

test('with one dial an end is read after the other, and eight marks stand every 45°', () => {
  const cells = cellsOf({ readAt: 'eight', held: 'v-blocks-bare', dials: 'one' })
  expect(cells).toHaveLength(18)
  expect(cells.slice(0, 9).every((cell) => cell.side === 'left')).toBe(true)
  expect(marksOf({ readAt: 'eight' }).map((mark) => mark.name)).toEqual(['12', '1½', '3', '4½', '6', '7½', '9', '10½', '12 again'])
})

test('a main held true in the lathe is not read', () => {
  expect(cellsOf({ readAt: 'four', held: 'lathe-left', dials: 'two' }).map((cell) => cell.side)).toEqual(Array(5).fill('right'))
})

test('the rim is a clock: 0° is 12, 45° half past one', () => {
  expect([0, 45, 90, 180, 270, 330, 360, -90].map(markName)).toEqual(['12', '1½', '3', '6', '9', '11', '12', '9'])
})

test('divisions become mm of that dial, halves too, and the set is complete after 12 again of both ends', () => {
  const nearly = takeAll(START, [0, 0, 7, -6, 2, 2, -5, 8, 0])
  expect(isComplete(nearly)).toBe(false)
  const done = take(nearly, 0.5)
  expect(isComplete(done)).toBe(true)
  expect(done.takenAt).toBe(NOW)
  expect(done.taken.map((one) => one?.mm)).toEqual([0, 0, 0.07, -0.06, 0.02, 0.02, -0.05, 0.08, 0, 0.005])
})

test('back one gives the figure back to the keypad and keeps it until it is keyed anew', () => {
  const back = readingAfter(takeAll(START, [0, 0, -5.5]), { do: 'back' })
  expect(back.at).toBe(2)
  expect(back.keyed).toEqual({ digits: '5', negative: true, half: true })
  expect(back.taken[2]?.mm).toBe(-0.055)
  const mended = take(back, 7)
  expect(mended.taken[2]?.mm).toBe(0.07)
  expect(mended.at).toBe(3)
})

test('an end read again loses its own figures only', () => {
  const again = readingAfter(takeAll(START, [0, 0, 7, -6, 2, 2, -5, 8, 0, 3]), { do: 'again', side: 'right' })
  expect(again.taken.map((one) => one?.mm)).toEqual([0, undefined, 0.07, undefined, 0.02, undefined, -0.05, undefined, 0, undefined])
  expect(again.at).toBe(1)
  expect(again.takenAt).toBeUndefined()
  expect(takeAll(again, [0, -6, 2, 8, 0]).at).toBe(10)
})

test('a figure far from last time is asked about once, counted from 12', () => {
  const asked = take(takeAll(START, [40, 40]), 120, { left: 0.17 })
  expect(asked.asked).toBe(true)
  expect(asked.taken[2]).toBeNull()
  const said = readingAfter(asked, { do: 'take', keyed: asked.keyed, last: { left: 0.17 }, now: NOW })
  expect(said.taken[2]?.mm).toBe(1.2)
  // 0.47 stands 0.07 above a 12 that read 0.40: nothing odd.
  expect(take(takeAll(START, [40, 40]), 47, { left: 0.17 }).asked).toBe(false)
})

test('what is odd: over twice the last swing and a tenth more, or over a millimetre with nothing to compare', () => {
  expect(isOdd(0.34, 0.17)).toBe(false)
  expect(isOdd(0.35, 0.17)).toBe(true)
  expect(isOdd(0.09, 0.02)).toBe(false)
  expect(isOdd(-0.13, 0.02)).toBe(true)
  expect(isOdd(0.9, undefined)).toBe(false)
  expect(isOdd(1.1, undefined)).toBe(true)
})

test('a full swing is read with the mark where it stands highest; below nothing it is not taken', () => {
  const swing = startReading('0198f3a0-0000-7000-8000-000000000302', { ...SET_UP, readAt: 'swing' })
  expect(take(swing, -4)).toEqual(swing)
  const left = take(swing, 12)
  expect(left.at).toBe(0)
  expect(isComplete(left)).toBe(false)
  const highAt3 = readingAfter(left, { do: 'high', deg: 90, now: NOW })
  expect(highAt3.at).toBe(1)
  // A swing of nothing has no high spot.
  const done = take(highAt3, 0)
  expect(isComplete(done)).toBe(true)
  expect(setToSend(done, 'built', true).values).toEqual([
    { place: 'left-swing', atDeg: 90, mm: 0.12, typed: '0.12', unit: 'mm' },
    { place: 'right-swing', atDeg: 0, mm: 0, typed: '0', unit: 'mm' },
  ])
})

test('another dial or other marks begin the set again, another surface does not', () => {
  const begun = takeAll(START, [0, 0, 7])
  expect(readingAfter(begun, { do: 'set-up', setUp: { ...SET_UP, surfaceLeft: 'seal land' } }).taken[2]?.mm).toBe(0.07)
  expect(readingAfter(begun, { do: 'set-up', setUp: { ...SET_UP, readAt: 'eight' } }).taken.every((one) => one === null)).toBe(true)
  const finer = readingAfter(begun, { do: 'set-up', setUp: { ...SET_UP, instrumentId: dial7.id, stepMm: 0.001 } })
  expect(finer.taken.every((one) => one === null)).toBe(true)
  expect(finer.setId).toBe(START.setId)
})

test('what was kept on the tablet goes on at the first figure that is missing', () => {
  const { setId, setUp: lay, taken } = takeAll(START, [0, 0, 7])
  expect(resumeReading({ setId, setUp: lay, taken })).toMatchObject({ at: 3, keyed: NOTHING_KEYED })
})

test('the set goes to the book whole, in mm, with its own id and its places', () => {
  const done = takeAll(START, [0, 0, 7, -6, 2, 2, -5, 8, 0, 0])
  expect(setToSend({ ...done, setUp: { ...SET_UP, temperatureC: 20.5 } }, 'built', true)).toEqual({
    id: START.setId,
    occurredAt: NOW,
    kind: 'runout',
    phase: 'built',
    instrumentId: dial4.id,
    temperatureC: 20.5,
    setup: {
      held: 'v-blocks-bare',
      supportLeftMm: 44,
      supportRightMm: 44,
      dialLeftMm: 45,
      dialRightMm: 50,
      surfaceLeft: 'taper 1:5',
      surfaceRight: 'plain',
      cold: true,
    },
    values: [
      { place: 'left', atDeg: 0, mm: 0, typed: '0', unit: 'mm' },
      { place: 'right', atDeg: 0, mm: 0, typed: '0', unit: 'mm' },
      { place: 'left', atDeg: 90, mm: 0.07, typed: '0.07', unit: 'mm' },
      { place: 'right', atDeg: 90, mm: -0.06, typed: '-0.06', unit: 'mm' },
      { place: 'left', atDeg: 180, mm: 0.02, typed: '0.02', unit: 'mm' },
      { place: 'right', atDeg: 180, mm: 0.02, typed: '0.02', unit: 'mm' },
      { place: 'left', atDeg: 270, mm: -0.05, typed: '-0.05', unit: 'mm' },
      { place: 'right', atDeg: 270, mm: 0.08, typed: '0.08', unit: 'mm' },
      { place: 'left-again', atDeg: 0, mm: 0, typed: '0', unit: 'mm' },
      { place: 'right-again', atDeg: 0, mm: 0, typed: '0', unit: 'mm' },
    ],
  })
})

test('the preview is the core’s own sum', () => {
  const done = takeAll(START, [0, 0, 7, -6, 2, 2, -5, 8, 0, 0])
  const figures = preview(done, sheet, 0.02, dial4)
  expect(figures.left?.tirMm).toBeCloseTo(swung.runout?.left?.tirMm ?? 0, 12)
  expect(figures.closes.agree).toBe(true)
})

test('the set-up begins as it lay last time, else as the sheet says; cold is carried over from one’s own set only', () => {
  expect(completeSetUp(knownSetUp(sheet, [dial7, dial4], undefined, jonas.id))).toMatchObject({
    supportLeftMm: 44,
    dialRightMm: 50,
    surfaceLeft: 'taper 1:5',
    instrumentId: dial7.id,
    stepMm: 0.001,
    readAt: 'four',
  })
  const moved = { ...swung, setup: swung.setup && { ...swung.setup, dialLeftMm: 40 } }
  expect(knownSetUp(sheet, [dial7, dial4], moved, jonas.id)).toMatchObject({ dialLeftMm: 40, instrumentId: dial4.id, cold: true })
  expect(knownSetUp(sheet, [dial7, dial4], moved, undefined).cold).toBeUndefined()
})

test('without places on the sheet there is no set-up to begin with', () => {
  const bare = { ...sheet, figures: sheet.figures.filter((figure) => figure.name !== 'dialLeftMm') }
  expect(completeSetUp(knownSetUp(bare, [dial4], undefined, jonas.id))).toBeUndefined()
})
