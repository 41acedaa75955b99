import fc from 'fast-check'
import type { Faults, SetUp } from '#core/truing-faults.ts'

/** Cranks as they come, for generated cases. */
const support = fc.double({ min: 20, max: 120, noNaN: true })
const outboard = fc.double({ min: 4, max: 80, noNaN: true })

export const onBlocks: fc.Arbitrary<SetUp> = fc.record({
  supportLeftMm: support,
  supportRightMm: support,
  dialLeftMm: outboard,
  dialRightMm: outboard,
})

/** Centres at the shaft ends, dials inboard of them on the mains. */
export const onCentres: fc.Arbitrary<SetUp> = fc
  .record({ supportLeftMm: fc.double({ min: 80, max: 150, noNaN: true }), supportRightMm: fc.double({ min: 80, max: 150, noNaN: true }) })
  .chain((supports) =>
    fc.record({
      supportLeftMm: fc.constant(supports.supportLeftMm),
      supportRightMm: fc.constant(supports.supportRightMm),
      dialLeftMm: fc.double({ min: -60, max: -20, noNaN: true }),
      dialRightMm: fc.double({ min: -60, max: -20, noNaN: true }),
    }),
  )

export const anySetUp = fc.oneof(onBlocks, onCentres)

function between(most: number) {
  return fc.double({ min: -most, max: most, noNaN: true })
}

export const anyFaults: fc.Arbitrary<Faults> = fc.record({
  swingMm: between(0.3),
  openRad: between(0.003),
  throwMm: between(0.05),
  cockedRad: between(0.001),
})
