/** The twin's two writes: the rows of the service under its locks, one prepared statement a table, in one transaction. */
import { createHash, randomUUID } from 'node:crypto'
import type { FastifyRequest } from 'fastify'
import type pg from 'pg'
import type { Booking } from '#contract/jobs.ts'
import type { MeasurementNew } from '#contract/measurements.ts'
import { FIRST_SETTINGS } from '#contract/settings.ts'
import { runoutFigures } from '#core/bench/runout-set.ts'
import { byDoubt } from '#core/bench/worth-by-doubt.ts'
import { canonicalJson } from '#core/canonical-json.ts'
import { foldForFind } from '#core/find-text.ts'
import { nextTagNumber, tagOf } from '#core/tag.ts'
import { type Person, readPage, type Twin } from './twin-page.ts'

type Send = (name: string, text: string, values: unknown[]) => Promise<pg.QueryResult>

interface Line {
  action: string
  entity: string
  id: string
  payload: object
}

/** One act: the key of the request, what it does, the audit chain, the stored answer. */
async function act(
  { pool, clock }: Twin,
  by: Person,
  request: FastifyRequest,
  work: (send: Send, now: Date, note: (line: Line) => void, client: pg.PoolClient) => Promise<object>,
): Promise<object> {
  const key = String(request.headers['idempotency-key'])
  const client = await pool.connect()
  const send: Send = (name, text, values) => client.query({ name, text, values })
  try {
    await client.query('BEGIN')
    await send('claim', 'SELECT pg_try_advisory_xact_lock(hashtextextended($1, 0))', [`${by.id} ${key}`])
    const stored = await send('stored', 'SELECT body FROM idempotency WHERE caller = $1 AND key = $2', [by.id, key])
    if (stored.rows[0] !== undefined) {
      await client.query('COMMIT')
      return stored.rows[0].body
    }
    const now = clock()
    const lines: Line[] = []
    const body = await work(send, now, (line) => lines.push(line), client)
    const fingerprint = createHash('sha256')
      .update(JSON.stringify([request.method, request.url, request.body]))
      .digest()
    await send('keep', 'INSERT INTO idempotency (caller, key, fingerprint, status, body, created_at) VALUES ($1, $2, $3, 201, $4, $5)', [
      by.id,
      key,
      fingerprint,
      JSON.stringify(body),
      now,
    ])
    for (const { action, entity, id, payload } of lines)
      await send('chain', 'SELECT audit_append($1, $2, $3, $4, $5, $6, $7)', [
        now,
        by.id,
        action,
        entity,
        id,
        request.id,
        canonicalJson(payload),
      ])
    await client.query('COMMIT')
    return body
  } catch (fault) {
    await client.query('ROLLBACK')
    throw fault
  } finally {
    client.release()
  }
}

const EVENT = `INSERT INTO job_event (id, job_id, kind, says, data, person_id, occurred_at, recorded_at) VALUES ($1, $2, $3, $4, $5, $6, $7, $7)`

/** A new crank of a new customer, with a deposit. */
export function bookIn(twin: Twin, by: Person, request: FastifyRequest): Promise<object> {
  const wanted = request.body as Booking
  return act(twin, by, request, async (send, now, note, client) => {
    if (!('name' in wanted.customer) || !('engineId' in wanted.crank)) throw new Error('the twin books new cranks of new customers alone')
    const { name, phone = null, mail = null } = wanted.customer
    const [customerId, crankId, jobId] = [randomUUID(), randomUUID(), randomUUID()]
    const customer = { name, phone, mail, hearBy: 'phone', address: null, note: null }
    await send(
      'customer',
      'INSERT INTO customer (id, name, phone, mail, hear_by, address, note, find_text, created_at) VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)',
      [customerId, name, phone, mail, 'phone', null, null, [name, phone ?? '', mail ?? ''].map(foldForFind).join(' '), now],
    )
    note({ action: 'add customer', entity: 'customer', id: customerId, payload: { after: customer } })
    const engine = await send('engine', `SELECT maker || ' ' || code AS name FROM engine WHERE id = $1`, [wanted.crank.engineId])
    const number = wanted.crank.engineNumber ?? null
    await send(
      'crank',
      'INSERT INTO crank (id, engine_id, customer_id, engine_number, find_text, created_at) VALUES ($1, $2, $3, $4, $5, $6)',
      [crankId, wanted.crank.engineId, customerId, number, foldForFind(number ?? ''), now],
    )
    const counter = await send('counter', `SELECT last FROM counter WHERE name = 'tag' FOR UPDATE`, [])
    const running = nextTagNumber(counter.rows[0].last)
    const tag = tagOf(running)
    await send('count on', `UPDATE counter SET last = $1 WHERE name = 'tag'`, [running])
    await send('job', JOB, [
      jobId,
      running,
      tag,
      wanted.kind,
      crankId,
      customerId,
      wanted.place ?? null,
      wanted.promisedOn ?? null,
      wanted.cameBy,
      wanted.goesBy,
      wanted.whyNow,
      wanted.hours ?? null,
      wanted.hoursHow,
      wanted.kitFrom,
      JSON.stringify(wanted.cameWith),
      JSON.stringify(wanted.condition),
      wanted.oldPartsBack,
      by.id,
      now,
    ])
    await send('step', `INSERT INTO job_step (id, job_id, step, person_id, at) VALUES ($1, $2, 'booked', $3, $4)`, [
      randomUUID(),
      jobId,
      by.id,
      now,
    ])
    await send(
      'payment',
      `INSERT INTO payment (id, job_id, amount_minor, how, what, person_id, at) VALUES ($1, $2, $3, $4, 'deposit', $5, $6)`,
      [randomUUID(), jobId, wanted.depositMinor, wanted.depositHow, by.id, now],
    )
    const says = `Booked in: ${engine.rows[0].name}, ${wanted.kind}. Why now: hours up; ${wanted.hours} h, ${wanted.hoursHow}. Seen on arrival: ${wanted.condition.join(', ')}.`
    await send('event', EVENT, [randomUUID(), jobId, 'booked', says, null, by.id, now])
    await send('draft', `DELETE FROM draft WHERE person_id = $1 AND form = 'booking'`, [by.id])
    note({ action: 'book in', entity: 'job', id: jobId, payload: { after: { ...wanted, tag, customerId, crankId } } })
    return readPage(client, jobId, now.toISOString().slice(0, 10))
  })
}

const JOB = `INSERT INTO job (id, number, tag, kind, state, crank_id, customer_id, place, promised_on, came_by, goes_by, why_now, hours, hours_how,
    kit_from, came_with, condition, old_parts_back, booked_by_id, booked_at)
  VALUES ($1, $2, $3, $4, 'booked', $5, $6, $7, $8, $9, $10, $11, $12, $13, $14, $15, $16, $17, $18, $19)`
const HELD = `SELECT j.tag, k.engine_id FROM job j JOIN crank k ON k.id = j.crank_id WHERE j.id = $1 FOR UPDATE OF j`
const FIGURES = `SELECT json_object_agg(f.name, f.value) AS sheet FROM (
  SELECT DISTINCT ON (name) name, value::float8 AS value FROM engine_figure WHERE engine_id = $1 ORDER BY name, version DESC) f`
const MEASUREMENT = `INSERT INTO measurement (id, job_id, kind, phase, person_id, occurred_at, recorded_at, setup, instrument_id, figures)
  VALUES ($1, $2, $3, $4, $5, $6, $6, $7, $8, $9)`
const VALUES = `INSERT INTO measurement_value (measurement_id, seq, place, at_deg, mm, typed, unit)
  SELECT $1, seq - 1, v.value->>'place', (v.value->>'atDeg')::numeric, (v.value->>'mm')::numeric, v.value->>'typed', coalesce(v.value->>'unit', 'mm')
  FROM json_array_elements($2::json) WITH ORDINALITY AS v (value, seq)`

/** A runout set, with what it comes to. */
export function takeReadings(twin: Twin, by: Person, request: FastifyRequest, jobId: string): Promise<object> {
  const wanted = request.body as MeasurementNew
  return act(twin, by, request, async (send, now, note) => {
    const held = await send('held', HELD, [jobId])
    const { rows: sheets } = await send('figures', FIGURES, [held.rows[0].engine_id])
    const { rows: dials } = await send('dial', 'SELECT id, name, step_mm::float8 AS "stepMm" FROM instrument WHERE id = $1', [
      wanted.instrumentId,
    ])
    const values = wanted.values.map(({ place, atDeg, mm }) => ({ place, mm, ...(atDeg === undefined ? {} : { atDeg }) }))
    const { stepMm: dialStepMm } = dials[0]
    const figures = runoutFigures({
      values,
      setUp: wanted.setup!,
      dialStepMm,
      sheet: sheets[0].sheet,
      shopLimitMm: FIRST_SETTINGS.houseLimitMm,
      expand: byDoubt,
    })
    const id = randomUUID()
    await send('measurement', MEASUREMENT, [
      id,
      jobId,
      wanted.kind,
      wanted.phase,
      by.id,
      now,
      JSON.stringify(wanted.setup),
      wanted.instrumentId,
      JSON.stringify(figures),
    ])
    await send('values', VALUES, [id, JSON.stringify(wanted.values)])
    await send('event', EVENT, [
      randomUUID(),
      jobId,
      'read',
      'Runout read, as received.',
      JSON.stringify({ measurementId: id }),
      by.id,
      now,
    ])
    const shown = {
      id,
      kind: wanted.kind,
      phase: wanted.phase,
      by: by.name,
      byId: by.id,
      occurredAt: now.toISOString(),
      recordedAt: now.toISOString(),
      instrument: dials[0],
      setup: wanted.setup,
      values: wanted.values.map((value) => ({ ...value, unit: value.unit ?? 'mm' })),
      runout: figures,
    }
    note({ action: 'take readings', entity: 'measurement', id, payload: { after: shown } })
    return shown
  })
}
