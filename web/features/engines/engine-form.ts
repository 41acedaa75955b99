import {
  ENGINE_FIGURE_NAMES,
  ENGINE_FIGURES,
  type Engine,
  type EngineChange,
  type EngineFigureName,
  type EngineNew,
  type FigureNew,
  type SOURCES,
} from '#contract/engines.ts'
import { sheetFaults } from '#core/engine-sheet.ts'
import { readLength } from '#core/units.ts'

/** The head of a sheet, as typed. */
export interface EngineHead extends Record<string, string> {
  maker: string
  code: string
  cycle: string
  surfaceLeft: string
  surfaceRight: string
  note: string
}

export const HEAD_LABELS: Readonly<Record<string, string>> = {
  maker: 'Maker',
  code: 'Model code',
  cycle: 'Two-stroke or four-stroke',
  surfaceLeft: 'Left, ignition: what the dial stands on',
  surfaceRight: 'Right, drive: what the dial stands on',
  note: 'What surprised us about this engine',
}

export const EMPTY_HEAD: EngineHead = { maker: '', code: '', cycle: '', surfaceLeft: '', surfaceRight: '', note: '' }

export function headOf(sheet: Engine): EngineHead {
  return {
    maker: sheet.maker,
    code: sheet.code,
    cycle: sheet.cycle,
    surfaceLeft: sheet.surfaceLeft,
    surfaceRight: sheet.surfaceRight,
    note: sheet.note ?? '',
  }
}

export type Faults = Record<string, string>

/** What is missing in the head; the surfaces mislead a dial if nobody says them. */
export function headFaults(head: EngineHead): Faults {
  const faults: Faults = {}
  if (head.maker.trim() === '') faults.maker = 'The maker, or “not known”.'
  if (head.code.trim() === '') faults.code = 'The code, or what stands on the case.'
  if (head.cycle === '') faults.cycle = 'Choose one; the oil and the fitting advice depend on it.'
  if (head.surfaceLeft.trim() === '') faults.surfaceLeft = 'Say what is under the dial, as taper 1:5, keyway.'
  if (head.surfaceRight.trim() === '') faults.surfaceRight = 'Say what is under the dial, as plain 20 mm.'
  return faults
}

/** Only what differs; an emptied note is taken away. */
export function headChangeOf(base: EngineHead, mine: EngineHead): EngineChange {
  const changed = Object.entries(mine)
    .map(([name, typed]) => [name, typed.trim()] as const)
    .filter(([name, typed]) => typed !== base[name])
  return Object.fromEntries(changed.map(([name, typed]) => [name, name === 'note' && typed === '' ? null : typed])) as EngineChange
}

export type TypedFigures = Partial<Record<EngineFigureName, string>>
export type Source = (typeof SOURCES)[number]

export type ReadSheet = { ok: true; sheet: EngineNew } | { ok: false; faults: Faults }

/** A whole new sheet: the head, and the figures known so far with one source for all of them. */
export function readNewSheet(head: EngineHead, typed: TypedFigures, source: Source | '', note: string): ReadSheet {
  const faults = headFaults(head)
  const figures: FigureNew[] = []
  for (const name of ENGINE_FIGURE_NAMES) {
    const read = readLength(typed[name] ?? '', 'mm')
    if (!read.ok) {
      if (read.reason !== 'nothing-typed') faults[name] = read.detail
      continue
    }
    const { min, max } = ENGINE_FIGURES[name]
    if (read.value.mm < min || read.value.mm > max) faults[name] = `From ${min} to ${max} mm.`
    else if (source !== '') figures.push({ name, value: read.value.mm, source, ...(note.trim() === '' ? {} : { note: note.trim() }) })
  }
  const isAnyTyped = ENGINE_FIGURE_NAMES.some((name) => (typed[name] ?? '').trim() !== '')
  if (isAnyTyped && source === '') faults.source = 'A figure without a source is a guess: choose one.'
  for (const fault of sheetFaults(Object.fromEntries(figures.map((one) => [one.name, one.value])))) faults[fault.name] ??= fault.detail
  if (Object.keys(faults).length > 0) return { ok: false, faults }
  return {
    ok: true,
    sheet: {
      maker: head.maker.trim(),
      code: head.code.trim(),
      cycle: head.cycle === '2T' ? '2T' : '4T',
      surfaceLeft: head.surfaceLeft.trim(),
      surfaceRight: head.surfaceRight.trim(),
      ...(head.note.trim() === '' ? {} : { note: head.note.trim() }),
      figures,
    },
  }
}
