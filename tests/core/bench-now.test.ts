import { describe, expect, test } from 'vitest'
import { benchTurns } from '#core/bench-now.ts'

const turns = benchTurns()
const turn = (kind: string, step: string) => turns.find((one) => one.kind === kind && one.step === step)?.heldUpBy

describe('where the bench can go on', () => {
  test('each kind has its own turns, and the agreement and the door are not among them', () => {
    const of = (kind: string) => turns.filter((one) => one.kind === kind).map((one) => one.step)
    expect(of('rebuild')).toEqual(['booked', 'agreed', 'apart', 'together', 'trued'])
    expect(of('true-only')).toEqual(['booked', 'agreed', 'trued'])
    expect(of('weld-only')).toEqual(['booked', 'agreed', 'trued'])
    expect(of('check-and-report')).toEqual(['booked', 'measured'])
  })

  test('a crank is measured whatever it waits for but work outside, and is not parted before the yes', () => {
    expect(turn('rebuild', 'booked')).toEqual(['outside'])
    expect(turn('rebuild', 'agreed')).toEqual(['yes', 'outside'])
  })

  test('a missing kit is missed when the pin goes in, and not before or after', () => {
    expect(turn('rebuild', 'apart')).toEqual(['kit', 'yes', 'outside'])
    expect(turns.filter((one) => one.heldUpBy.includes('kit'))).toHaveLength(1)
  })
})
