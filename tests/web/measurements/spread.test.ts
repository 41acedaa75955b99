import { expect, test } from 'vitest'
import { spreadWords } from '#web/features/measurements/spread.ts'

test('open: wider opposite the pin', () => {
  expect(spreadWords({ '0': 63.99, '90': 64.01, '180': 64.06, '270': 64.0 }, 0.01)).toEqual([
    '0.07 wider opposite the pin than at it: the webs are open.',
  ])
})

test('pinched, and cocked', () => {
  expect(spreadWords({ '0': 64.04, '90': 64.05, '180': 64.0, '270': 64.01 }, 0.01)).toEqual([
    '0.04 narrower opposite the pin than at it: the webs are pinched.',
    '0.04 wider at 90 than at 270: the pin is cocked.',
  ])
})

test('one step of the micrometer says nothing; a half-read set says nothing either', () => {
  expect(spreadWords({ '0': 64.0, '90': 64.01, '180': 64.01, '270': 64.0 }, 0.01)).toEqual([
    'Even all round, as near as this micrometer tells.',
  ])
  expect(spreadWords({ '0': 64.0, '180': 64.01 }, 0.01)).toEqual([])
})
