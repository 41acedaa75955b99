/** Jobs that have lived already, written into the book as the commands would have left them, for figures over many of them. */
import { randomUUID } from 'node:crypto'
import { tagOf } from '#core/tag.ts'
import type { TestApp } from './app.ts'
import { addCustomer, addEngine } from './factories.ts'

export interface Past {
  kind?: 'rebuild' | 'true-only' | 'check-and-report' | 'weld-only'
  state?: string
  engineId?: string
  /** The crank of an earlier job. */
  crankId?: string
  bookedAt?: string
  promisedOn?: string
  /** When it went home, was given back or scrapped, by its state; gone where no state is said. */
  leftAt?: string
  truedBy?: string
  /** When it came to its state, where that is not the end. */
  stepAt?: string
  /** The second person's first set: the full swings of both ends, mm, against a limit of 0.02, and when it was read. */
  second?: { left: number; right: number; at: string }
  lot?: string
  /** Bench hours on it. */
  benchHours?: number
  /** Agreed with tax, of which tax. */
  price?: { total: number; tax: number }
  paid?: { deposit?: number; payment?: number; back?: number }
  back?: { day: string; hours?: number; cause?: string }
  heard?: { day: string; hours: number }
  waits?: { what: string; since: string; note?: string; dueOn?: string }[]
  holderId?: string
}

export interface PastJob {
  id: string
  tag: string
  crankId: string
  engineId: string
}

interface House {
  engineId: string
  customerId: string
  personId: string
  number: number
  lots: Map<string, string>
}

const houses = new WeakMap<TestApp, Promise<House>>()

function houseOf(it: TestApp): Promise<House> {
  const known = houses.get(it) ?? open(it)
  houses.set(it, known)
  return known
}

async function open(it: TestApp): Promise<House> {
  const engine = await addEngine(it)
  const { id: customerId } = await addCustomer(it, { name: 'A. Hollis' })
  const { person } = await it.as('owner', { name: 'Ewa' })
  return { engineId: engine.id, customerId, personId: person.id, number: 50_000, lots: new Map() }
}

/** A job of a crank of its own, as it was booked in, went through the shop and left, as far as is said. */
export async function pastJob(it: TestApp, past: Past = {}): Promise<PastJob> {
  const house = await houseOf(it)
  const query = (text: string, values: unknown[]) => it.db.pool.query(text, values)
  const engineId = past.engineId ?? house.engineId
  const crankId = past.crankId ?? randomUUID()
  if (past.crankId === undefined)
    await query('INSERT INTO crank (id, engine_id, customer_id, find_text) VALUES ($1, $2, $3, $4)', [
      crankId,
      engineId,
      house.customerId,
      '',
    ])
  const { number, tag } = nextTag(house)
  const id = randomUUID()
  const state = past.state ?? (past.leftAt === undefined ? 'booked' : 'gone')
  const bookedAt = past.bookedAt ?? past.leftAt ?? it.clock.now.toISOString()
  await query(
    `INSERT INTO job (id, number, tag, kind, state, crank_id, customer_id, promised_on, why_now, booked_by_id, booked_at, gone_at, holder_id)
     VALUES ($1, $2, $3, $4, $5, $6, $7, $8, 'hours-up', $9, $10, $11, $12)`,
    [
      id,
      number,
      tag,
      past.kind ?? 'rebuild',
      state,
      crankId,
      house.customerId,
      past.promisedOn ?? null,
      house.personId,
      bookedAt,
      state === 'gone' ? past.leftAt : null,
      past.holderId ?? null,
    ],
  )
  const step = (name: string, at: string, by: string) =>
    query('INSERT INTO job_step (id, job_id, step, person_id, at) VALUES ($1, $2, $3, $4, $5)', [randomUUID(), id, name, by, at])
  await step('booked', bookedAt, house.personId)
  if (past.truedBy !== undefined) await step('trued', past.stepAt ?? past.leftAt ?? bookedAt, past.truedBy)
  if (past.leftAt !== undefined) await step(state, past.leftAt, house.personId)
  else if (state !== 'booked' && state !== 'trued') await step(state, past.stepAt ?? bookedAt, house.personId)
  if (past.second !== undefined) await addSecondSet(it, id, past.second)
  if (past.lot !== undefined) await fitLot(it, id, past.lot)
  if (past.benchHours !== undefined) await addHours(it, id, past.benchHours, bookedAt)
  if (past.price !== undefined)
    await query(
      `INSERT INTO quote (id, job_id, version, total_minor, tax_minor, text, made_by_id, made_at, yes_by, yes_how, yes_at, yes_entered_by)
       VALUES ($1, $2, 1, $3, $4, 'Rebuild', $5, $6, 'A. Hollis', 'by phone', $6, $5)`,
      [randomUUID(), id, past.price.total, past.price.tax, house.personId, bookedAt],
    )
  for (const [what, amount] of Object.entries(past.paid ?? {}))
    await query('INSERT INTO payment (id, job_id, amount_minor, how, what, person_id, at) VALUES ($1, $2, $3, $4, $5, $6, $7)', [
      randomUUID(),
      id,
      amount,
      'cash',
      what,
      house.personId,
      bookedAt,
    ])
  if (past.back !== undefined) await reportBack(it, id, past.back)
  if (past.heard !== undefined) await hearOf(it, id, past.heard)
  for (const { what, since, note, dueOn } of past.waits ?? [])
    await query('INSERT INTO job_wait (id, job_id, what, note, since, due_on) VALUES ($1, $2, $3, $4, $5, $6)', [
      randomUUID(),
      id,
      what,
      note ?? null,
      since,
      dueOn ?? null,
    ])
  return { id, tag, crankId, engineId }
}

function nextTag(house: House): { number: number; tag: string } {
  for (;;) {
    house.number++
    const tag = tagOf(house.number)
    if (tag !== null) return { number: house.number, tag }
  }
}

/** A set of the second person, judged as it would have been. Answers its id. */
export async function addSecondSet(it: TestApp, jobId: string, set: { left: number; right: number; at: string }): Promise<string> {
  const { personId } = await houseOf(it)
  const id = randomUUID()
  const figures = {
    left: { tirMm: set.left },
    right: { tirMm: set.right },
    closes: { agree: true },
    giveOrTake: { leftMm: 0.005, rightMm: 0.005 },
    limits: { leftMm: 0.02, rightMm: 0.02 },
  }
  await it.db.pool.query(
    `INSERT INTO measurement (id, job_id, kind, phase, person_id, occurred_at, recorded_at, figures) VALUES ($1, $2, 'runout', 'second', $3, $4, $4, $5)`,
    [id, jobId, personId, set.at, JSON.stringify(figures)],
  )
  return id
}

export async function fitLot(it: TestApp, jobId: string, lot: string): Promise<void> {
  const { personId } = await houseOf(it)
  await it.db.pool.query(`INSERT INTO kit_fitted (id, job_id, kit_lot_id, whose, person_id, at) VALUES ($1, $2, $3, 'ours', $4, $5)`, [
    randomUUID(),
    jobId,
    await lotId(it, lot),
    personId,
    it.clock.now,
  ])
}

/** The lot of this name, made when it is asked for first. */
export async function lotId(it: TestApp, lot: string): Promise<string> {
  const { lots } = await houseOf(it)
  const known = lots.get(lot)
  if (known !== undefined) return known
  const id = randomUUID()
  lots.set(lot, id)
  await it.db.pool.query(`INSERT INTO kit_model (id, maker, part) VALUES (gen_random_uuid(), 'Stellmarch', 'K-9') ON CONFLICT DO NOTHING`)
  await it.db.pool.query(
    `INSERT INTO kit_lot (id, kit_model_id, lot) SELECT $1, id, $2 FROM kit_model WHERE maker = 'Stellmarch' AND part = 'K-9'`,
    [id, lot],
  )
  return id
}

export async function addHours(it: TestApp, jobId: string, hours: number, from: string): Promise<string> {
  const { personId } = await houseOf(it)
  const id = randomUUID()
  await it.db.pool.query(
    `INSERT INTO clock_entry (id, person_id, job_id, work, started_at, stopped_at, stopped_how)
     VALUES ($1, $2, $3, 'truing', $4::timestamptz, $4::timestamptz + $5 * interval '1 second', 'hand')`,
    [id, personId, jobId, from, Math.round(hours * 3600)],
  )
  return id
}

export async function reportBack(it: TestApp, jobId: string, back: { day: string; hours?: number; cause?: string }): Promise<string> {
  const { personId } = await houseOf(it)
  const id = randomUUID()
  await it.db.pool.query(
    `INSERT INTO comeback (id, job_id, day, how, hours, hours_how, cause, whose, person_id, recorded_at)
     VALUES ($1, $2, $3, 'told', $4, $5, $6, $7, $8, $9)`,
    [
      id,
      jobId,
      back.day,
      back.hours ?? null,
      back.hours === undefined ? 'unknown' : 'declared',
      back.cause ?? null,
      back.cause === undefined ? null : 'part',
      personId,
      it.clock.now,
    ],
  )
  return id
}

export async function hearOf(it: TestApp, jobId: string, heard: { day: string; hours: number }): Promise<string> {
  const { personId } = await houseOf(it)
  const id = randomUUID()
  await it.db.pool.query(
    `INSERT INTO follow_up (id, job_id, day, runs, hours, hours_how, person_id, recorded_at) VALUES ($1, $2, $3, true, $4, 'declared', $5, $6)`,
    [id, jobId, heard.day, heard.hours, personId, it.clock.now],
  )
  return id
}

/** Strikes out a report, a call, a set or a naming of a kit. */
export async function strikeOut(it: TestApp, table: 'comeback' | 'follow_up' | 'measurement' | 'kit_fitted', id: string): Promise<void> {
  const { personId } = await houseOf(it)
  const by = table === 'kit_fitted' ? '' : ', struck_by_id = $3'
  await it.db.pool.query(
    `UPDATE ${table} SET struck_at = $2, struck_because = 'written down for the wrong crank'${by} WHERE id = $1`,
    table === 'kit_fitted' ? [id, it.clock.now] : [id, it.clock.now, personId],
  )
}
