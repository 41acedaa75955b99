import type { Measurement, MeasurementNew, RunoutFigures, RunoutSetup } from '#contract/measurements.ts'
import type { ReadingKind, ReadingPhase, ReadingSet } from '#core/bench/reading-set.ts'
import type { RunoutFigures as CoreFigures } from '#core/bench/runout-set.ts'
import { Prisma } from '#prisma/client/client.ts'
import { momentOf } from '#server/features/events/store.ts'
import type { Act } from '#server/plugins/act.ts'
import type { Db, JsonColumn, Tx } from '#server/plugins/database.ts'
import { doneAt } from '#server/plugins/moments.ts'

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
  byId: string
  by: string
  occurredAt: Date
  recordedAt: Date
  setup: RunoutSetup | null
  instrumentId: string | null
  instrumentName: string | null
  stepMm: number | null
  temperatureC: number | null
  notReadBecause: string | null
  figures: RunoutFigures | null
  note: string | null
  struckAt: Date | null
  struckBy: string | null
  struckBecause: string | null
  values: { place: string; atDeg: number | null; mm: number; typed: string | null; unit: 'mm' | 'thou' | 'tenth' }[] | null
}

const SETS = Prisma.sql`
  SELECT m.id, m.job_id AS "jobId", m.kind, m.phase, m.person_id AS "byId", p.name AS by, m.occurred_at AS "occurredAt",
    m.recorded_at AS "recordedAt", m.setup, m.instrument_id AS "instrumentId", i.name AS "instrumentName", i.step_mm::float8 AS "stepMm",
    m.temperature_c::float8 AS "temperatureC", m.not_read_because AS "notReadBecause", m.figures, m.note, m.struck_at AS "struckAt",
    s.name AS "struckBy", m.struck_because AS "struckBecause",
    (SELECT json_agg(json_build_object('place', v.place, 'atDeg', v.at_deg, 'mm', v.mm, 'typed', v.typed, 'unit', v.unit) ORDER BY v.seq)
     FROM measurement_value v WHERE v.measurement_id = m.id) AS values
  FROM measurement m JOIN person p ON p.id = m.person_id
  LEFT JOIN instrument i ON i.id = m.instrument_id LEFT JOIN person s ON s.id = m.struck_by_id`

/** All sets of a job in the order in which they were written down, struck-out ones too. */
export async function readSets(db: Tx | Db['prisma'], jobId: string): Promise<KeptReadings[]> {
  const rows = await db.$queryRaw<Row[]>`${SETS} WHERE m.job_id = ${jobId}::uuid ORDER BY m.recorded_at, m.id`
  return rows.map(asKept)
}

export async function readSet(db: Tx | Db['prisma'], id: string): Promise<KeptReadings | null> {
  const [row] = await db.$queryRaw<Row[]>`${SETS} WHERE m.id = ${id}::uuid`
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
  const { id, kind, phase, by, byId, occurredAt, recordedAt, setup, figures, note } = row
  return {
    id,
    kind,
    phase,
    by,
    byId,
    occurredAt: occurredAt.toISOString(),
    recordedAt: recordedAt.toISOString(),
    ...(row.instrumentId === null ? {} : { instrument: { id: row.instrumentId, name: row.instrumentName ?? '', stepMm: row.stepMm ?? 0 } }),
    ...(row.temperatureC === null ? {} : { temperatureC: row.temperatureC }),
    ...(setup === null ? {} : { setup }),
    values,
    ...(figures === null ? {} : { runout: figures }),
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
  const made = await act.tx.measurement.create({
    data: {
      jobId,
      kind: set.kind,
      phase: set.phase,
      personId: act.by.id,
      occurredAt: momentOf(act, set.occurredAt),
      recordedAt: act.now,
      instrumentId: set.instrumentId ?? null,
      temperatureC: set.temperatureC ?? null,
      notReadBecause: set.notReadBecause ?? null,
      note: set.note ?? null,
      ...(set.setup === undefined ? {} : { setup: set.setup }),
      ...(figures === null ? {} : { figures: figures as unknown as JsonColumn }),
      ...(set.id === undefined ? {} : { id: set.id }),
      values: {
        create: set.values.map(({ place, atDeg, mm, typed, unit }, seq) => ({
          seq,
          place,
          atDeg: atDeg ?? null,
          mm,
          typed: typed ?? null,
          unit: unit ?? 'mm',
        })),
      },
    },
    select: { id: true },
  })
  const kept = await readSet(act.tx, made.id)
  if (!kept) throw new Error('a set of readings that was just written is not there')
  return kept
}

/** Strikes a set out; false where it was struck out before. */
export async function strikeSet(act: Act, id: string, because: string): Promise<boolean> {
  const { count } = await act.tx.measurement.updateMany({
    where: { id, struckAt: null },
    data: { struckAt: act.now, struckById: act.by.id, struckBecause: because },
  })
  return count === 1
}
