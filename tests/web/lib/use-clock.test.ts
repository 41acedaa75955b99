import { act, cleanup, renderHook } from '@testing-library/react'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { secondsSince, useElapsed } from '#web/lib/use-clock.ts'

beforeEach(() => {
  vi.useFakeTimers({ now: Date.parse('2026-11-24T09:00:00Z') })
})
afterEach(() => {
  cleanup()
  vi.useRealTimers()
})

test('a running clock counts on, a stopped one says nothing', () => {
  const { result, rerender } = renderHook(({ from }: { from: string | undefined }) => useElapsed(from), {
    initialProps: { from: '2026-11-24T08:59:00Z' as string | undefined },
  })
  expect(result.current).toBe(60)
  act(() => {
    vi.advanceTimersByTime(5000)
  })
  expect(result.current).toBe(65)
  rerender({ from: undefined })
  expect(result.current).toBeUndefined()
})

test('a tablet whose clock is behind the book does not count backwards', () => {
  expect(secondsSince('2026-11-24T09:00:10Z', Date.parse('2026-11-24T09:00:00Z'))).toBe(0)
  expect(() => secondsSince('soon', 0)).toThrow(RangeError)
})
