import { describe, expect, test } from 'vitest'
import type { EngineFigureName, EngineNew } from '#contract/engines.ts'
import { buildFaults } from '#core/crank-build.ts'
import { sheetFaults } from '#core/engine-sheet.ts'
import { BAD_LOT, DEMO_ENGINES, KIT_MAKERS, lotOf } from '#seed/engines.ts'
import { addEngine } from '#server/features/engines/commands.ts'
import { listEngines } from '#server/features/engines/store.ts'
import { markDemo } from '#server/features/settings/store.ts'
import { perform } from '#server/plugins/act.ts'
import { startApp } from '#tests/support/app.ts'

function figureOf(engine: EngineNew, name: EngineFigureName): number | undefined {
  return engine.figures.find((figure) => figure.name === name)?.value
}

function engine(code: string): EngineNew {
  return DEMO_ENGINES.find((one) => one.code === code)!
}

describe('the invented engines of the demo shop', () => {
  test('are 26 singles and three with more cylinders under different names, whose figures fit each other and are marked invented', () => {
    expect(DEMO_ENGINES).toHaveLength(29)
    expect(new Set(DEMO_ENGINES.map((one) => `${one.maker} ${one.code}`)).size).toBe(29)
    for (const one of DEMO_ENGINES) {
      expect([one.code, sheetFaults(Object.fromEntries(one.figures.map((figure) => [figure.name, figure.value])))]).toEqual([one.code, []])
      expect(one.figures.every((figure) => figure.source === 'invented')).toBe(true)
    }
  })

  // The swing that a dial shows for one of the webs, 2 × dial ÷ span, as the table of these engines prints it.
  test.each([
    ['R49-P', 0.98, 1.13],
    ['Z122-S', 1.26, 0.74],
    ['H143-E', 1.17, 1.33],
    ['R449-4X', 1.02, 1.14],
    ['D497-4R', 0.74, 1.11],
    ['Y872-V', 0.78, 1.05],
  ])('%s shows %d and %d', (code, left, right) => {
    const sheet = engine(code)
    const span = figureOf(sheet, 'supportLeftMm')! + figureOf(sheet, 'supportRightMm')!
    expect((2 * figureOf(sheet, 'dialLeftMm')!) / span).toBeCloseTo(left, 2)
    expect((2 * figureOf(sheet, 'dialRightMm')!) / span).toBeCloseTo(right, 2)
  })

  test('of the three one middle is pressed, one of one piece, and the V-twin is one throw with two rods on it', () => {
    const built = DEMO_ENGINES.flatMap(({ code, build }) => (build === undefined ? [] : [{ code, build }]))
    expect(
      built.map(({ code, build }) => [code, build.throws, build.rodsOnAPin, build.centre, build.centreLimitMm, build.phaseLimitDeg]),
    ).toEqual([
      ['Z347-2W', 2, 1, 'pressed', 0.04, 0.5],
      ['P594-2S', 2, 1, 'integral', 0.08, 0.5],
      ['Y872-V', 1, 2, undefined, undefined, undefined],
    ])
    expect(built.map(({ build }) => buildFaults(build))).toEqual([[], [], []])
    expect(built.map(({ build }) => build.trapped.length)).toEqual([2, 2, 0])
  })

  test('have a floor of 0.95 of the least fit, but the one with the loose pins; narrow width windows for four-strokes and karts', () => {
    for (const one of DEMO_ENGINES.filter((each) => each.code !== 'R449-4X'))
      expect(figureOf(one, 'shopFloorMm')).toBeCloseTo(0.95 * figureOf(one, 'fitMinMm')!, 5)
    expect(figureOf(engine('R449-4X'), 'shopFloorMm')).toBe(0.1)
    const window = (code: string) => figureOf(engine(code), 'widthMaxMm')! - figureOf(engine(code), 'widthMinMm')!
    expect(window('R449-4X')).toBeCloseTo(0.1, 9)
    expect(window('F124-K')).toBeCloseTo(0.1, 9)
    expect(window('R124-X')).toBeCloseTo(0.2, 9)
    expect([figureOf(engine('Z122-S'), 'supportLeftMm'), figureOf(engine('Z122-S'), 'supportRightMm')]).toEqual([33, 37])
  })

  test('go in through the command that the screens use', async () => {
    const it = await startApp()
    const { person } = await it.as('owner')
    await perform(it.db, { by: person, now: it.clock.now }, async (act) => {
      await markDemo(act.tx)
      for (const one of DEMO_ENGINES) await addEngine(act, one)
    })
    const { rows } = await listEngines(it.db, { limit: 200 })
    expect(rows).toHaveLength(29)
    expect(rows.find((row) => row.code === 'R449-4X')).toMatchObject({ strokeMm: 62.4, widthMm: 64 })
  })
})

test('rod kits are named after the engine, and the bad lot fits two of them', () => {
  expect(KIT_MAKERS.map((maker) => maker.part('R449-4X'))).toEqual(['R449-4X K1', 'R449-4X K2'])
  expect(lotOf('A', 2417)).toBe('A-2417')
  expect(lotOf('S', 936)).toBe(BAD_LOT.lot)
  for (const code of BAD_LOT.codes) expect(engine(code)).toBeDefined()
})
