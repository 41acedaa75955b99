import type { Engine } from '#contract/engines.ts'
import type { Job } from '#contract/jobs.ts'
import type { Settings } from '#contract/settings.ts'
import { scrapFloorMm } from '#core/bench/fit-of-web.ts'
import type { EngineSheet } from '#core/bench/limits-at-dial.ts'
import { newestSet } from '#core/bench/reading-set.ts'
import { hasSeveralThrows } from '#core/crank-build.ts'
import type { WayOfHolding } from '#core/crank-shape.ts'
import type { JobBench } from '#server/features/measurements/store.ts'
import { Problem } from '#server/plugins/errors.ts'
import type { SheetName } from '#server/plugins/paper.ts'
import type { BenchSheetData, Window } from './bench-sheet-sections.ts'

interface FromTheBook {
  job: Job
  held: JobBench
  engine: Engine
  settings: Settings
  paper: SheetName
  today: string
}

/** What the paper for a bench without the book says of a job: places, limits and windows, and not one reading. */
export function benchSheetOf({ job, held, engine, settings, paper, today }: FromTheBook): BenchSheetData {
  const { sheet } = held
  const windows = {
    width: windowOf(sheet.widthMinMm, sheet.widthMaxMm),
    clearance: windowOf(sheet.clearanceMinMm, sheet.clearanceMaxMm),
    play: windowOf(undefined, figureOf(engine, 'playLimitMm')),
    fit: windowOf(figureOf(engine, 'fitMinMm'), figureOf(engine, 'fitMaxMm')),
  }
  const { shopFloorMm, pinDiameterMm } = sheet
  return {
    sheet: paper,
    shop: settings.shopName,
    printedOn: today,
    tag: job.tag,
    crank: job.crank.engineNumber === undefined ? job.engine : `${job.engine}, number ${job.crank.engineNumber}`,
    kind: job.kind,
    cycle: engine.cycle,
    ...(job.promisedOn === undefined ? {} : { promisedOn: job.promisedOn }),
    remarks: remarksOf(job, engine),
    held: heldAs(job, held),
    left: endOf(sheet, 'left', engine.surfaceLeft, settings),
    right: endOf(sheet, 'right', engine.surfaceRight, settings),
    ...(windows.width === undefined ? {} : { width: windows.width }),
    ...(windows.clearance === undefined ? {} : { clearance: windows.clearance }),
    ...(windows.play === undefined ? {} : { play: windows.play }),
    ...(windows.fit === undefined ? {} : { fit: windows.fit }),
    ...(shopFloorMm === undefined ? {} : { shopFloorMm }),
    ...(pinDiameterMm === undefined ? {} : { scrapFloorMm: scrapFloorMm([], { scrapShare: settings.scrapFloorFactor, sheet }) }),
    ...(held.kit === null ? {} : { kit: `${held.kit.maker} ${held.kit.part}, lot ${held.kit.lot}` }),
    welded: job.crank.welded,
  }
}

function figureOf(engine: Engine, name: Engine['figures'][number]['name']): number | undefined {
  return engine.figures.find((figure) => figure.name === name)?.value
}

function windowOf(minMm: number | undefined, maxMm: number | undefined): Window | undefined {
  if (minMm === undefined && maxMm === undefined) return undefined
  return { ...(minMm === undefined ? {} : { minMm }), ...(maxMm === undefined ? {} : { maxMm }) }
}

/** A reading without its place says nothing, so that a sheet without places is no help at the bench. */
function endOf(sheet: EngineSheet, side: 'left' | 'right', says: string, settings: Settings): BenchSheetData['left'] {
  const dialMm = side === 'left' ? sheet.dialLeftMm : sheet.dialRightMm
  if (dialMm === undefined)
    throw new Problem('conflict-state', `Our sheet for this engine does not say where the ${side} dial stands. Write that down first.`)
  const limitMm = (side === 'left' ? sheet.limitHouseLeftMm : sheet.limitHouseRightMm) ?? settings.houseLimitMm
  return { dialMm, says, limitMm }
}

/** Held as it was last, or as the sheet and what came with it say. */
function heldAs(job: Job, held: JobBench): WayOfHolding {
  const last = newestSet(held.record.sets, (set) => set.setUp !== null && set.joint === undefined)?.setUp?.held
  if (last !== undefined) return last
  if ((held.sheet.dialLeftMm ?? 0) < 0) return 'centres'
  return job.cameWith.some((thing) => thing.what === 'mains on') ? 'v-blocks-bearings' : 'v-blocks-bare'
}

/** The sheet is laid out for one throw: with several it is printed for each, and what belongs to the whole is said. */
function severalOf(engine: Engine): string[] {
  const build = engine.build ?? null
  if (!hasSeveralThrows(build)) return []
  const angles = build.phaseDeg.map((angle) => `${angle}°`).join(' and ')
  const trapped = build.trapped.map(({ what }) => what).join(', ')
  return [
    `${build.throws} throws at ${angles}, ${build.phaseLimitDeg}° either way: one of these sheets for each`,
    `the middle may swing ${build.centreLimitMm}`,
    ...(trapped === '' ? [] : [`in before the press: ${trapped}`]),
  ]
}

function remarksOf(job: Job, engine: Engine): string[] {
  return [
    ...(job.whyNow === 'not-known' ? [] : [job.whyNow.replaceAll('-', ' ')]),
    ...severalOf(engine),
    ...(engine.note === undefined ? [] : [engine.note]),
    ...(job.conditionNote === undefined ? [] : [job.conditionNote]),
    ...(job.oldPartsBack ? ['old parts go back'] : []),
  ]
}
