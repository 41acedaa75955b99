import { describe, expect, it } from 'vitest'
import type { RunoutSetUp } from '#core/bench/reading.ts'
import { runoutFigures } from '#core/bench/runout-set.ts'
import { bandOf, type MoveMadeTold, type SetTold, stopOf, toldOf } from '#core/bench/truing-story.ts'
import { type Faults, readingsFrom } from '#core/truing-faults.ts'

const SET_UP: RunoutSetUp = { held: 'v-blocks-bare', supportLeftMm: 44, supportRightMm: 44, dialLeftMm: 45, dialRightMm: 50, cold: true }
const SHEET = {
  strokeMm: 62.4,
  supportLeftMm: 44,
  supportRightMm: 44,
  dialLeftMm: 45,
  dialRightMm: 50,
  limitHouseLeftMm: 0.02,
  limitHouseRightMm: 0.02,
}
const NONE: Faults = { swingMm: 0, openRad: 0, throwMm: 0, cockedRad: 0 }

/** Four marks and 12 again, as the forward model gives them. */
function setOf(minute: number, faults: Partial<Faults>, more: { setUp?: RunoutSetUp; dialStepMm?: number } = {}): SetTold {
  const setUp = more.setUp ?? SET_UP
  const ends = readingsFrom({ ...NONE, ...faults }, setUp)
  const values = (['left', 'right'] as const).flatMap((side) => {
    const { radialMm, tangentialMm } = ends[side]
    const at = [radialMm, tangentialMm, -radialMm, -tangentialMm]
    return [...at.map((mm, mark) => ({ place: side, atDeg: 90 * mark, mm })), { place: `${side}-again`, atDeg: 0, mm: radialMm }]
  })
  const figures = runoutFigures({ values, setUp, dialStepMm: more.dialStepMm ?? 0.001, sheet: SHEET, shopLimitMm: 0.02 })
  return { id: `set ${minute}`, atMs: minute * 60_000, setUp, figures }
}

function blow(minute: number, before: SetTold, after: SetTold | undefined, more: Partial<MoveMadeTold> = {}): MoveMadeTold {
  return { atMs: minute * 60_000, personId: 'jonas', action: 'strike', half: 'right', force: 'light', before, after, ...more }
}

describe('the story of a truing', () => {
  const swung = setOf(0, { swingMm: 0.1 })

  it.each([
    [{ swingMm: 0.0 }, 'as-foretold'],
    [{ swingMm: 0.05 }, 'short'],
    [{ swingMm: -0.05 }, 'too-far'],
    [{ swingMm: 0.1 }, 'nothing'],
    [{ swingMm: 0.19 }, 'other-way'],
  ])('a blow that left %o is told as %s', (faults, turn) => {
    expect(toldOf(blow(1, swung, setOf(2, faults)))?.turn).toBe(turn)
  })

  it('asks which way the marks run where the size of the wrong way fits', () => {
    const told = toldOf(blow(1, swung, setOf(2, { swingMm: 0.19 })))
    expect(told).toMatchObject({ askMarks: true })
    expect(told?.says).toMatch(/Which way do your marks run/)
  })

  it('is not told before it is read again, nor from another set-up, nor with one main held', () => {
    expect(toldOf(blow(1, swung, undefined))).toBeNull()
    expect(toldOf(blow(1, swung, setOf(2, { swingMm: 0.02 }, { setUp: { ...SET_UP, dialLeftMm: 60 } })))).toBeNull()
    expect(toldOf(blow(1, swung, setOf(2, {}), { action: 'part' }))).toBeNull()
    const otherWay = setOf(2, { swingMm: -0.19 }, { setUp: { ...SET_UP, marksRun: 'other-way' } })
    expect(toldOf(blow(1, swung, otherWay))).toBeNull()
    const sameWay = setOf(2, { swingMm: 0.05 }, { setUp: { ...SET_UP, marksRun: 'clockwise' } })
    expect(toldOf(blow(1, swung, sameWay))?.turn).toBe('short')
  })

  it('keeps the break-away band of each hand apart', () => {
    const moves = [
      blow(1, swung, setOf(2, { swingMm: 0.1 })),
      blow(3, swung, setOf(4, { swingMm: 0.04 }), { force: 'firm' }),
      blow(5, swung, setOf(6, { swingMm: 0.1 }), { force: 'hard', personId: 'marek' }),
    ]
    expect(bandOf(moves, 'jonas')).toMatchObject({ held: 'light', moved: 'firm', next: 'firm' })
    expect(bandOf(moves, 'jonas')?.says).toBe('On this crank, by your hand: light did nothing, firm moved it.')
    expect(bandOf(moves, 'marek')).toMatchObject({ held: 'hard', next: 'hard' })
    expect(bandOf(moves, 'ewa')).toBeNull()
  })

  it('stops where no hand cures it, where the dials cannot tell, and after three reversals', () => {
    expect(stopOf([setOf(0, { throwMm: 0.2 })], [])?.because).toBe('no-hand-cure')
    expect(stopOf([setOf(0, { swingMm: 0.001, throwMm: 0.009 }, { dialStepMm: 0.01 })], [])?.because ?? 'true').not.toBe('reversals')
    const sets = [0, 2, 4, 6].map((minute) => setOf(minute, { swingMm: minute % 4 === 0 ? 0.06 : -0.06 }))
    const moves = [0, 1, 2].map((place) => blow(2 * place + 1, sets[place]!, sets[place + 1]))
    expect(moves.map((move) => toldOf(move)?.turn)).toEqual(['too-far', 'too-far', 'too-far'])
    expect(stopOf(sets, moves)).toMatchObject({ because: 'reversals' })
    expect(stopOf(sets, moves)?.says).toMatch(/^3 reversals without gain: walk away/)
    expect(stopOf([setOf(0, {})], [])).toBeNull()
    expect(stopOf([], [])).toBeNull()
  })

  it('says that what is left is less than the dials can tell', () => {
    // Inside the doubt at both ends, and still over a house limit of almost nothing.
    const tight = { ...SHEET, limitHouseLeftMm: 0.0001, limitHouseRightMm: 0.0001 }
    const set = setOf(0, { swingMm: 0.0015 })
    const values = (['left', 'right'] as const).flatMap((side) =>
      [0, 90, 180, 270].map((atDeg) => ({
        place: side,
        atDeg,
        mm: (atDeg === 90 ? 1 : atDeg === 270 ? -1 : 0) * (side === 'left' ? 0.0008 : -0.0008),
      })),
    )
    const figures = runoutFigures({ values, setUp: SET_UP, dialStepMm: 0.001, sheet: tight, shopLimitMm: 0.02 })
    expect(stopOf([{ ...set, figures }], [])?.because).toBe('inside-the-doubt')
  })
})
