import { expect, expectTypeOf, test } from 'vitest'
import { anything, either, fields, figure, flag, listOf, oneOf, optional, read, type Shape, text, within } from '#web/lib/shape.ts'

interface Set {
  id: string
  side: 'left' | 'right'
  taken: (number | null)[]
  cold?: boolean | undefined
}
const set = fields<Set>({ id: text, side: oneOf('left', 'right'), taken: listOf(either(figure, oneOf(null))), cold: optional(flag) })

test.each<[string, Shape<unknown>, unknown[], unknown[]]>([
  ['text', text, ['', 'x'], [1, null, undefined, {}]],
  ['figure', figure, [0, -1.5], ['1', Number.NaN, Number.POSITIVE_INFINITY, null]],
  ['flag', flag, [true, false], [0, 'true', null]],
  ['within', within(1, 3), [1, 2.5, 3], [0.999, 3.001, Number.NaN, '2']],
  ['oneOf', oneOf('a', null), ['a', null], ['b', undefined]],
  ['optional', optional(text), ['x', undefined], [null, 1]],
  ['listOf', listOf(figure), [[], [1, 2]], [[1, '2'], { 0: 1 }, null]],
  ['anything', anything, [undefined, null, {}], []],
])('%s takes what it should and nothing else', (_name, shape, takes, refuses) => {
  expect(takes.filter((one) => !shape(one))).toEqual([])
  expect(refuses.filter((one) => shape(one))).toEqual([])
})

test('an object needs each of its fields, and may have more', () => {
  const kept = { id: 'a', side: 'left', taken: [0.01, null] }
  expect(read(set, kept)).toBe(kept)
  expect(read(set, { ...kept, cold: true, later: 1 })).toMatchObject({ cold: true })
  for (const other of [{ ...kept, id: 1 }, { ...kept, side: 'top' }, { ...kept, taken: ['0'] }, { ...kept, cold: 'yes' }, { id: 'a' }])
    expect(read(set, other)).toBeUndefined()
  for (const none of [null, undefined, 'x', [kept], 7]) expect(read(set, none)).toBeUndefined()
  expectTypeOf(read(set, kept)).toEqualTypeOf<Set | undefined>()
})
