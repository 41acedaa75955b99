/** One job of the demo shop as it is laid out before anything is written: a crank, its parts, and what was done to it when. */
import type { MeasurementNew } from '#contract/measurements.ts'
import type { JobKind, WhyNow } from '#core/steps.ts'
import type { Faults } from '#core/truing-faults.ts'
import { takeReadings } from '#server/features/measurements/commands.ts'
import { reportStep } from '#server/features/steps/commands.ts'
import type { Act, Caller } from '#server/plugins/act.ts'
import type { Deed } from './book.ts'
import type { Chance } from './chance.ts'
import type { CustomerKey, Customers } from './customers.ts'
import { DAY, HOUR } from './days.ts'
import type { Diary } from './diary.ts'
import type { InstrumentIds, InstrumentName } from './instruments.ts'
import { type ModelSheet, modelSheet } from './model-sheets.ts'
import type { Hand } from './people.ts'

/** The whole shop while it is laid out. */
export interface Shop {
  now: number
  chance: Chance
  newId: (at: number) => string
  deeds: Deed[]
  diaries: Readonly<Record<Hand, Diary>>
  instruments: InstrumentIds
  engineIds: ReadonlyMap<string, string>
  customers: Customers
  /** Customers who are in the book already, while it is filled. */
  known: Set<CustomerKey>
  /** Every job that is laid out. */
  lives: Life[]
  /** Rebuilds that each hand has called true so far, those before the book was opened among them. */
  counted: Record<Hand, number>
  /** Where the book is at home: what its certificates lead to. */
  address: string
}

export interface JobWanted {
  /** Tells the job apart in the layout, and begins its chance. */
  name: string
  code: string
  customer: CustomerKey
  kind: JobKind
  why: WhyNow
  bookedAt: number
  builder: Hand
  checker: Hand
}

/** A job that is laid out. Its tag and its crank are known once it is booked in. */
export interface Life extends JobWanted {
  id: string
  sheet: ModelSheet
  chance: Chance
  tag: string
  crankId: string
  /** When it went home, once that is laid out. */
  goneAt?: number
  /** What was still wrong with it when it was signed. */
  left?: Faults
  /** It came back, or was told of. */
  cameBack?: boolean
}

export function lifeOf(shop: Shop, wanted: JobWanted): Life {
  return {
    ...wanted,
    id: shop.newId(wanted.bookedAt),
    sheet: modelSheet(wanted.code),
    chance: shop.chance.of(wanted.name),
    tag: '',
    crankId: '',
  }
}

export function put(shop: Shop, at: number, by: Caller, run: (act: Act) => Promise<unknown>): void {
  shop.deeds.push({ at, by, run })
}

/** Puts something into the layout that is about this job alone. */
export function putOn(shop: Shop, { id }: Life, at: number, by: Caller, run: (act: Act) => Promise<unknown>): void {
  shop.deeds.push({ at, by, run, lane: id })
}

/** A set of readings, but for what follows from its job and its moment. */
export interface SetWanted extends Pick<MeasurementNew, 'kind' | 'phase' | 'joint' | 'setup'> {
  /** Absent where it was not read. */
  values?: MeasurementNew['values']
  with?: InstrumentName | undefined
  note?: string | undefined
  notReadBecause?: string | undefined
}

/** Puts a set of readings into the layout and answers its id. */
export function putSet(shop: Shop, life: Life, at: number, by: Caller, set: SetWanted): string {
  const { with: instrument, values = [], kind, phase, joint, setup = life.sheet.setup, note, notReadBecause } = set
  const id = shop.newId(at)
  const body: MeasurementNew = {
    id,
    kind,
    phase,
    ...(joint === undefined ? {} : { joint }),
    values,
    ...(kind === 'runout' ? { setup } : {}),
    ...(kind === 'runout' || kind === 'width' ? { temperatureC: temperatureOf(at) } : {}),
    ...(note === undefined ? {} : { note }),
    ...(notReadBecause === undefined ? {} : { notReadBecause }),
    ...(instrument === undefined ? {} : { instrumentId: shop.instruments[instrument] }),
  }
  putOn(shop, life, at, by, (act) => takeReadings(act, life.id, body))
  return id
}

/** The bench warms up over the day: about 20 °C in the morning, a degree more by the evening. */
function temperatureOf(at: number): number {
  return Number((19.4 + ((at % DAY) / HOUR) * 0.09).toFixed(1))
}

/** Puts a step into the layout; with passes where the owner lets something go by. */
export function putStep(
  shop: Shop,
  life: Life,
  at: number,
  by: Caller,
  step: Parameters<typeof reportStep>[2]['to'],
  passes?: Parameters<typeof reportStep>[2]['passes'],
): void {
  putOn(shop, life, at, by, (act) => reportStep(act, life.id, { to: step, ...(passes === undefined ? {} : { passes }) }))
}
