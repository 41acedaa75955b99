import type { Instrument } from '#contract/instruments.ts'
import { readLength } from '#core/units.ts'
import { shortMm } from '#web/features/instruments/words.ts'

/** What the register keeps of a dial's own faults, for what its readings are worth. */
export const WORTH = [
  { name: 'errorMm', label: 'Error in a tenth of a turn' },
  { name: 'retraceMm', label: 'Retrace, up against down' },
  { name: 'repeatMm', label: 'Repeat, read again' },
] as const

export type Worth = Record<(typeof WORTH)[number]['name'], string>

const MOST_MM = 1

/** As the fields begin: what the register has, nothing where it has nothing. */
export function worthOf(one: Instrument): Worth {
  const said = (mm: number | undefined) => (mm === undefined ? '' : shortMm(mm))
  return { errorMm: said(one.errorMm), retraceMm: said(one.retraceMm), repeatMm: said(one.repeatMm) }
}

/** What of it was changed, null where a figure was taken out, and what cannot be read. */
export function readWorth(
  one: Instrument,
  typed: Worth,
): { change: Partial<Record<keyof Worth, number | null>>; faults: Record<string, string> } {
  const before = worthOf(one)
  const change: Partial<Record<keyof Worth, number | null>> = {}
  const faults: Record<string, string> = {}
  for (const { name } of WORTH) {
    if (typed[name] === before[name]) continue
    const read = readLength(typed[name], 'mm')
    if (read.ok && read.value.mm >= 0 && read.value.mm <= MOST_MM) change[name] = read.value.mm
    else if (!read.ok && read.reason === 'nothing-typed') change[name] = null
    else faults[name] = read.ok ? `From 0 to ${MOST_MM} mm.` : read.detail
  }
  return { change, faults }
}
