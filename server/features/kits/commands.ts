import type { z } from 'zod'
import type { kitModelNew, kitNaming } from '#contract/kits.ts'
import { jointWords, throwsOf } from '#core/crank-build.ts'
import { engineName } from '#server/features/engines/store.ts'
import { addEvent, momentOf } from '#server/features/events/store.ts'
import { openBench } from '#server/features/measurements/store.ts'
import { endWait } from '#server/features/waits/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { fieldFault } from '#server/plugins/errors.ts'
import * as store from './store.ts'

export async function addKitModel(act: Act, wanted: z.infer<typeof kitModelNew>): Promise<store.KitModel> {
  const { maker, part, engineId } = wanted
  if (await store.findModel(act.tx, { maker, part })) throw fieldFault('/part', 'taken', 'This part of this maker is in the book already.')
  if (engineId !== undefined && (await engineName(act.tx, engineId)) === null)
    throw fieldFault('/engineId', 'unknown', 'This engine is not in the book. Make its sheet first.')
  const id = await store.addModel(act, wanted)
  act.note('add kit', 'kit_model', id, { after: { maker, part, engineId } })
  return (await store.readKit(act.tx, id))!
}

/** Names the kit that goes into a crank; a wait for the kit is over with it, and an earlier naming is struck out. */
export async function nameKit(act: Act, jobId: string, wanted: z.infer<typeof kitNaming>): Promise<store.KitOfJob> {
  const { maker, part, lot, whose, joint, id, occurredAt } = wanted
  const held = await openBench(act, jobId)
  if (joint !== undefined && !throwsOf(held.build).includes(joint))
    throw fieldFault('/joint', 'unknown', 'The sheet of this engine has no such throw.')
  const standing = joint === undefined ? held.kit : (held.kits[joint] ?? null)
  const modelId = await store.modelOf(act, { maker, part, engineId: held.engineId })
  const kitLotId = await store.lotOf(act, modelId, lot)
  const at = momentOf(act, occurredAt)
  await store.nameKit(act, { id, jobId, joint: joint ?? null, kitLotId, whose, at })
  const isAwaited = await endWait(act, jobId, 'kit', act.now)
  const before = standing === null ? '' : ` Before: ${standing.maker} ${standing.part}, lot ${standing.lot}.`
  const of = joint === undefined ? 'Kit' : `Kit of ${jointWords(joint).toLowerCase()}`
  const over = isAwaited ? ' It waits for the kit no more.' : ''
  await addEvent(act, jobId, { kind: 'kit', says: `${of}: ${maker} ${part}, lot ${lot}, ${whose}.${before}${over}`, occurredAt })
  const kit = { maker, part, lot, whose }
  act.note('name kit', 'job', jobId, { before: standing, after: joint === undefined ? kit : { ...kit, joint } })
  return kit
}
