import { ODD_KINDS, type OddKind, type OddReading, oddReadings } from '#core/bench/odd-reading.ts'
import type { Phase, ReadKind, SheetFigures } from '#web/features/measurements/kinds.ts'

/** Our own last widths of this engine, mm at 20 °C. */
export interface OursOfEngine {
  received: readonly number[]
  built: readonly number[]
}

export interface OddKeyed {
  kind: ReadKind
  phase: Phase
  /** Figures taken so far, by place, mm. */
  taken: Readonly<Record<string, number>>
  temperatureC: number | undefined
  figures: SheetFigures
  ours: OursOfEngine | undefined
}

function isOddKind(kind: ReadKind): kind is OddKind {
  return (ODD_KINDS as readonly string[]).includes(kind)
}

/** What of the figures keyed so far is worth a second look, by the sum that the book answers with. */
export function oddKeyed({ kind, phase, taken, temperatureC, figures, ours }: OddKeyed): OddReading[] {
  if (!isOddKind(kind)) return []
  return oddReadings({
    kind,
    phase,
    values: Object.entries(taken).map(([place, mm]) => ({ place, mm })),
    temperatureC: temperatureC !== undefined && temperatureC >= -20 && temperatureC <= 150 ? temperatureC : null,
    sheet: figures,
    oursMm: (phase === 'received' ? ours?.received : ours?.built) ?? [],
    beforeMm: null,
  })
}

/** What to ask before this figure is taken; undefined where nothing is odd about it. */
export function askedOf(keyed: OddKeyed, place: string): string | undefined {
  return oddKeyed(keyed).find((one) => one.place === place)?.says
}
