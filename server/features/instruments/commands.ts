import type { z } from 'zod'
import type { Instrument, instrumentChange, instrumentNew } from '#contract/instruments.ts'
import { addCheck } from '#server/features/instrument-checks/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import { fieldFault, notFound } from '#server/plugins/errors.ts'
import { dayBegins, shopDay } from '#server/plugins/shop-day.ts'
import * as store from './store.ts'

export async function takeInstrumentIn(act: Act, wanted: z.infer<typeof instrumentNew>): Promise<Instrument> {
  await mustBeFree(act, wanted.name, null)
  mustBeOfADial(wanted.kind, wanted)
  mustBeDueAfterCheck(wanted)
  const id = await store.addInstrument(act, wanted)
  await keepCheck(act, id, undefined, wanted.checkedOn)
  const made = await asItStands(act, id)
  act.note('add instrument', 'instrument', made.id, { after: made })
  return made
}

/** A new check, another name, or the end of its use. */
export async function changeInstrument(act: Act, id: string, wanted: z.infer<typeof instrumentChange>): Promise<Instrument> {
  const before = await asItStands(act, id)
  mustStandAt(before.version, act.expectedVersion())
  const after: store.InstrumentColumns = {
    name: wanted.name ?? before.name,
    errorMm: changed(wanted.errorMm, before.errorMm),
    retraceMm: changed(wanted.retraceMm, before.retraceMm),
    repeatMm: changed(wanted.repeatMm, before.repeatMm),
    checkedOn: wanted.checkedOn ?? before.checkedOn,
    dueOn: wanted.dueOn ?? before.dueOn,
    note: changed(wanted.note, before.note),
    ended: wanted.ended ?? before.ended,
  }
  await mustBeFree(act, after.name, id)
  mustBeOfADial(before.kind, after)
  mustBeDueAfterCheck(after)
  await store.changeInstrument(act, before, after)
  await keepCheck(act, id, before.checkedOn, after.checkedOn)
  const now = await asItStands(act, id)
  act.note('change instrument', 'instrument', id, { before, after: now })
  return now
}

/** A day of a check that the register did not have is a check that found it good: now, or from the morning of a day gone by. */
async function keepCheck(act: Act, instrumentId: string, before: string | undefined, checkedOn: string | undefined): Promise<void> {
  if (checkedOn === undefined || checkedOn === before) return
  const { zone } = await readSettings(act.tx)
  const morning = dayBegins(checkedOn, zone)
  const occurredAt = shopDay(act.now, zone) === checkedOn || morning > act.now ? act.now : morning
  await addCheck(act, { id: act.newId(), instrumentId, kind: 'check', held: true, occurredAt })
}

/** Not said: as before; null: no longer known. */
function changed<Value>(wanted: Value | null | undefined, before: Value | undefined): Value | undefined {
  return wanted === undefined ? before : (wanted ?? undefined)
}

const OF_A_DIAL = ['errorMm', 'retraceMm', 'repeatMm'] as const

/** These figures go into what a dial's readings are worth; of another instrument nothing would ever read them. */
function mustBeOfADial(kind: Instrument['kind'], given: { [Name in (typeof OF_A_DIAL)[number]]?: number | undefined }): void {
  const name = OF_A_DIAL.find((one) => given[one] !== undefined)
  if (kind !== 'dial' && name !== undefined) throw fieldFault(`/${name}`, 'no-dial', 'Only a dial has this figure.')
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
