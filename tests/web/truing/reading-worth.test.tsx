import { cleanup, render, screen, within } from '@testing-library/react'
import { afterEach, expect, test, vi } from 'vitest'
import { fakeBook, openAt } from '#tests/web/truing/fake-book.tsx'
import { dial4, JOB_ID, jobAt, jonas, setup, swung, truingWith } from '#tests/web/truing/sample-bench.ts'
import { ReadingWorth, worthHere, worthOfSet, worthText } from '#web/features/truing/reading-worth.tsx'
import type { ReadingSetUp } from '#web/features/truing/set-up.ts'
import { BenchTruePage } from '#web/pages/bench-true.tsx'

afterEach(() => {
  cleanup()
  vi.unstubAllGlobals()
})

const setUp: ReadingSetUp = { ...setup, stepMm: 0.01, readAt: 'four', dials: 'two', instrumentId: dial4.id }

test('a give-or-take is rounded up, never down', () => {
  expect([0.00785, 0.008, 0.0080001, 0.0123].map(worthText)).toEqual(['0.008', '0.008', '0.009', '0.013'])
})

test('says each end, part by part with its share, and what would help most', () => {
  const onBearings = { ...setUp, held: 'v-blocks-bearings', surfaceLeft: 'plain', dialLeftMm: 50 } as const
  render(<ReadingWorth worth={worthHere(onBearings, dial4)} />)
  expect(screen.getByText('Worth ± 0.020 at each end')).toBeTruthy()
  const left = screen.getByRole('region', { name: 'What the left end is worth' })
  // By hand: 0.013²/6 × ((1 + 50/88)² + (50/88)²) of the ring against all the rest is 0.853 of the whole; 0.0192, rounded up.
  expect(left.textContent).toContain('bearings 85 %: read on bare seats.')
  const shares = within(left)
    .getAllByRole('listitem')
    .map((one) => Number(/(\d+) %/.exec(one.textContent ?? '')?.[1]))
  expect(shares).toEqual([...shares].sort((one, other) => other - one))
  expect(shares.reduce((sum, share) => sum + share, 0)).toBeGreaterThan(97)
})

test('the register’s own figures stand before the usual ones, and a warm crank is flagged', () => {
  const worn = worthHere(setUp, { ...dial4, errorMm: 0.02 })
  expect(worn[0]!.giveOrTakeMm).toBeGreaterThan(2 * worthHere(setUp, dial4)[0]!.giveOrTakeMm)
  render(<ReadingWorth worth={worn} warm />)
  expect(screen.getByText(/^Still warm/)).toBeTruthy()
})

test('held true in a lathe only the end that is read is worth anything; a set of the table’s time has no parts', () => {
  expect(worthHere({ ...setUp, held: 'lathe-left' }, dial4).map((end) => end.side)).toEqual(['right'])
  const { worth: _worth, ...old } = swung.runout!
  expect(worthOfSet(old, 'v-blocks-bare')).toEqual([])
})

test('stands beside the figures while they are keyed', async () => {
  fakeBook(jonas, {
    [`GET /api/jobs/${JOB_ID}`]: jobAt('together'),
    [`GET /api/jobs/${JOB_ID}/truing`]: truingWith(swung, { stale: true, advice: undefined }),
    [`GET /api/jobs/${JOB_ID}/gate`]: { next: 'trued', act: 'to true', missing: [] },
  })
  openAt(`/bench/${JOB_ID}/true`, { '/bench/:jobId/true': BenchTruePage })
  expect(await screen.findByText('Worth ± 0.009 left, 0.008 right')).toBeTruthy()
})
