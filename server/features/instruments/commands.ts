import type { z } from 'zod'
import type { Instrument, instrumentChange, instrumentNew } from '#contract/instruments.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import { fieldFault, notFound } from '#server/plugins/errors.ts'
import { shopDay } from '#server/plugins/shop-day.ts'
import * as store from './store.ts'

export async function takeInstrumentIn(act: Act, wanted: z.infer<typeof instrumentNew>): Promise<Instrument> {
  await mustBeFree(act, wanted.name, null)
  mustBeDueAfterCheck(wanted)
  const made = await asItStands(act, await store.addInstrument(act, wanted))
  act.note('add instrument', 'instrument', made.id, { after: made })
  return made
}

/** A new check, another name, or the end of its use. */
export async function changeInstrument(act: Act, id: string, wanted: z.infer<typeof instrumentChange>): Promise<Instrument> {
  const before = await asItStands(act, id)
  mustStandAt(before.version, act.expectedVersion())
  const after: store.InstrumentColumns = {
    name: wanted.name ?? before.name,
    checkedOn: wanted.checkedOn ?? before.checkedOn,
    dueOn: wanted.dueOn ?? before.dueOn,
    ended: wanted.ended ?? before.ended,
  }
  await mustBeFree(act, after.name, id)
  mustBeDueAfterCheck(after)
  await store.changeInstrument(act, before, after)
  const now = await asItStands(act, id)
  act.note('change instrument', 'instrument', id, { before, after: now })
  return now
}

async function asItStands(act: Act, id: string): Promise<Instrument> {
  const { zone } = await readSettings(act.tx)
  const instrument = await store.readInstrument(act.tx, id, shopDay(act.now, zone))
  if (!instrument) throw notFound('This instrument')
  return instrument
}

async function mustBeFree(act: Act, name: string, butFor: string | null): Promise<void> {
  if (await store.nameTaken(act.tx, name, butFor))
    throw fieldFault('/name', 'taken', 'Another instrument goes by this name. Choose another.')
}

function mustBeDueAfterCheck({ checkedOn, dueOn }: { checkedOn?: string | undefined; dueOn?: string | undefined }): void {
  if (checkedOn !== undefined && dueOn !== undefined && dueOn < checkedOn)
    throw fieldFault('/dueOn', 'before-its-check', 'The next check is due after the last one.')
}
