import { describe, expect, it, test } from 'vitest'
import { fitFigure, fitReadings } from '#core/bench/fit-of-web.ts'
import { factsOf } from '#core/bench/job-facts.ts'
import { partingOf } from '#core/bench/parting.ts'
import { missingFor } from '#core/gates.ts'
import { at } from '#tests/core/gates/ready-job.ts'
import { aRecord, aSet, LIES, pressed, runout, SHEET, widths } from './record.ts'

const codes = (...args: Parameters<typeof missingFor>) => missingFor(...args).map((one) => one.code)

describe('factsOf', () => {
  test('of a job in order: no gate before the sheet of paper has anything missing', () => {
    const facts = factsOf(aRecord())
    for (const step of ['measured', 'agreed', 'apart', 'together', 'trued'] as const) expect(codes(step, facts), step).toEqual([])
    expect(codes('signed', facts)).toEqual(['certificate'])
    expect(codes('gone', facts)).toEqual([])
  })

  it('takes the newest set that is not struck out, as received and as it stands apart', () => {
    const record = aRecord()
    const sets = [...record.sets, widths(120, 'built', [63, 63, 63, 63]), { ...widths(121, 'built', [62, 62, 62, 62]), isStruck: true }]
    const facts = factsOf({ ...record, sets })
    expect(facts.received.width).toEqual({ read: true, takenAt: at(1), value: { 0: 63.99, 90: 64.01, 180: 64.06, 270: 64 } })
    expect(facts.asItStands.width).toMatchObject({ takenAt: at(120), value: { 0: 63 } })
  })

  it('orders by when it was done, and by when it was written down only where that is the same', () => {
    const late = { ...widths(90, 'built', [63, 63, 63, 63]), recordedAt: at(200) }
    const record = aRecord()
    expect(factsOf({ ...record, sets: [...record.sets, late] }).asItStands.width).toMatchObject({ takenAt: at(101) })
    const same = [widths(130, 'built', [63, 63, 63, 63]), widths(130, 'built', [62, 62, 62, 62])]
    expect(factsOf({ ...record, sets: same }).asItStands.width).toMatchObject({ value: { 0: 62 } })
  })

  it('reads each end from the newest set that has it', () => {
    const record = aRecord()
    const inLathe = runout(115, 'built', { swingMm: 0.05 }, { setUp: { ...LIES, held: 'lathe-left' } })
    const rightOnly = { ...inLathe, runout: { ...inLathe.runout!, left: undefined } as never }
    const { runout: ends } = factsOf({ ...record, sets: [...record.sets, rightOnly] }).asItStands
    expect(ends.left).toMatchObject({ takenAt: at(100), value: { atStatedPlace: true } })
    expect(ends.right).toMatchObject({ takenAt: at(115), value: { atStatedPlace: false } })
  })

  it('hands on what was deliberately not read, with its reason', () => {
    const record = aRecord()
    const sets = [...record.sets, aSet(130, { kind: 'runout', phase: 'built', notReadBecause: 'the stub is bent' })]
    expect(factsOf({ ...record, sets }).asItStands.runout.left).toEqual({ read: false, because: 'the stub is bent' })
  })

  it('takes of a rod felt from both sides the clearance that stands worse in the window', () => {
    const felt = (left: number, right: number) => {
      const values = [
        { place: 'left', mm: left },
        { place: 'right', mm: right },
      ]
      return factsOf({ ...aRecord(), sets: [aSet(130, { kind: 'clearance', phase: 'built', values })] }).asItStands.sideClearance
    }
    expect(felt(0.24, 0.36)).toMatchObject({ value: 0.24 })
    expect(felt(0.36, 0.52)).toMatchObject({ value: 0.52 })
  })

  it('judges by the sheet as it is now: a limit that is tightened is asked of a reading of before', () => {
    const record = aRecord()
    expect(codes('trued', factsOf({ ...record, sheet: { ...SHEET, limitHouseRightMm: 0.01 } }))).toEqual([
      'runout-right-over-house-inside-maker',
    ])
    const { limitHouseLeftMm: _house, dialLeftMm: _dial, ...noPlace } = SHEET
    expect(codes('trued', factsOf({ ...record, sheet: noPlace }))).toEqual(['house-limit-left'])
  })

  it('counts the second reading only after the first, and says whose it is and whether the first was hidden', () => {
    const record = aRecord()
    const { secondSet } = factsOf(record)
    expect(secondSet).toMatchObject({ takenAt: at(110), byAnotherPerson: true, firstHidden: true })
    expect(factsOf({ ...record, sets: [...record.sets, runout(120, 'built', { swingMm: 0.01 })] }).secondSet).toBeNull()
    const own = [...record.sets.slice(0, -1), runout(110, 'second', { swingMm: 0.011 })]
    expect(factsOf({ ...record, sets: own }).secondSet).toMatchObject({ byAnotherPerson: false })
    expect(factsOf({ ...record, awaitedSecond: [{ from: at(105), until: at(108) }] }).secondSet).toMatchObject({ firstHidden: false })
  })

  it('takes the give-or-take of the coarser of the readings that are compared', () => {
    // The budget of a thousandth dial on bare seats, 45 and 50 over 88; the table said 0.005 for both.
    const { left, right } = factsOf(aRecord()).giveOrTakeMm
    expect([left.toFixed(5), right.toFixed(5)]).toEqual(['0.00493', '0.00500'])
    const record = aRecord()
    const coarse = runout(110, 'second', { swingMm: 0.011 }, { personId: 'marek' })
    const sets = [...record.sets.slice(0, -1), { ...coarse, runout: { ...coarse.runout!, giveOrTake: { leftMm: 0.017, rightMm: 0.017 } } }]
    expect(factsOf({ ...record, sets }).giveOrTakeMm).toEqual({ left: 0.017, right: 0.017 })
    expect(factsOf({ ...record, sets: [] }).giveOrTakeMm).toEqual({ left: 0.008, right: 0.008 })
  })

  it('of a report compares the second reading with what it came in with', () => {
    const sets = [runout(2, 'received', { swingMm: 0.3 }), runout(10, 'second', { swingMm: 0.32 }, { personId: 'marek' })]
    const facts = factsOf(
      aRecord({
        kind: 'check-and-report',
        state: 'measured',
        sets,
        pressings: [],
        moves: [],
        awaitedSecond: [{ from: at(5), until: null }],
      }),
    )
    expect(codes('signed', facts)).toEqual(['readings-differ-left', 'readings-differ-right', 'certificate'])
  })
})

describe('the fit of a web', () => {
  const bore = (minute: number) =>
    aSet(minute, {
      kind: 'bore',
      phase: 'building',
      values: [
        { place: 'left-outer-0', mm: 34.9 },
        { place: 'left-inner-0', mm: 34.91 },
      ],
    })
  const pin = (minute: number, phase: 'kit' | 'building') =>
    aSet(minute, {
      kind: 'pin',
      phase,
      values: [
        { place: 'left-0', mm: 35.02 },
        { place: 'left-90', mm: 35.015 },
        { place: 'right-0', mm: 34 },
      ],
    })
  const floors = { scrapShare: 0.0022, sheet: SHEET }

  it('is least pin of that end less greatest bore of that web', () => {
    const figure = fitFigure([bore(20), pin(21, 'kit')], 'left', floors, at(5))
    expect(figure).toMatchObject({ read: true, takenAt: at(21), value: { verdict: 'go', pinIsOfKit: true } })
    expect(figure?.read === true && figure.value.interferenceMm).toBeCloseTo(0.105, 9)
    expect(fitFigure([bore(20), pin(21, 'kit')], 'right', floors, at(5))).toBeNull()
  })

  it('is as old as its bore where that was read before the parting', () => {
    expect(fitFigure([bore(3), pin(21, 'kit')], 'left', floors, at(5))).toMatchObject({ takenAt: at(3) })
    expect(fitFigure([pin(3, 'kit'), bore(20)], 'left', floors, at(5))).toMatchObject({ takenAt: at(20) })
  })

  it('takes the pin of the kit before the old one, or the one that is asked for', () => {
    const sets = [bore(20), pin(21, 'kit'), pin(22, 'building')]
    expect(fitReadings(sets, 'left')?.pinOf).toBe('kit')
    expect(fitReadings(sets, 'left', 'old')?.pinOf).toBe('old')
    expect(fitReadings([bore(20), pin(22, 'building')], 'left', 'kit')).toBeNull()
  })

  it('stops under 0.0022 × pin Ø (common practice, no source), of the greatest bore where the sheet has no pin', () => {
    const { pinDiameterMm: _pin, shopFloorMm: _floor, ...sheet } = SHEET
    const at77 = aSet(20, { kind: 'bore', phase: 'building', values: [{ place: 'left-outer-0', mm: 34.938 }] })
    expect(fitFigure([at77, pin(21, 'kit')], 'left', floors, null)).toMatchObject({ value: { verdict: 'below-shop-floor' } })
    // 0.0022 × 34.938 = 0.07686, a little under the 0.077 that holds the pin.
    expect(fitFigure([at77, pin(21, 'kit')], 'left', { ...floors, sheet }, null)).toMatchObject({ value: { verdict: 'go' } })
  })
})

describe('partingOf', () => {
  it('has the newest gauge of each web, and a look only where both were looked at', () => {
    const left = pressed(5, { direction: 'apart', side: 'left', peakTonnes: 9.5 })
    const right = pressed(6, { direction: 'apart', side: 'right', peakTonnes: 5, galling: 'light' })
    expect(partingOf([left])).toMatchObject({ at: at(5), peakTonnes: { right: null }, look: null, webMarks: null })
    expect(partingOf([left, right])).toEqual({
      at: at(6),
      peakTonnes: { left: { read: true, takenAt: at(5), value: 9.5 }, right: { read: true, takenAt: at(6), value: 5 } },
      look: { galling: true, crack: false },
      webMarks: '318-V left, 318-V right',
    })
    expect(partingOf([left, { ...right, isStruck: true }])?.look).toBeNull()
    expect(partingOf([left, right, pressed(9, { direction: 'apart', side: 'left', galling: null, crack: null })])?.look).toBeNull()
  })

  it('finds a crack in one web at once, and in a web that was pressed together', () => {
    expect(partingOf([pressed(5, { direction: 'apart', side: 'left', crack: true })])?.look).toEqual({ galling: false, crack: true })
    expect(partingOf([pressed(5, { direction: 'together', side: 'left', crack: true })])?.look?.crack).toBe(true)
    expect(partingOf([pressed(5, { direction: 'together', side: 'left' })])).toBeNull()
  })
})
