import { act, cleanup, renderHook } from '@testing-library/react'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { type DraftStore, tabDrafts, useDraft } from '#web/lib/draft.ts'
import { fields, read, text } from '#web/lib/shape.ts'

const note = fields<{ note: string }>({ note: text })
const form = (raw: unknown) => read(note, raw)

beforeEach(() => {
  vi.useFakeTimers()
  sessionStorage.clear()
})
afterEach(() => {
  cleanup()
  vi.useRealTimers()
})

async function settle(ms = 0) {
  await act(async () => {
    await vi.advanceTimersByTimeAsync(ms)
  })
}

test('typing is kept after a short rest and found by the next visit', async () => {
  const first = renderHook(() => useDraft('jonas:note', form, tabDrafts))
  await settle()
  expect(first.result.current.state).toBe('none')
  act(() => first.result.current.keep({ note: 'right web let' }))
  act(() => first.result.current.keep({ note: 'right web let go' }))
  expect(first.result.current.state).toBe('typing')
  expect(sessionStorage.length).toBe(0)
  await settle(500)
  expect(first.result.current.state).toBe('kept')
  first.unmount()
  const second = renderHook(() => useDraft('jonas:note', form, tabDrafts))
  await settle()
  expect(second.result.current.found).toEqual({ note: 'right web let go' })
})

test('leaving the page before the rest loses nothing', async () => {
  const { result, unmount } = renderHook(() => useDraft('jonas:note', form, tabDrafts))
  await settle()
  act(() => result.current.keep({ note: 'x' }))
  act(() => {
    window.dispatchEvent(new Event('pagehide'))
  })
  expect(sessionStorage.getItem('throwbook.draft.jonas:note')).toBe('{"note":"x"}')
  act(() => result.current.keep({ note: 'xy' }))
  unmount()
  expect(sessionStorage.getItem('throwbook.draft.jonas:note')).toBe('{"note":"xy"}')
})

test('a draft of an older form is not offered', async () => {
  sessionStorage.setItem('throwbook.draft.jonas:note', '{"remark":"x"}')
  const { result } = renderHook(() => useDraft('jonas:note', form, tabDrafts))
  await settle()
  expect(result.current.found).toBeUndefined()
  expect(result.current.state).toBe('none')
})

test('a cleared draft is gone, and a late rest does not bring it back', async () => {
  const { result } = renderHook(() => useDraft('jonas:note', form, tabDrafts))
  await settle()
  act(() => result.current.keep({ note: 'x' }))
  await act(() => result.current.clear())
  await settle(1000)
  expect(sessionStorage.length).toBe(0)
})

test('another person has another draft', async () => {
  const { result, rerender } = renderHook(({ who }) => useDraft(`${who}:note`, form, tabDrafts), { initialProps: { who: 'jonas' } })
  await settle()
  act(() => result.current.keep({ note: 'of Jonas' }))
  rerender({ who: 'marek' })
  await settle(500)
  expect(result.current.found).toBeUndefined()
  expect(sessionStorage.getItem('throwbook.draft.jonas:note')).toBe('{"note":"of Jonas"}')
  expect(sessionStorage.getItem('throwbook.draft.marek:note')).toBeNull()
})

test('a store that refuses is said, never called kept', async () => {
  const full: DraftStore = { load: async () => undefined, save: () => Promise.reject(new Error('full')), clear: async () => undefined }
  const { result } = renderHook(() => useDraft('jonas:note', form, full))
  await settle()
  act(() => result.current.keep({ note: 'x' }))
  await settle(500)
  expect(result.current.state).toBe('not-kept')
})
