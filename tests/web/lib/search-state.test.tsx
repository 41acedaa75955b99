import { act, cleanup, renderHook } from '@testing-library/react'
import fc from 'fast-check'
import type { ReactNode } from 'react'
import { MemoryRouter, useLocation } from 'react-router'
import { afterEach, expect, test } from 'vitest'
import { z } from 'zod'
import { readSearch, useSearchState, writeSearch } from '#web/lib/search-state.ts'

const list = z.object({
  by: z.enum(['promise', 'tag', 'arrival']).default('promise'),
  late: z.stringbool().default(false),
  step: z.array(z.enum(['apart', 'together', 'trued'])).default([]),
  page: z.coerce.number().int().min(1).default(1),
  text: z.string().optional(),
})

afterEach(cleanup)

test('an address without anything is every default', () => {
  expect(readSearch(list, new URLSearchParams(''))).toEqual({ by: 'promise', late: false, step: [], page: 1 })
})

test('one name out of shape falls back and leaves the others', () => {
  expect(readSearch(list, new URLSearchParams('by=colour&page=-3&step=apart&text=knock'))).toEqual({
    by: 'promise',
    late: false,
    step: ['apart'],
    page: 1,
    text: 'knock',
  })
})

test('what stands at its default is not in the address', () => {
  expect(writeSearch(list, { by: 'promise', late: false, step: [], page: 1, text: '' }).toString()).toBe('')
  expect(writeSearch(list, { by: 'tag', late: true, step: ['apart', 'trued'], page: 2 }).toString()).toBe(
    'by=tag&late=true&step=apart&step=trued&page=2',
  )
})

test('every state of the filters comes back from its address', () => {
  fc.assert(
    fc.property(
      fc.record({
        by: fc.constantFrom('promise' as const, 'tag' as const, 'arrival' as const),
        late: fc.boolean(),
        step: fc.subarray(['apart' as const, 'together' as const, 'trued' as const]),
        page: fc.integer({ min: 1, max: 10_000 }),
        text: fc.string({ minLength: 1 }),
      }),
      (state) => {
        expect(readSearch(list, new URLSearchParams(writeSearch(list, state).toString()))).toEqual(state)
      },
    ),
  )
})

test('a page changes its address and reads it back', () => {
  const wrapper = ({ children }: { children: ReactNode }) => <MemoryRouter initialEntries={['/counter?by=tag']}>{children}</MemoryRouter>
  const { result } = renderHook(() => ({ state: useSearchState(list), at: useLocation() }), { wrapper })
  expect(result.current.state[0].by).toBe('tag')
  act(() => result.current.state[1]({ late: true }))
  expect(result.current.state[0]).toMatchObject({ by: 'tag', late: true })
  expect(result.current.at.search).toBe('?by=tag&late=true')
  act(() => result.current.state[1]({ by: 'promise' }))
  expect(result.current.at.search).toBe('?late=true')
})
