/** The model sheets as the simulation of the bench takes them: figures by name, and where the dials are put. */
import type { EngineFigureName, EngineNew } from '#contract/engines.ts'
import type { RunoutSetup } from '#contract/measurements.ts'
import { DEMO_ENGINES } from './engines.ts'

type SheetFigures = Readonly<Record<Exclude<EngineFigureName, 'rimRadiusMm'>, number>>

export interface ModelSheet {
  code: string
  maker: string
  cycle: EngineNew['cycle']
  figures: SheetFigures
  /** The crank as it lies when it is read: bare seats in V-blocks, dials where the sheet says or where the shaft is plain. */
  setup: RunoutSetup
  /** As the command that adds it takes it; its id is made when the shop is filled. */
  asAdded: EngineNew
}

/** Big-end play that the demo shop allows on every engine; invented like the rest of the sheets. */
const PLAY_LIMIT = { name: 'playLimitMm', value: 0.05, source: 'invented' } as const

function sheetOf(engine: EngineNew): ModelSheet {
  const asAdded: EngineNew = { ...engine, figures: [...engine.figures, PLAY_LIMIT] }
  const figures = Object.fromEntries(asAdded.figures.map(({ name, value }) => [name, value])) as SheetFigures
  const left = placeOfDial(engine.surfaceLeft, figures.dialLeftMm)
  const right = placeOfDial(engine.surfaceRight, figures.dialRightMm)
  return {
    code: engine.code,
    maker: engine.maker,
    cycle: engine.cycle,
    figures,
    setup: {
      held: 'v-blocks-bare',
      supportLeftMm: figures.supportLeftMm,
      supportRightMm: figures.supportRightMm,
      dialLeftMm: left.atMm,
      dialRightMm: right.atMm,
      surfaceLeft: left.surface,
      surfaceRight: right.surface,
      cold: true,
    },
    asAdded,
  }
}

/** A hand keeps off a thread: where the sheet names a plain place further in, the dial goes there. */
function placeOfDial(surface: string, sheetMm: number): { atMm: number; surface: string } {
  const plain = /; plain at (\d+)$/.exec(surface)?.[1]
  if (plain !== undefined) return { atMm: Number(plain), surface: 'plain' }
  return { atMm: sheetMm, surface: surface.replace(/keyway$/, 'keyway skipped') }
}

const SHEETS = new Map(DEMO_ENGINES.map((engine) => [engine.code, sheetOf(engine)]))

export const MODEL_SHEETS: readonly ModelSheet[] = [...SHEETS.values()]

export function modelSheet(code: string): ModelSheet {
  const sheet = SHEETS.get(code)
  if (sheet === undefined) throw new RangeError(`modelSheet needs a code of the demo engines, not ${code}`)
  return sheet
}
