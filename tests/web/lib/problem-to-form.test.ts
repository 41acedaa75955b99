import { expect, test, vi } from 'vitest'
import { PROBLEM_TITLES } from '#contract/problem-types.ts'
import { Problem, Unreachable } from '#web/lib/problem.ts'
import { fieldNameOf, putOnForm } from '#web/lib/problem-to-form.ts'

function refused(errors: { pointer: string; code: string; detail: string }[], detail = 'Two fields need another look.'): Problem {
  return new Problem({ type: '/problems/validation', title: PROBLEM_TITLES.validation, status: 400, detail, errors })
}

// RFC 6901, section 4 (~0 and ~1) and section 6 (as a fragment).
test.each([
  ['/name', 'name'],
  ['/runout/0/mm', 'runout.0.mm'],
  ['#/runout/0/mm', 'runout.0.mm'],
  ['/a~1b/m~0n', 'a/b.m~n'],
  ['#/c%25d', 'c%d'],
  ['', ''],
])('pointer %s is the field %s', (pointer, name) => {
  expect(fieldNameOf(pointer)).toBe(name)
})

test('each refusal goes beside its field, the first one takes the focus', () => {
  const setError = vi.fn()
  putOnForm(
    refused([
      { pointer: '/name', code: 'too_small', detail: 'Write something here.' },
      { pointer: '/phones/1', code: 'custom', detail: 'That is no number.' },
    ]),
    ['name', 'phones'],
    setError,
  )
  expect(setError.mock.calls).toEqual([
    ['name', { type: 'too_small', message: 'Write something here.' }, { shouldFocus: true }],
    ['phones', { type: 'custom', message: 'That is no number.' }, { shouldFocus: false }],
  ])
})

test('what belongs to no field on the screen stands at the head', () => {
  const setError = vi.fn()
  putOnForm(
    refused([
      { pointer: '/name', code: 'a', detail: 'Write something here.' },
      { pointer: '/nameplate', code: 'b', detail: 'No such engine.' },
    ]),
    ['name'],
    setError,
  )
  expect(setError).toHaveBeenCalledWith('name', expect.anything(), { shouldFocus: true })
  expect(setError).toHaveBeenCalledWith('root', { type: 'refused', message: 'No such engine.' })
})

test('a problem without fields and a dead network stand at the head too', () => {
  const setError = vi.fn()
  putOnForm(refused([], 'The tag is taken.'), ['name'], setError)
  putOnForm(new Unreachable('x'), ['name'], setError)
  expect(setError.mock.calls.map(([name, fault]) => [name, fault.message])).toEqual([
    ['root', 'The tag is taken.'],
    ['root', 'The book cannot be reached. Look at the network, then try again; what you typed is still here.'],
  ])
})
