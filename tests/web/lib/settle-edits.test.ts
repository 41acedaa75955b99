import fc from 'fast-check'
import { expect, test } from 'vitest'
import { settleEdits } from '#web/lib/settle-edits.ts'

test('mine stays where I typed, theirs comes where only they did, and both is a clash', () => {
  const settled = settleEdits(
    { phone: '1', mail: 'a', note: '' },
    { phone: '2', mail: 'a', note: 'mine' },
    { phone: '3', mail: 'b', note: '' },
  )
  expect(settled.values).toEqual({ phone: '2', mail: 'b', note: 'mine' })
  expect(settled.clashes).toEqual([{ name: 'phone', mine: '2', theirs: '3' }])
})

test('the same change by both is no clash', () => {
  expect(settleEdits({ a: '1' }, { a: '2' }, { a: '2' }).clashes).toEqual([])
})

test('nothing that was typed is ever lost, and without a clash the outcome does not depend on who was first', () => {
  const fields = fc.record({ a: fc.constantFrom('', '1', '2', '3'), b: fc.constantFrom('', '1', '2', '3') })
  fc.assert(
    fc.property(fields, fields, fields, (base, mine, theirs) => {
      const settled = settleEdits(base, mine, theirs)
      for (const name of ['a', 'b'] as const) if (mine[name] !== base[name]) expect(settled.values[name]).toBe(mine[name])
      if (settled.clashes.length === 0) expect(settleEdits(base, theirs, mine).values).toEqual(settled.values)
    }),
  )
})
