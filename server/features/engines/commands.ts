import type { z } from 'zod'
import type { EngineBuild } from '#contract/crank-build.ts'
import type { Engine, EngineChange, EngineNew, engineCopy, FigureCorrection, FigureNew } from '#contract/engines.ts'
import type { FieldError } from '#contract/errors.ts'
import { centresOf } from '#core/crank-build.ts'
import { faultOfFigure, sheetFaults } from '#core/engine-sheet.ts'
import { isDemo } from '#server/features/settings/store.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import * as store from './store.ts'

export async function addEngine(act: Act, wanted: EngineNew): Promise<Engine> {
  const { figures, id, note, build, ...rest } = wanted
  await mustBeFree(act, rest, null)
  await mayBeInvented(act, figures, (place) => `/figures/${place}/source`)
  mustFit(figures)
  const made = await store.addEngineRow(act, { ...rest, note: note ?? null, build: build ?? null, id })
  await store.addFigures(
    act,
    made,
    figures.map((figure) => ({ ...figure, version: 1 })),
  )
  act.note('add engine', 'engine', made, { after: wanted })
  return asItStands(act, made)
}

/** A new sheet with the figures that stand on another, to be corrected where the two engines differ. */
export async function copyEngine(act: Act, from: string, wanted: z.infer<typeof engineCopy>): Promise<Engine> {
  const original = await store.readEngine(act.tx, from)
  if (!original) throw notFound('This engine')
  await mustBeFree(act, wanted, null)
  const [fault] = sheetFaults(byName(original.figures))
  if (fault)
    throw new Problem('conflict-state', `The sheet of ${original.maker} ${original.code} is not copied as it stands. ${fault.detail}`)
  const { cycle, surfaceLeft, surfaceRight, note, build } = original
  const head = { ...wanted, cycle, surfaceLeft, surfaceRight, note: note ?? null, build: build ?? null }
  const made = await store.addEngineRow(act, { ...head, copiedFrom: from })
  const copied = original.figures.map(({ name, value, source, note: why }) => ({ name, value, source, note: why, version: 1 }))
  await store.addFigures(act, made, copied)
  act.note('copy engine', 'engine', made, { after: { ...wanted, from } })
  return asItStands(act, made)
}

export async function changeEngine(act: Act, id: string, wanted: EngineChange): Promise<Engine> {
  const found = await store.lockEngine(act.tx, id)
  if (!found) throw notFound('This engine')
  const { version, ...before } = found
  mustStandAt(version, act.expectedVersion())
  const after: store.EngineColumns = {
    maker: wanted.maker ?? before.maker,
    code: wanted.code ?? before.code,
    cycle: wanted.cycle ?? before.cycle,
    surfaceLeft: wanted.surfaceLeft ?? before.surfaceLeft,
    surfaceRight: wanted.surfaceRight ?? before.surfaceRight,
    note: wanted.note === undefined ? before.note : wanted.note,
    build: wanted.build === undefined ? before.build : wanted.build,
  }
  await mustBeFree(act, after, id)
  await mayBeBuiltSo(act, id, before.build, after.build)
  await store.changeEngineRow(act, id, version, after)
  act.note('change engine', 'engine', id, { before, after })
  return asItStands(act, id)
}

/** A figure put right, or added to a sheet that lacked it. The earlier version stays and can be read. */
export async function correctFigure(act: Act, id: string, wanted: FigureCorrection): Promise<Engine> {
  if (!(await store.lockEngine(act.tx, id))) throw notFound('This engine')
  const sheet = await asItStands(act, id)
  const { name, value, source, note, replaces } = wanted
  const before = sheet.figures.find((figure) => figure.name === name)
  mustStandAt(before?.version ?? 0, replaces)
  await mayBeInvented(act, [wanted], () => '/source')
  const fault = faultOfFigure(byName(sheet.figures), name, value)
  if (fault) throw fieldFault('/value', fault.code, fault.detail)
  await store.addFigures(act, id, [{ name, value, source, note, version: replaces + 1 }])
  act.note('correct figure', 'engine', id, { before, after: { name, value, source, version: replaces + 1 }, reason: note })
  return asItStands(act, id)
}

async function asItStands(act: Act, id: string): Promise<Engine> {
  const sheet = await store.readEngine(act.tx, id)
  if (!sheet) throw notFound('This engine')
  return sheet
}

async function mustBeFree(act: Act, name: { maker: string; code: string }, butFor: string | null): Promise<void> {
  if (await store.nameTaken(act.tx, { maker: name.maker, code: name.code }, butFor))
    throw fieldFault('/code', 'taken', 'There is a sheet of this maker and code already. Open that one, or tell this one apart.')
}

/** Readings name the joints of the build they were taken by: throws and pressed middles do not change under them. */
async function mayBeBuiltSo(act: Act, id: string, before: EngineBuild | null, after: EngineBuild | null): Promise<void> {
  const isSame = (before?.throws ?? 1) === (after?.throws ?? 1) && centresOf(before).length === centresOf(after).length
  if (isSame || !(await store.isWorkedOn(act.tx, id))) return
  throw new Problem('conflict-state', 'Cranks of this engine were read by the build it has. Copy the sheet and build the copy otherwise.')
}

async function mayBeInvented(act: Act, figures: readonly { source: string }[], pointerOf: (place: number) => string): Promise<void> {
  const at = figures.findIndex((figure) => figure.source === 'invented')
  if (at < 0 || (await isDemo(act.tx))) return
  throw fieldFault(pointerOf(at), 'invented', 'An invented figure belongs in a demo book only. Say where this one comes from.')
}

function mustFit(figures: readonly FigureNew[]): void {
  const errors: FieldError[] = []
  const placeOf = new Map<string, number>()
  for (const [place, { name }] of figures.entries()) {
    if (placeOf.has(name)) errors.push({ pointer: `/figures/${place}/name`, code: 'twice', detail: 'This figure is on the sheet twice.' })
    placeOf.set(name, place)
  }
  for (const { name, code, detail } of sheetFaults(byName(figures)))
    errors.push({ pointer: `/figures/${placeOf.get(name)}/value`, code, detail })
  if (errors.length > 0) throw new Problem('validation', errors[0]!.detail, { errors })
}

function byName(figures: readonly { name: string; value: number }[]): Record<string, number> {
  return Object.fromEntries(figures.map(({ name, value }) => [name, value]))
}
