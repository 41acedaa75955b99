import type { Engine } from '#contract/engines.ts'
import type { Instrument } from '#contract/instruments.ts'
import type { MeasurementNew } from '#contract/measurements.ts'
import type { RunoutFigures } from '#contract/runout-figures.ts'
import type { EngineSheet } from '#core/bench/limits-at-dial.ts'
import { CLOSING_MM } from '#core/bench/reading-quality.ts'
import { runoutFigures } from '#core/bench/runout-set.ts'
import { hasSeveralThrows } from '#core/crank-build.ts'
import { isWithin, type Side } from '#core/runout-verdict.ts'
import { cellsOf, endsToRead } from '#web/features/truing/marks-to-read.ts'
import type { KeptReading } from '#web/features/truing/reading-state.ts'
import { setUpForBook } from '#web/features/truing/set-up.ts'

export type RunoutPhase = 'received' | 'building' | 'built' | 'second' | 'third'

function valuesOf(kept: KeptReading): MeasurementNew['values'] {
  const cells = cellsOf(kept.setUp)
  return cells.flatMap((cell, place) => {
    const one = kept.taken[place]
    if (one === null || one === undefined) return []
    const atDeg = one.highAtDeg ?? cell.atDeg
    return [{ place: cell.place, atDeg, mm: one.mm, typed: String(one.mm), unit: 'mm' as const }]
  })
}

/** The set as it goes to the book, once it is complete and somebody has said whether the crank is cold. */
export function setToSend(kept: KeptReading, phase: RunoutPhase, cold: boolean): MeasurementNew {
  const { setUp } = kept
  return {
    id: kept.setId,
    ...(kept.takenAt === undefined ? {} : { occurredAt: kept.takenAt }),
    kind: 'runout',
    phase,
    ...(setUp.instrumentId === undefined ? {} : { instrumentId: setUp.instrumentId }),
    ...(setUp.temperatureC === undefined ? {} : { temperatureC: setUp.temperatureC }),
    setup: setUpForBook(setUp, cold),
    values: valuesOf(kept),
  }
}

function sheetFigures(sheet: Engine): EngineSheet {
  return Object.fromEntries(sheet.figures.map((figure) => [figure.name, figure.value]))
}

/** What the set comes to, worked out here by the core's own sum; the book's answer stands. */
export function preview(kept: KeptReading, sheet: Engine, shopLimitMm: number, dial: Instrument | undefined): RunoutFigures {
  return runoutFigures({
    values: valuesOf(kept),
    setUp: setUpForBook(kept.setUp, kept.setUp.cold ?? false),
    dialStepMm: kept.setUp.stepMm,
    register: dial,
    sheet: sheetFigures(sheet),
    several: hasSeveralThrows(sheet.build ?? null),
    shopLimitMm,
  }) as RunoutFigures
}

/** How far 12 read again stands from 12 at an end that does not repeat; undefined where it repeats or was read as a swing. */
export function offAtTwelve(closes: RunoutFigures['closes'], side: Side, stepMm: number): number | undefined {
  const by = side === 'left' ? closes.leftMm : closes.rightMm
  return by === undefined || isWithin(Math.abs(by), Math.max(CLOSING_MM, stepMm / 2)) ? undefined : by
}

/** The ends that do not repeat, of those that were read. */
export function endsThatMoved(kept: KeptReading, closes: RunoutFigures['closes']): Side[] {
  return endsToRead(kept.setUp.held).filter((side) => offAtTwelve(closes, side, kept.setUp.stepMm) !== undefined)
}
