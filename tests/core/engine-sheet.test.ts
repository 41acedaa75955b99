import { describe, expect, test } from 'vitest'
import { faultOfFigure, sheetFaults } from '#core/engine-sheet.ts'

describe('figures of a model sheet beside each other', () => {
  test('a sheet that fits has no fault, and neither has an empty one or one half filled', () => {
    expect(sheetFaults({ widthMinMm: 63.95, widthMaxMm: 64.05, fitMinMm: 0.105, fitMaxMm: 0.125, shopFloorMm: 0.1 })).toEqual([])
    expect(sheetFaults({})).toEqual([])
    expect(sheetFaults({ widthMinMm: 99 })).toEqual([])
    expect(sheetFaults({ widthMinMm: 64, widthMaxMm: 64 })).toEqual([])
  })

  test.each([
    [{ widthMinMm: 64.05, widthMaxMm: 63.95 }, 'widthMinMm'],
    [{ clearanceMinMm: 0.5, clearanceMaxMm: 0.25 }, 'clearanceMinMm'],
    [{ fitMinMm: 0.125, fitMaxMm: 0.105 }, 'fitMinMm'],
    [{ shopFloorMm: 0.13, fitMaxMm: 0.125 }, 'shopFloorMm'],
  ])('%o is crossed', (figures, name) => {
    expect(sheetFaults(figures).map((fault) => [fault.name, fault.code])).toEqual([[name, 'crossed']])
  })

  test('a figure finer than the book keeps is named; what inches leave in the last decimals is not', () => {
    expect(sheetFaults({ strokeMm: 62.400001 })).toMatchObject([{ name: 'strokeMm', code: 'too-fine' }])
    expect(sheetFaults({ strokeMm: 1.1 * 25.4, fitMinMm: 0.05 * 0.0254 })).toEqual([])
    expect(sheetFaults({ strokeMm: 0.1 + 0.2, fitMinMm: 0.00001 })).toEqual([])
  })

  const PLACED = { supportLeftMm: 44, supportRightMm: 44, dialLeftMm: 45 }

  test('a limit of runout is taken with the dial of its end and both supports, and without them it is named', () => {
    expect(sheetFaults({ ...PLACED, limitHouseLeftMm: 0.02, limitMakerLeftMm: 0.03 })).toEqual([])
    expect(sheetFaults({ ...PLACED, limitHouseRightMm: 0.02 })).toEqual([
      {
        name: 'limitHouseRightMm',
        code: 'no-place',
        detail: 'A limit says nothing without its place. Put that on the sheet first: right support to dial.',
      },
    ])
    const bare = sheetFaults({ dialLeftMm: 45, limitMakerLeftMm: 0.03, limitHouseLeftMm: 0.02, limitMakerRightMm: 0.03 })
    expect(bare.map((fault) => [fault.name, fault.code])).toEqual([
      ['limitMakerLeftMm', 'no-place'],
      ['limitHouseLeftMm', 'no-place'],
      ['limitMakerRightMm', 'no-place'],
    ])
    expect(bare[0]?.detail).toContain('first: crank centre to left support, crank centre to right support.')
  })

  test('one figure is judged by what it brings: another limit that lacked its place before does not stop it', () => {
    const old = { limitHouseLeftMm: 0.02 }
    expect(faultOfFigure(old, 'strokeMm', 62.4)).toBeUndefined()
    expect(faultOfFigure(old, 'dialLeftMm', 45)).toBeUndefined()
    expect(faultOfFigure(old, 'limitMakerLeftMm', 0.03)).toMatchObject({ name: 'limitMakerLeftMm', code: 'no-place' })
    expect(faultOfFigure({ ...old, ...PLACED }, 'limitMakerLeftMm', 0.03)).toBeUndefined()
    expect(faultOfFigure({ widthMaxMm: 64 }, 'widthMinMm', 64.1)).toMatchObject({ code: 'crossed' })
    expect(faultOfFigure({ widthMinMm: 64.1 }, 'widthMaxMm', 64)).toMatchObject({ name: 'widthMinMm', code: 'crossed' })
  })

  test('refuses what is no figure', () => {
    expect(() => sheetFaults({ strokeMm: Number.NaN })).toThrow('sheetFaults needs finite figures')
  })
})
