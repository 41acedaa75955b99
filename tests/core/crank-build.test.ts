import { describe, expect, test } from 'vitest'
import { buildFaults, type CrankBuild, centresOf, jointsOf, jointWords, throwsOf } from '#core/crank-build.ts'
import { TWIN_BUILD } from '#tests/support/twin-build.ts'

// How such cranks are made up is common practice of the trade, no source; the engines are invented.

const TRIPLE: CrankBuild = { ...TWIN_BUILD, throws: 3, phaseDeg: [0, 120, 240] }
const V_TWIN: CrankBuild = { throws: 1, rodsOnAPin: 2, phaseDeg: [0], trapped: [] }

describe('the joints of a build', () => {
  test('a twin has two throws and a pressed middle, one of one piece has no middle to press', () => {
    expect(jointsOf(TWIN_BUILD)).toEqual(['throw-1', 'throw-2', 'centre-1'])
    expect(jointsOf({ ...TWIN_BUILD, centre: 'integral' })).toEqual(['throw-1', 'throw-2'])
  })

  test('a triple has three throws and two middles', () => {
    expect(throwsOf(TRIPLE)).toEqual(['throw-1', 'throw-2', 'throw-3'])
    expect(centresOf(TRIPLE).map(jointWords)).toEqual(['Centre 1–2', 'Centre 2–3'])
  })

  test('one throw has no joints to name, two rods on its pin or not, and neither has a sheet that says nothing', () => {
    expect(jointsOf(V_TWIN)).toEqual([])
    expect(jointsOf(null)).toEqual([])
  })
})

describe('what does not go together', () => {
  test.each([TWIN_BUILD, TRIPLE, V_TWIN, { ...TWIN_BUILD, phaseDeg: [0, 0] }])('nothing is wrong with %o', (build) => {
    expect(buildFaults(build)).toEqual([])
  })

  test.each<[Partial<CrankBuild>, readonly (string | number)[]]>([
    [{ throws: 0, phaseDeg: [] }, ['throws']],
    [{ throws: 7, phaseDeg: [0, 60, 120, 180, 240, 300, 330] }, ['throws']],
    [{ rodsOnAPin: 3 }, ['rodsOnAPin']],
    [{ phaseDeg: [0] }, ['phaseDeg']],
    [{ phaseDeg: [10, 180] }, ['phaseDeg', 0]],
    [{ phaseDeg: [0, 360] }, ['phaseDeg', 1]],
    [{ phaseLimitDeg: undefined }, ['phaseLimitDeg']],
    [{ centreLimitMm: undefined }, ['centreLimitMm']],
    [{ centre: undefined }, ['centre']],
    [{ trapped: [TWIN_BUILD.trapped[0]!, { what: 'Centre bearing ', between: 'elsewhere' }] }, ['trapped', 1, 'what']],
  ])('%o is found at %o', (change, path) => {
    expect(buildFaults({ ...TWIN_BUILD, ...change }).map((fault) => fault.path)).toEqual([path])
  })

  test('refuses a figure that is none', () => {
    expect(() => buildFaults({ ...TWIN_BUILD, phaseDeg: [0, Number.NaN] })).toThrow(RangeError)
  })
})
