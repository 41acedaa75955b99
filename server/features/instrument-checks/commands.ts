import type { InstrumentCheckNew } from '#contract/instrument-checks.ts'
import type { CheckKind, Instrument } from '#contract/instruments.ts'
import { momentOf } from '#server/features/events/store.ts'
import { readInstrument } from '#server/features/instruments/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import { doneAt } from '#server/plugins/moments.ts'
import { shopDay } from '#server/plugins/shop-day.ts'
import * as store from './store.ts'

const ACTIONS: Readonly<Record<CheckKind, string>> = { check: 'check instrument', zero: 'zero instrument', dropped: 'drop instrument' }

/** A check, a zero or a fall of an instrument, written down once. A check that found it good goes into the register too. */
export async function checkInstrument(act: Act, id: string, wanted: InstrumentCheckNew): Promise<Instrument> {
  const { zone } = await readSettings(act.tx)
  const before = await readInstrument(act.tx, id, shopDay(act.now, zone))
  if (before === null) throw notFound('This instrument')
  if (before.ended) throw new Problem('conflict-state', `${before.name} is used no more. Put it back into use first.`)
  const occurredAt = new Date(doneAt({ occurredAt: momentOf(act, wanted.occurredAt), recordedAt: act.now }))
  const day = shopDay(occurredAt, zone)
  mustFit(wanted, day)
  await store.addCheck(act, { ...wanted, id: wanted.id ?? act.newId(), instrumentId: id, occurredAt })
  const isNewest = before.checkedOn === undefined || day >= before.checkedOn
  if (wanted.kind === 'check' && wanted.held === true && isNewest) await store.registerChecked(act, id, day, wanted.dueOn)
  const after = await readInstrument(act.tx, id, shopDay(act.now, zone))
  if (after === null) throw notFound('This instrument')
  const { kind, held, offMm, note } = wanted
  act.note(ACTIONS[kind], 'instrument', id, { before, after: { ...after, held, offMm, note } })
  return after
}

function mustFit({ kind, held, dueOn }: InstrumentCheckNew, day: string): void {
  if (kind === 'dropped' && held !== undefined)
    throw fieldFault('/held', 'not-of-a-fall', 'A fall does not say whether it still reads right. Check it, and write the check down.')
  if (kind !== 'dropped' && held === undefined) throw fieldFault('/held', 'missing', 'Say whether it read right.')
  if (dueOn === undefined) return
  if (kind !== 'check' || held !== true) throw fieldFault('/dueOn', 'no-good-check', 'Only a check that found it good sets the next one.')
  if (dueOn < day) throw fieldFault('/dueOn', 'before-its-check', 'The next check is due after this one.')
}
