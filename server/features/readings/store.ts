import type { Bench } from '#contract/bench.ts'
import type { Measurement, MeasurementNew, RunoutSetup, VALUE_UNITS } from '#contract/measurements.ts'
import type { RunoutFigures } from '#contract/runout-figures.ts'
import { middleAt20C } from '#core/bench/odd-reading.ts'
import type { ReadingKind, ReadingPhase, ReadingSet } from '#core/bench/reading-set.ts'
import type { RunoutFigures as CoreFigures } from '#core/bench/runout-set.ts'
import type { Joint } from '#core/crank-build.ts'
import { Prisma } from '#prisma/client/client.ts'
import { momentOf } from '#server/features/events/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { ask, type Db, type Tx } from '#server/plugins/database.ts'
import { doneAt, type JsonRow } from '#server/plugins/moments.ts'

/** A set of readings twice: as the gates and sums take it, and as the wire shows it when nothing is hidden. */
export interface KeptReadings {
  jobId: string
  set: ReadingSet
  shown: Measurement
}

interface Row {
  id: string
  jobId: string
  kind: ReadingKind
  phase: ReadingPhase
  joint: Joint | null
  byId: string
  by: string
  occurredAt: Date
  recordedAt: Date
  setup: RunoutSetup | null
  instrumentId: string | null
  instrumentName: string | null
  stepMm: number | null
  temperatureC: number | null
  peakTonnes: number | null
  notReadBecause: string | null
  figures: RunoutFigures | null
  note: string | null
  struckAt: Date | null
  struckBy: string | null
  struckBecause: string | null
  values: { place: string; atDeg: number | null; mm: number; typed: string | null; unit: (typeof VALUE_UNITS)[number] }[] | null
}

/** Sets of readings, out of the tables or the statements that wrote them. */
const setsWith = (sets: Prisma.Sql, values: Prisma.Sql) => Prisma.sql`
  SELECT m.id, m.job_id AS "jobId", m.kind, m.phase, m.joint, m.person_id AS "byId", p.name AS by, m.occurred_at AS "occurredAt",
    m.recorded_at AS "recordedAt", m.setup, m.instrument_id AS "instrumentId", i.name AS "instrumentName", i.step_mm::float8 AS "stepMm",
    m.temperature_c::float8 AS "temperatureC", m.peak_tonnes::float8 AS "peakTonnes", m.not_read_because AS "notReadBecause", m.figures, m.note, m.struck_at AS "struckAt",
    s.name AS "struckBy", m.struck_because AS "struckBecause",
    (SELECT json_agg(json_build_object('place', v.place, 'atDeg', v.at_deg, 'mm', v.mm, 'typed', v.typed, 'unit', v.unit) ORDER BY v.seq)
     FROM ${values} v WHERE v.measurement_id = m.id) AS values
  FROM ${sets} m JOIN person p ON p.id = m.person_id
  LEFT JOIN instrument i ON i.id = m.instrument_id LEFT JOIN person s ON s.id = m.struck_by_id`

const SETS = setsWith(Prisma.sql`measurement`, Prisma.sql`measurement_value`)

/** All sets of the job aliased j in the order in which they were written down, struck-out ones too, for setsFrom. */
export const SETS_OF_JOB = Prisma.sql`(SELECT json_agg(x ORDER BY x."recordedAt", x.id) FROM (${SETS} WHERE m.job_id = j.id) x)`

export function setsFrom(rows: readonly JsonRow<Row>[] | null): KeptReadings[] {
  return (rows ?? []).map((row) =>
    asKept({
      ...row,
      occurredAt: new Date(row.occurredAt),
      recordedAt: new Date(row.recordedAt),
      struckAt: row.struckAt === null ? null : new Date(row.struckAt),
    }),
  )
}

export type JsonSet = JsonRow<Row>

export async function readSet(db: Tx | Db['prisma'], id: string): Promise<KeptReadings | null> {
  const [row] = await ask<Row>(db, Prisma.sql`${SETS} WHERE m.id = ${id}::uuid`)
  return row === undefined ? null : asKept(row)
}

function asKept(row: Row): KeptReadings {
  const { recordedAt, setup, figures } = row
  const values = (row.values ?? []).map(({ place, atDeg, mm, typed, unit }) => ({
    place,
    ...(atDeg === null ? {} : { atDeg }),
    mm,
    ...(typed === null ? {} : { typed }),
    unit,
  }))
  const set: ReadingSet = {
    id: row.id,
    kind: row.kind,
    phase: row.phase,
    ...(row.joint === null ? {} : { joint: row.joint }),
    personId: row.byId,
    doneAt: doneAt(row),
    recordedAt: recordedAt.toISOString(),
    values,
    notReadBecause: row.notReadBecause,
    temperatureC: row.temperatureC,
    setUp: setup,
    runout: figures as CoreFigures | null,
    isStruck: row.struckAt !== null,
  }
  return { jobId: row.jobId, set, shown: asShown(row, values) }
}

function asShown(row: Row, values: Measurement['values']): Measurement {
  const { id, kind, phase, joint, by, byId, occurredAt, recordedAt, setup, figures, note } = row
  return {
    id,
    kind,
    phase,
    ...(joint === null ? {} : { joint }),
    by,
    byId,
    occurredAt: occurredAt.toISOString(),
    recordedAt: recordedAt.toISOString(),
    ...(row.instrumentId === null ? {} : { instrument: { id: row.instrumentId, name: row.instrumentName ?? '', stepMm: row.stepMm ?? 0 } }),
    ...(row.temperatureC === null ? {} : { temperatureC: row.temperatureC }),
    ...(setup === null ? {} : { setup }),
    values,
    ...(figures === null ? {} : { runout: figures }),
    ...(row.peakTonnes === null ? {} : { peakTonnes: row.peakTonnes }),
    ...(row.notReadBecause === null ? {} : { notReadBecause: row.notReadBecause }),
    ...(note === null ? {} : { note }),
    ...(row.struckAt === null || row.struckBecause === null
      ? {}
      : { struck: { by: row.struckBy ?? '', at: row.struckAt.toISOString(), because: row.struckBecause } }),
  }
}

/** A set as this person may see it: of a hidden one, that it was taken, by whom and how, and no figure. */
export function shownTo(hidden: ReadonlySet<string>, { shown }: KeptReadings): Measurement {
  if (!hidden.has(shown.id)) return shown
  const { runout: _runout, note: _note, ...rest } = shown
  return { ...rest, values: [], hidden: true }
}

/** Writes a set down as it was taken, with what it came to. */
export async function addSet(act: Act, jobId: string, set: MeasurementNew, figures: CoreFigures | null): Promise<KeptReadings> {
  const id = set.id ?? act.newId()
  const json = (value: unknown) => (value === undefined || value === null ? null : JSON.stringify(value))
  const values = JSON.stringify(set.values.map((value, seq) => ({ ...value, seq })))
  const [row] = await ask<Row>(
    act.tx,
    Prisma.sql`
    WITH taken AS (INSERT INTO measurement (id, job_id, kind, phase, joint, person_id, occurred_at, recorded_at, instrument_id, temperature_c, peak_tonnes,
        not_read_because, note, setup, figures)
      VALUES (${id}::uuid, ${jobId}::uuid, ${set.kind}, ${set.phase}, ${set.joint ?? null}, ${act.by.id}::uuid, ${momentOf(act, set.occurredAt)}, ${act.now},
        ${set.instrumentId ?? null}::uuid, ${set.temperatureC ?? null}::float8::numeric, ${set.peakTonnes ?? null}::float8::numeric,
        ${set.notReadBecause ?? null}, ${set.note ?? null}, ${json(set.setup)}::jsonb, ${json(figures)}::jsonb)
      RETURNING *),
    written AS (INSERT INTO measurement_value (measurement_id, seq, place, at_deg, mm, typed, unit)
      SELECT taken.id, seq, place, "atDeg", mm, typed, coalesce(unit, 'mm')
      FROM taken, json_to_recordset(${values}::json) AS given (seq int, place text, "atDeg" numeric, mm numeric, typed text, unit text)
      RETURNING *)
    ${setsWith(Prisma.sql`taken`, Prisma.sql`written`)}`,
  )
  if (!row) throw new Error('a set of readings that was just written is not there')
  return asKept(row)
}

/** Strikes a set out; false where it was struck out before. */
export async function strikeSet(act: Act, id: string, because: string): Promise<boolean> {
  const { count } = await act.tx.measurement.updateMany({
    where: { id, struckAt: null },
    data: { struckAt: act.now, struckById: act.by.id, struckBecause: because },
  })
  return count === 1
}

/** Middles of the widths of our own last cranks of an engine, newest first, mm at 20 °C. */
export type OursOfEngine = NonNullable<Bench['ours']>

const LAST_MOST = 30

interface WidthRow {
  isReceived: boolean
  temperatureC: number | null
  mm: number[]
}

/** The widths of other jobs on this engine: as they came in, and the last one of each after pressing. Struck-out sets do not count. */
export async function readOursOfEngine(db: Tx | Db['prisma'], engineId: string, exceptJobId: string): Promise<OursOfEngine> {
  const rows = await ask<WidthRow>(
    db,
    Prisma.sql`
    SELECT (m.phase = 'received') AS "isReceived", m.temperature_c::float8 AS "temperatureC",
      (SELECT json_agg(v.mm ORDER BY v.seq) FROM measurement_value v WHERE v.measurement_id = m.id) AS mm
    FROM (SELECT j.id FROM crank k JOIN job j ON j.crank_id = k.id WHERE k.engine_id = ${engineId}::uuid AND j.id <> ${exceptJobId}::uuid
          ORDER BY j.booked_at DESC LIMIT ${LAST_MOST}) j
    CROSS JOIN LATERAL (
      SELECT DISTINCT ON (phase = 'received') id, phase, temperature_c, recorded_at FROM measurement
      WHERE job_id = j.id AND kind = 'width' AND phase IN ('received', 'built') AND struck_at IS NULL AND not_read_because IS NULL
      ORDER BY (phase = 'received'), recorded_at DESC) m
    ORDER BY m.recorded_at DESC, m.id`,
  )
  const middles = (isReceived: boolean) =>
    rows
      .filter((row) => row.isReceived === isReceived)
      .map(({ mm, temperatureC }) =>
        middleAt20C({ kind: 'width', values: (mm ?? []).map((one) => ({ place: '', mm: one })), temperatureC }),
      )
      .filter((middle) => middle !== null)
  return { received: middles(true), built: middles(false) }
}
