import { describe, expect, test } from 'vitest'
import { sheetFaults } from '#core/engine-sheet.ts'

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

  test('refuses what is no figure', () => {
    expect(() => sheetFaults({ strokeMm: Number.NaN })).toThrow('sheetFaults needs finite figures')
  })
})
