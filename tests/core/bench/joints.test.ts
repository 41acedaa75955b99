import { describe, expect, test } from 'vitest'
import { factsOf } from '#core/bench/job-facts.ts'
import type { JobRecord } from '#core/bench/job-record.ts'
import { jointFault, ofJoint } from '#core/bench/joints.ts'
import { hiddenSets, secondCheck } from '#core/bench/second-check.ts'
import type { CrankBuild, Joint } from '#core/crank-build.ts'
import { missingFor } from '#core/gates.ts'
import { at, LAST_MOVE, PARTED } from '#tests/core/gates/ready-job.ts'
import { TWIN_BUILD } from '#tests/support/twin-build.ts'
import { aRecord, aSet, pressed, runout, widths } from './record.ts'

// How a crank with several throws is read is common practice of the trade, no source; the crank is invented.

const ALL_IN = TWIN_BUILD.trapped.map(({ what }) => what)

/** Both throws with the readings of the ordinary single, and the middle pressed after them. */
function aTwin(changes: Partial<JobRecord> = {}): JobRecord {
  const single = aRecord()
  const at1 = (joint: Joint) => single.sets.filter((set) => set.kind !== 'runout').map((set) => ({ ...set, joint }))
  const centre = { joint: 'centre-1', peakTonnes: 6 } as const
  return {
    ...single,
    build: TWIN_BUILD,
    sets: [
      ...at1('throw-1'),
      ...at1('throw-2'),
      ...single.sets.filter((set) => set.kind === 'runout'),
      aSet(103, { kind: 'phase', phase: 'built', values: [{ place: '2', mm: 179.8 }] }),
      aSet(104, { kind: 'centre', phase: 'built', values: [{ place: '1', mm: 0.03 }] }),
    ],
    pressings: [
      ...(['throw-1', 'throw-2'] as const).flatMap((joint) => single.pressings.map((one) => ({ ...one, joint }))),
      ...(['left', 'right'] as const).map((side) => pressed(PARTED, { direction: 'apart', side, ...centre })),
      ...(['left', 'right'] as const).map((side) => pressed(70, { direction: 'together', side, ...centre })),
    ],
    moves: [{ action: 'strike', doneAt: at(LAST_MOVE), joint: 'throw-1' }],
    trapped: { at: at(30), ticked: ALL_IN },
    ...changes,
  }
}

const missing = (record: JobRecord, to: Parameters<typeof missingFor>[0]) =>
  missingFor(to, factsOf(record)).map((one) => `${one.joint ?? 'whole'}: ${one.code}`)

describe('the facts of a twin', () => {
  test('nothing is missing but the sheet of paper', () => {
    for (const step of ['measured', 'agreed', 'apart', 'together', 'trued'] as const)
      expect([step, missing(aTwin(), step)]).toEqual([step, []])
    expect(missing(aTwin(), 'signed')).toEqual(['whole: certificate'])
  })

  test('each throw has its own figures, and the lot of the crank unless it has one of its own', () => {
    const { several } = factsOf(aTwin({ kitLots: { 'throw-2': 'S-0951' } }))
    expect(several?.throws.map(({ facts }) => facts.kitLot)).toEqual(['A-2417', 'S-0951'])
    expect(several?.throws.map(({ facts }) => facts.asItStands.sideClearance)).toMatchObject([{ value: 0.36 }, { value: 0.36 }])
    expect(several?.phase).toMatchObject([{ joint: 'throw-2', nominalDeg: 180, read: { value: 179.8 } }])
  })

  test('a reading of one throw says nothing of the other', () => {
    const twin = aTwin()
    const sets = twin.sets.filter((set) => !(set.kind === 'width' && set.joint === 'throw-2' && set.phase === 'built'))
    expect(missing({ ...twin, sets }, 'trued')).toEqual(['throw-2: width'])
  })

  test('a pressing of the middle makes the widths of both throws old, a blow on one throw only its own', () => {
    const again = [...aTwin().pressings, pressed(150, { direction: 'together', side: 'left', joint: 'centre-1' })]
    expect(missing(aTwin({ pressings: again }), 'trued')).toEqual([
      'throw-1: width-older-than-last-move',
      'throw-1: side-clearance-older-than-last-move',
      'throw-2: width-older-than-last-move',
      'throw-2: side-clearance-older-than-last-move',
      'whole: runout-left-older-than-last-move',
      'whole: runout-right-older-than-last-move',
      'throw-2: phase-older-than-last-move',
      'centre-1: centre-runout-older-than-last-move',
    ])
    const struck = [...aTwin().moves, { action: 'strike', doneAt: at(150), joint: 'throw-2' } as const]
    expect(missing(aTwin({ moves: struck }), 'trued').filter((one) => one.includes('width'))).toEqual([
      'throw-2: width-older-than-last-move',
    ])
  })

  test('parts ticked before it was last parted are out again', () => {
    expect(missing(aTwin({ trapped: null }), 'together')).toContain('whole: trapped-parts')
    expect(missing(aTwin({ trapped: { at: at(PARTED - 1), ticked: ALL_IN } }), 'together')).toContain('whole: trapped-parts')
    expect(missing(aTwin({ trapped: { at: at(30), ticked: [] } }), 'together')).toContain('whole: trapped-parts')
  })

  test('an angle or a swing that was not read, because … is missing with its why', () => {
    const notRead = aSet(106, { kind: 'phase', phase: 'built', notReadBecause: 'no degree wheel fits' })
    const list = missingFor('trued', factsOf(aTwin({ sets: [...aTwin().sets, notRead] })))
    expect(list).toMatchObject([{ code: 'phase', detail: 'Throw 2: the angle from throw 1 was not read, because no degree wheel fits.' }])
  })
})

describe('a half on its own shafts', () => {
  const half = runout(112, 'built', { swingMm: 0.3 }, { joint: 'throw-1' })
  const waiting = aTwin({ sets: aTwin().sets.filter((set) => set.phase !== 'second') })

  test('is no first reading of the second check, and hidden from nobody', () => {
    const { first } = secondCheck({ kind: 'rebuild', sets: [...aTwin().sets, half] })
    expect(first?.joint).toBeUndefined()
    expect(hiddenSets({ ...waiting, sets: [...waiting.sets, half] }, 'marek').has(half.id)).toBe(false)
  })

  test('does not stand for the two ends of the whole', () => {
    expect(missing(aTwin({ sets: [...aTwin().sets, half] }), 'trued')).toEqual([])
  })
})

describe('the record of one joint', () => {
  test('has what was done there, and for the whole all that was pressed and struck', () => {
    const one = ofJoint(aTwin(), 'throw-1')
    expect(one.pressings).toHaveLength(4)
    expect(one.moves).toHaveLength(1)
    expect(new Set(one.sets.map((set) => set.joint))).toEqual(new Set([undefined]))
    expect(ofJoint(aTwin(), 'throw-2').moves).toEqual([])
    const whole = ofJoint(aTwin(), undefined)
    expect(whole.pressings).toHaveLength(12)
    expect(new Set(whole.sets.map((set) => set.kind))).toEqual(new Set(['runout', 'phase', 'centre']))
  })

  test('of a crank with one throw is the record itself', () => {
    expect(ofJoint(aRecord(), undefined)).toEqual({ ...aRecord(), sets: expect.any(Array) })
    expect(factsOf(aRecord()).several).toBeUndefined()
  })
})

describe('where a set belongs', () => {
  const fault = (set: Parameters<typeof jointFault>[0], build: CrankBuild | null = TWIN_BUILD) => jointFault(set, build)

  test.each<[Parameters<typeof jointFault>[0], boolean]>([
    [{ kind: 'width', phase: 'built', joint: 'throw-2' }, true],
    [{ kind: 'width', phase: 'built' }, false],
    [{ kind: 'width', phase: 'built', joint: 'centre-1' }, false],
    [{ kind: 'pin', phase: 'kit', joint: 'throw-1' }, true],
    [{ kind: 'bore', phase: 'building', joint: 'centre-1' }, true],
    [{ kind: 'bore', phase: 'building' }, false],
    [{ kind: 'runout', phase: 'built' }, true],
    [{ kind: 'runout', phase: 'building', joint: 'throw-1' }, true],
    [{ kind: 'runout', phase: 'second', joint: 'throw-1' }, false],
    [{ kind: 'runout', phase: 'received', joint: 'throw-1' }, false],
    [{ kind: 'runout', phase: 'building', joint: 'centre-1' }, false],
    [{ kind: 'phase', phase: 'built' }, true],
    [{ kind: 'phase', phase: 'built', joint: 'throw-2' }, false],
    [{ kind: 'centre', phase: 'built' }, true],
    [{ kind: 'width', phase: 'built', joint: 'throw-3' }, false],
  ])('%o on a twin: %s', (set, belongs) => {
    expect(fault(set) === null).toBe(belongs)
  })

  test('a crank with one throw names no joint and has no phase', () => {
    expect(fault({ kind: 'width', phase: 'built' }, null)).toBeNull()
    expect(fault({ kind: 'width', phase: 'built', joint: 'throw-1' }, null)).toContain('one throw')
    expect(fault({ kind: 'phase', phase: 'built' }, null)).toContain('no phase')
    expect(fault({ kind: 'centre', phase: 'built' }, { throws: 1, rodsOnAPin: 2, phaseDeg: [0], trapped: [] })).toContain('one throw')
  })
})

test('a width of the whole crank is kept out of every throw', () => {
  const lost = widths(120, 'built', [70, 70, 70, 70])
  expect(missing(aTwin({ sets: [...aTwin().sets, lost] }), 'trued')).toEqual([])
})
