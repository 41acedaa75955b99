/** Instruments of the demo shop: checked in the house every four months, so that none was ever overdue. */
import type { z } from 'zod'
import type { instrumentNew } from '#contract/instruments.ts'
import { changeInstrument, takeInstrumentIn } from '#server/features/instruments/commands.ts'
import { readInstrument } from '#server/features/instruments/store.ts'
import type { Deed } from './book.ts'
import { dayOf, daysAfter, momentOn, shopDayFrom } from './days.ts'
import { EWA } from './people.ts'

const INSTRUMENTS = [
  { name: 'Dial 3', kind: 'dial', stepMm: 0.01 },
  { name: 'Dial 4', kind: 'dial', stepMm: 0.001 },
  { name: 'Micrometer 1, 0 to 25', kind: 'micrometer', stepMm: 0.001 },
  { name: 'Micrometer 2, 25 to 50', kind: 'micrometer', stepMm: 0.001 },
  { name: 'Micrometer 3, 50 to 75', kind: 'micrometer', stepMm: 0.01 },
  { name: 'Micrometer 4, 75 to 100', kind: 'micrometer', stepMm: 0.01 },
  { name: 'Bore gauge', kind: 'bore-gauge', stepMm: 0.001 },
  { name: 'Feelers', kind: 'feeler', stepMm: 0.01 },
  { name: 'Press gauge', kind: 'press-gauge', stepMm: 0.1 },
  { name: 'Setting rod 50', kind: 'setting-rod', stepMm: 0.001 },
] as const satisfies readonly Pick<z.infer<typeof instrumentNew>, 'name' | 'kind' | 'stepMm'>[]

export type InstrumentName = (typeof INSTRUMENTS)[number]['name']
export type InstrumentIds = Readonly<Record<InstrumentName, string>>

const CHECKED_EVERY_DAYS = 110
const DUE_AFTER_DAYS = 120
/** Dial 3 is the one whose check comes up next; of the others the days are spread. */
const DUE_IN_DAYS = [3, 79, 41, 66, 52, 88, 71, 95, 37, 58]

export function instrumentDeeds(shop: { now: number; opened: number; newId: (at: number) => string }): {
  deeds: Deed[]
  ids: InstrumentIds
} {
  const deeds: Deed[] = []
  const today = dayOf(shop.now)
  const ids = INSTRUMENTS.map(({ name, kind, stepMm }, index) => {
    const id = shop.newId(shop.opened)
    const lastDue = daysAfter(today, DUE_IN_DAYS[index]!)
    const checks = checksUpTo(daysAfter(lastDue, -DUE_AFTER_DAYS), dayOf(shop.opened))
    const [first, ...later] = checks.map((day) => ({ checkedOn: shopDayBefore(day), dueOn: daysAfter(day, DUE_AFTER_DAYS) }))
    deeds.push({ at: shop.opened + index, by: EWA, run: (act) => takeInstrumentIn(act, { id, name, kind, stepMm, ...first }) })
    for (const check of later) {
      const at = momentOn(check.checkedOn, '16:40') + index
      deeds.push({
        at,
        by: EWA,
        run: async (act) => {
          const version = (await readInstrument(act.tx, id, dayOf(at)))?.version ?? 0
          return changeInstrument({ ...act, expectedVersion: () => version }, id, check)
        },
      })
    }
    return [name, id] as const
  })
  return { deeds, ids: Object.fromEntries(ids) as unknown as InstrumentIds }
}

/** Days around which it was checked, newest last: the last one as given, the first before the book was opened. */
function checksUpTo(last: string, opened: string): string[] {
  const days = [last]
  while (days[0]! >= opened) days.unshift(daysAfter(days[0]!, -CHECKED_EVERY_DAYS))
  return days
}

function shopDayBefore(day: string): string {
  return shopDayFrom(day) === day ? day : shopDayBefore(daysAfter(day, -1))
}

/** The instrument that reads a length, by its size. */
export function micrometerFor(mm: number): InstrumentName {
  if (mm < 24.5) return 'Micrometer 1, 0 to 25'
  if (mm < 49.5) return 'Micrometer 2, 25 to 50'
  return mm < 74.5 ? 'Micrometer 3, 50 to 75' : 'Micrometer 4, 75 to 100'
}

export function stepOf(name: InstrumentName): number {
  return INSTRUMENTS.find((one) => one.name === name)!.stepMm
}
