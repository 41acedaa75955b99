import { fireEvent, screen, waitFor } from '@testing-library/react'
import { expect, test } from 'vitest'
import type { MeasurementNew } from '#contract/measurements.ts'
import { posts } from '#tests/web/truing/fake-book.tsx'
import { dial4, jonas, sheet, swung } from '#tests/web/truing/sample-bench.ts'
import { bench, button, freshTablet, keep, key, MEASUREMENTS, NOW, open, START, takeAll } from '#tests/web/truing/true-page.ts'
import { cellsOf } from '#web/features/truing/marks-to-read.ts'
import { type ReadingState, readingAfter, skipRefusal, startReading } from '#web/features/truing/reading-state.ts'
import { setToSend } from '#web/features/truing/set-to-send.ts'
import { knownSetUp } from '#web/features/truing/set-up.ts'

freshTablet()

const EIGHT: ReadingState = startReading('set', { ...START.setUp, readAt: 'eight', dials: 'one' })

test('a mark that lies in a keyway is skipped at its end alone, and can be read after all', () => {
  const at135 = takeAll(EIGHT, [0, 1, 2])
  expect(cellsOf(at135.setUp)[at135.at]).toMatchObject({ side: 'left', name: '4½' })
  const skipped = readingAfter(at135, { do: 'skip', now: NOW })
  expect(skipped.setUp).toMatchObject({ skippedLeftDeg: [135] })
  expect(cellsOf(skipped.setUp)).toHaveLength(17)
  expect(cellsOf(skipped.setUp)[skipped.at]?.name).toBe('6')
  expect(cellsOf(skipped.setUp).filter((cell) => cell.side === 'right')).toHaveLength(9)
  const back = readingAfter(skipped, { do: 'unskip', side: 'left', deg: 135 })
  expect([back.at, back.taken.length, back.setUp.skippedLeftDeg]).toEqual([3, 18, []])
  expect(back.taken.slice(0, 3).map((one) => one?.mm)).toEqual([0, 0.01, 0.02])
  const sent = setToSend(takeAll(skipped, Array(14).fill(0)), 'built', true)
  expect(sent.setup).toMatchObject({ skippedLeftDeg: [135] })
  expect(sent.setup).not.toHaveProperty('skippedRightDeg')
  expect(sent.values.filter((value) => value.place === 'left')).toHaveLength(7)
})

test('12 is not skipped, and neither is a mark without which three are not left', () => {
  expect(skipRefusal(EIGHT)).toMatch(/^12 is read again at the end/)
  expect(readingAfter(EIGHT, { do: 'skip', now: NOW })).toBe(EIGHT)
  const four = startReading('set', { ...START.setUp, dials: 'one' })
  const one = readingAfter(takeAll(four, [0]), { do: 'skip', now: NOW })
  expect(one.setUp.skippedLeftDeg).toEqual([90])
  expect(skipRefusal(one)).toBe('Three marks are the least that tell a swing. Read at eight marks, or move the dial along the shaft.')
  expect(readingAfter(one, { do: 'skip', now: NOW })).toBe(one)
})

test('the marks skipped last time are skipped again, at the same place of the shaft', () => {
  const before = { ...swung, setup: swung.setup && { ...swung.setup, skippedRightDeg: [135] } }
  expect(knownSetUp(sheet, [dial4], before, jonas.id)).toMatchObject({ skippedRightDeg: [135] })
  const other = knownSetUp(sheet, [dial4], before, jonas.id, { dials: 'two', marksRun: 'other-way' })
  expect(other).toMatchObject({ skippedRightDeg: [225], marksRun: 'other-way' })
})

test('a mark in a keyway is skipped with one key, and 12 is not', async () => {
  const book = bench()
  book.answers.set(`POST ${MEASUREMENTS}`, keep)
  open()
  await screen.findByText('Next: left end at 12.')
  fireEvent.click(button('Skip it: a keyway lies here'))
  expect(screen.getByRole('alert').textContent).toMatch(/^12 is read again at the end/)
  for (const one of ['0', '0']) key(one)
  fireEvent.click(button('Skip it: a keyway lies here'))
  expect(await screen.findByText('Next: right end at 3.')).toBeTruthy()
  expect(button('left end at 3: skipped, a keyway lies there. Read it after all')).toBeTruthy()
  for (const one of ['-6', '2', '2', '-5', '8', '0', '0']) key(one)
  fireEvent.click(button('Take this set'))
  await waitFor(() => expect(posts(book, MEASUREMENTS)).toHaveLength(1))
  const sent = posts(book, MEASUREMENTS)[0]?.body as MeasurementNew
  expect(sent.setup).toMatchObject({ skippedLeftDeg: [90], marksRun: 'clockwise' })
  expect(sent.values.filter((one) => one.place === 'left').map((one) => one.atDeg)).toEqual([0, 180, 270])
})
