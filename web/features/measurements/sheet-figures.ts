import type { Engine } from '#contract/engines.ts'
import type { SheetFigures } from '#web/features/measurements/kinds.ts'

/** The figures of a model sheet by name, mm; what the sheet does not have is absent. */
export function sheetFigures(sheet: Pick<Engine, 'figures'>): SheetFigures {
  return Object.fromEntries(sheet.figures.map((one) => [one.name, one.value]))
}
