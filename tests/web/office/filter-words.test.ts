import { expect, test } from 'vitest'
import { listed } from '#tests/web/office/sample-cranks.ts'
import { LOT, MAREK } from '#tests/web/office/sample-office.ts'
import { filterWords } from '#web/features/office/filter-words.ts'

const crank = listed(240, { truedBy: 'Marek', lot: 'Stellmarch R124-X K2, lot S-0936' })

test('a list says what it is narrowed to, by the names of its cranks', () => {
  expect(filterWords({ figure: 'comebacks', lot: LOT, back: 'yes', cause: 'kit', person: MAREK }, crank)).toEqual([
    'called true by Marek',
    'Stellmarch R124-X K2, lot S-0936',
    'came back',
    'cause: the kit',
  ])
  expect(filterWords({ figure: 'waiting', waiting: 'kit', kind: 'true-only' }, crank)).toEqual(['true only', 'for a kit'])
  expect(filterWords({ figure: 'running', notLot: LOT }, crank)).toEqual(['with a kit of another lot'])
})

test('what none of them has, and a list without cranks', () => {
  expect(filterWords({ figure: 'comebacks', lot: 'none', person: 'none', cause: 'none', back: 'no' }, crank)).toEqual([
    'nobody called it true',
    'no kit named',
    'not back',
    'cause: not decided yet',
  ])
  expect(filterWords({ figure: 'comebacks', lot: LOT, engine: MAREK }, undefined)).toEqual(['one engine', 'one lot'])
  expect(filterWords({ figure: 'late' }, undefined)).toEqual([])
})
