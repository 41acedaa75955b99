import { describe, expect, it } from 'vitest'
import type { PressingDone } from '#core/bench/parting.ts'
import type { ReadingSet } from '#core/bench/reading-set.ts'
import { type JobOfCrank, webFits } from '#core/bench/web-fits.ts'

const at = (day: number, hour = 8) => `2026-03-${String(day).padStart(2, '0')}T${String(hour).padStart(2, '0')}:00:00.000Z`

function set(kind: 'pin' | 'bore', mm: number, doneAt: string, more: Partial<ReadingSet> = {}): ReadingSet {
  const place = kind === 'pin' ? 'left-0' : 'left-outer-0'
  return {
    id: `${kind} ${doneAt}`,
    kind,
    phase: kind === 'pin' ? 'kit' : 'building',
    personId: 'jonas',
    doneAt,
    recordedAt: doneAt,
    values: [{ place, mm }],
    notReadBecause: null,
    temperatureC: null,
    setUp: null,
    runout: null,
    isStruck: false,
    ...more,
  }
}

function pressed(direction: PressingDone['direction'], doneAt: string, more: Partial<PressingDone> = {}): PressingDone {
  return {
    direction,
    side: 'left',
    peakTonnes: 9,
    notReadBecause: null,
    galling: null,
    crack: null,
    webMark: null,
    doneAt,
    isStruck: false,
    ...more,
  }
}

/** Parted, pin and bore read, pressed together. */
function rebuild(id: string, day: number, boreMm: number): JobOfCrank {
  return {
    id,
    tag: `${id}-K`,
    sets: [set('pin', 35.012, at(day, 9)), set('bore', boreMm, at(day, 10))],
    pressings: [pressed('apart', at(day, 8), { galling: 'light' }), pressed('together', at(day, 12))],
  }
}

describe('the fits of a web over its jobs', () => {
  it('are one a pressing, counted on from what was pressed before it came', () => {
    const fits = webFits([rebuild('101', 1, 34.902), rebuild('140', 10, 34.905)], 'left', 1, null)
    expect(fits.map(({ pressings, interferenceMm, tag }) => [pressings, Number(interferenceMm.toFixed(3)), tag])).toEqual([
      [1, 0.11, '101-K'],
      [2, 0.107, '140-K'],
    ])
    expect(fits[0]).toMatchObject({ pinOf: 'kit', at: at(1, 10), galling: 'light', jobId: '101' })
    expect(webFits([rebuild('101', 1, 34.902)], 'right', 1, null)).toEqual([])
  })

  it('count every going together of one job, and ask the bore to be read again in between', () => {
    const once = rebuild('101', 1, 34.902)
    const again = {
      ...once,
      sets: [...once.sets, set('bore', 34.906, at(2, 10))],
      pressings: [
        ...once.pressings,
        pressed('apart', at(2, 8)),
        pressed('together', at(2, 12)),
        pressed('apart', at(3)),
        pressed('together', at(4)),
      ],
    }
    const fits = webFits([again, rebuild('140', 10, 34.908)], 'left', 1, null)
    expect(fits.map((fit) => fit.pressings)).toEqual([1, 2, 4])
    expect(fits[1]?.interferenceMm).toBeCloseTo(0.106, 9)
  })

  it('leave out what was struck out', () => {
    const once = rebuild('101', 1, 34.902)
    const struck = { ...once, sets: once.sets.map((one) => ({ ...one, isStruck: one.kind === 'bore' })) }
    expect(webFits([struck, rebuild('140', 10, 34.905)], 'left', 1, null).map((fit) => fit.pressings)).toEqual([2])
    const unpressed = { ...once, pressings: once.pressings.map((one) => ({ ...one, isStruck: one.direction === 'together' })) }
    expect(webFits([unpressed, rebuild('140', 10, 34.905)], 'left', 1, null).map((fit) => fit.pressings)).toEqual([1, 1])
  })

  it('begin anew from the day that the half was changed', () => {
    const second = rebuild('140', 10, 34.945)
    const changed = {
      ...second,
      sets: [...second.sets, set('bore', 34.9, at(11, 10))],
      pressings: [second.pressings[0]!, pressed('together', at(11, 12))],
    }
    const fits = webFits([rebuild('101', 1, 34.902), changed, rebuild('190', 20, 34.903)], 'left', 1, { jobId: '140', at: at(10, 15) })
    expect(fits.map(({ tag, pressings }) => [tag, pressings])).toEqual([
      ['140-K', 1],
      ['190-K', 2],
    ])
    expect(fits[0]?.interferenceMm).toBeCloseTo(0.112, 9)
  })
})
