import { cleanup, screen } from '@testing-library/react'
import { afterEach, beforeEach, vi } from 'vitest'
import type { MeasurementNew } from '#contract/measurements.ts'
import { pressKey } from '#tests/web/bench-keys.ts'
import { type FakeBook, fakeBook, openAt, type Sent } from '#tests/web/truing/fake-book.tsx'
import { dial4, JOB_ID, jobAt, jonas, setOf, swung, truingWith } from '#tests/web/truing/sample-bench.ts'
import { marksSaid } from '#web/features/truing/marks-said.ts'
import { type ReadingState, readingAfter, startReading } from '#web/features/truing/reading-state.ts'
import type { ReadingSetUp } from '#web/features/truing/set-up.ts'
import { BenchTruePage } from '#web/pages/bench-true.tsx'

export const JOB = `/api/jobs/${JOB_ID}`
export const MEASUREMENTS = `${JOB}/measurements`

/** Each test opens the page on a tablet that holds nothing but which way the marks run. */
export function freshTablet(): void {
  beforeEach(() => {
    sessionStorage.clear()
    marksSaid.write({ run: 'clockwise', setId: '' })
  })
  afterEach(() => {
    cleanup()
    vi.unstubAllGlobals()
  })
}

/** A crank that was pressed together and has been moved since it was read. */
export function bench(over: Record<string, unknown> = {}, me = jonas): FakeBook {
  return fakeBook(me, {
    [`GET ${JOB}`]: jobAt('together'),
    [`GET ${JOB}/truing`]: truingWith(swung, { stale: true, advice: undefined }),
    [`GET ${JOB}/gate`]: { next: 'trued', act: 'to true', missing: [] },
    ...over,
  })
}

export function open(): void {
  openAt(`/bench/${JOB_ID}/true`, { '/bench/:jobId/true': BenchTruePage })
}

export const button = (name: string | RegExp) => screen.getByRole('button', { name })

/** Keys a figure in divisions of the dial and takes it. */
export function key(divisions: string): void {
  for (const sign of divisions) pressKey(sign === '-' ? 'minus' : sign)
  pressKey('It reads this')
}

/** The server's side of a set: it keeps it and works it out. */
export function keep({ body }: Sent) {
  const set = body as MeasurementNew
  const of = (side: 'left' | 'right') => set.values.filter((one) => one.place.startsWith(side)).map((one) => one.mm)
  return setOf(set.id ?? '', of('left'), of('right'), { at: set.occurredAt ?? '2026-12-02T13:00:00Z' })
}

export const SET_UP: ReadingSetUp = {
  held: 'v-blocks-bare',
  supportLeftMm: 44,
  supportRightMm: 44,
  dialLeftMm: 45,
  dialRightMm: 50,
  surfaceLeft: 'taper 1:5',
  surfaceRight: 'plain',
  instrumentId: dial4.id,
  stepMm: 0.01,
  readAt: 'four',
  dials: 'two',
}
export const NOW = '2026-12-02T12:40:00.000Z'
export const START = startReading('0198f3a0-0000-7000-8000-000000000301', SET_UP)

/** A figure in whole or half divisions, taken where the reading stands. */
export function take(state: ReadingState, divisions: number, last: { left?: number; right?: number } = {}): ReadingState {
  const size = Math.abs(divisions)
  const keyed = { digits: String(Math.floor(size)), negative: divisions < 0, half: !Number.isInteger(size) }
  return readingAfter(state, { do: 'take', keyed, last, now: NOW })
}

export const takeAll = (state: ReadingState, all: readonly number[]) => all.reduce((now, one) => take(now, one), state)
