import type { z } from 'zod'
import type { FitStop } from '#contract/fit-stop.ts'
import type { PressingNew, pressing, trappedSeen, weld, weldNew } from '#contract/pressings.ts'
import type { PressingDone } from '#core/bench/parting.ts'
import type { Joint } from '#core/crank-build.ts'
import { FIT_STOP_WORDS, type FitStopChoice } from '#core/fit-stop.ts'
import type { Side } from '#core/runout-verdict.ts'
import { Prisma } from '#prisma/client/client.ts'
import { momentOf } from '#server/features/events/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { ask, type Db, type Tx } from '#server/plugins/database.ts'
import { doneAt, type JsonRow } from '#server/plugins/moments.ts'

export type PressingShown = z.infer<typeof pressing>
export type WeldShown = z.infer<typeof weld>

/** A pressing twice: as the gates take it, and as the wire shows it. */
export interface KeptPressing {
  jobId: string
  done: PressingDone
  shown: PressingShown
}

interface Row extends Omit<PressingDone, 'joint' | 'doneAt' | 'isStruck'> {
  joint: Joint | null
  id: string
  jobId: string
  lubricant: string | null
  note: string | null
  by: string
  occurredAt: Date
  recordedAt: Date
  struckAt: Date | null
  struckBy: string | null
  struckBecause: string | null
}

const PRESSINGS = Prisma.sql`
  SELECT r.id, r.job_id AS "jobId", r.direction, r.side, r.joint, r.peak_tonnes::float8 AS "peakTonnes", r.not_read_because AS "notReadBecause",
    r.lubricant, r.galling, r.crack, r.web_mark AS "webMark", r.note, p.name AS by, r.occurred_at AS "occurredAt",
    r.recorded_at AS "recordedAt", r.struck_at AS "struckAt", s.name AS "struckBy", r.struck_because AS "struckBecause"
  FROM pressing r JOIN person p ON p.id = r.person_id LEFT JOIN person s ON s.id = r.struck_by_id`

/** All pressings of the job aliased j in the order in which they were written down, struck-out ones too, for pressingsFrom. */
export const PRESSINGS_OF_JOB = Prisma.sql`(SELECT json_agg(x ORDER BY x."recordedAt", x.id) FROM (${PRESSINGS} WHERE r.job_id = j.id) x)`

export type JsonPressing = JsonRow<Row>

export function pressingsFrom(rows: readonly JsonPressing[] | null): KeptPressing[] {
  return (rows ?? []).map((row) =>
    asKept({
      ...row,
      occurredAt: new Date(row.occurredAt),
      recordedAt: new Date(row.recordedAt),
      struckAt: row.struckAt === null ? null : new Date(row.struckAt),
    }),
  )
}

export async function readPressing(db: Tx | Db['prisma'], id: string): Promise<KeptPressing | null> {
  const [row] = await db.$queryRaw<Row[]>`${PRESSINGS} WHERE r.id = ${id}::uuid`
  return row === undefined ? null : asKept(row)
}

function asKept(row: Row): KeptPressing {
  const { id, jobId, lubricant, note, by, occurredAt, recordedAt: _recordedAt, struckAt, struckBy, struckBecause, joint, ...pressed } = row
  const at = joint === null ? {} : { joint }
  const { direction, side, peakTonnes, notReadBecause, galling, crack, webMark } = pressed
  const shown: PressingShown = {
    id,
    direction,
    side,
    ...at,
    ...(peakTonnes === null ? {} : { peakTonnes }),
    ...(notReadBecause === null ? {} : { notReadBecause }),
    ...(lubricant === null ? {} : { lubricant }),
    ...(galling === null ? {} : { galling }),
    ...(crack === null ? {} : { crack }),
    ...(webMark === null ? {} : { webMark }),
    ...(note === null ? {} : { note }),
    by,
    occurredAt: occurredAt.toISOString(),
    ...(struckAt === null || struckBecause === null
      ? {}
      : { struck: { by: struckBy ?? '', at: struckAt.toISOString(), because: struckBecause } }),
  }
  return { jobId, done: { ...pressed, ...at, doneAt: doneAt(row), isStruck: struckAt !== null }, shown }
}

export async function addPressing(act: Act, job: { id: string; crankId: string }, done: PressingNew): Promise<KeptPressing> {
  const { id, occurredAt, peakTonnes, notReadBecause, lubricant, galling, crack, webMark, note, joint, ...rest } = done
  const made = await act.tx.pressing.create({
    data: {
      ...rest,
      jobId: job.id,
      crankId: job.crankId,
      joint: joint ?? null,
      peakTonnes: peakTonnes ?? null,
      notReadBecause: notReadBecause ?? null,
      lubricant: lubricant ?? null,
      galling: galling ?? null,
      crack: crack ?? null,
      webMark: webMark ?? null,
      note: note ?? null,
      personId: act.by.id,
      occurredAt: momentOf(act, occurredAt),
      recordedAt: act.now,
      ...(id === undefined ? {} : { id }),
    },
    select: { id: true },
  })
  const kept = await readPressing(act.tx, made.id)
  if (!kept) throw new Error('a pressing that was just written is not there')
  return kept
}

/** Strikes a pressing out; false where it was struck out before. */
export async function strikePressing(act: Act, id: string, because: string): Promise<boolean> {
  const { count } = await act.tx.pressing.updateMany({
    where: { id, struckAt: null },
    data: { struckAt: act.now, struckById: act.by.id, struckBecause: because },
  })
  return count === 1
}

export async function setOilHole(act: Act, jobId: string, oilHole: 'open' | 'masked' | 'none'): Promise<void> {
  await act.tx.job.update({ where: { id: jobId }, data: { oilHole, version: { increment: 1 } }, select: { id: true } })
}

// ---- welds -----------------------------------------------------------------------------------------------------------

export interface KeptWeld {
  doneAt: string
  shown: WeldShown
}

interface WeldRow {
  id: string
  filler: string | null
  amps: number | null
  note: string | null
  by: string
  occurredAt: Date
  recordedAt: Date
}

const WELDS = Prisma.sql`
  SELECT w.id, w.filler, w.amps, w.note, p.name AS by, w.occurred_at AS "occurredAt", w.recorded_at AS "recordedAt"
  FROM weld w JOIN person p ON p.id = w.person_id`

/** All welds of the job aliased j in the order in which they were written down, for weldsFrom. */
export const WELDS_OF_JOB = Prisma.sql`(SELECT json_agg(x ORDER BY x."recordedAt", x.id) FROM (${WELDS} WHERE w.job_id = j.id) x)`

export type JsonWeld = JsonRow<WeldRow>

export function weldsFrom(rows: readonly JsonWeld[] | null): KeptWeld[] {
  return (rows ?? []).map((row) => asKeptWeld({ ...row, occurredAt: new Date(row.occurredAt), recordedAt: new Date(row.recordedAt) }))
}

function asKeptWeld({ id, filler, amps, note, by, occurredAt, recordedAt }: WeldRow): KeptWeld {
  return {
    doneAt: doneAt({ occurredAt, recordedAt }),
    shown: {
      id,
      ...(filler === null ? {} : { filler }),
      ...(amps === null ? {} : { amps }),
      ...(note === null ? {} : { note }),
      by,
      occurredAt: occurredAt.toISOString(),
    },
  }
}

/** Writes a weld down and marks the crank as welded for good. */
export async function addWeld(act: Act, job: { id: string; crankId: string }, done: z.infer<typeof weldNew>): Promise<WeldShown> {
  const { id, occurredAt, filler, amps, note } = done
  const made = await act.tx.weld.create({
    data: {
      jobId: job.id,
      filler: filler ?? null,
      amps: amps ?? null,
      note: note ?? null,
      personId: act.by.id,
      occurredAt: momentOf(act, occurredAt),
      recordedAt: act.now,
      ...(id === undefined ? {} : { id }),
    },
    select: { id: true },
  })
  await act.tx.crank.updateMany({ where: { id: job.crankId, welded: false }, data: { welded: true, version: { increment: 1 } } })
  const [row] = await act.tx.$queryRaw<WeldRow[]>`${WELDS} WHERE w.id = ${made.id}::uuid`
  if (!row) throw new Error('a weld that was just written is not there')
  return asKeptWeld(row).shown
}

// ---- what was decided where a fit stopped it -----------------------------------------------------------------------

/** The kind of its line in the history, where it is kept: a decision is written once and never changed. */
export const FIT_STOP = 'fit-stop'

interface FitStopRow {
  side: Side
  joint: Joint | null
  choice: FitStopChoice
  because: string
  by: string
  at: Date
}

/** What was decided on the webs of a job, oldest first. */
export async function readFitStops(db: Tx | Db['prisma'], jobId: string): Promise<FitStop[]> {
  const rows = await ask<FitStopRow>(
    db,
    Prisma.sql`SELECT v.data->>'side' AS side, v.data->>'joint' AS joint, v.data->>'choice' AS choice, v.data->>'because' AS because, p.name AS by, v.occurred_at AS at
      FROM job_event v JOIN person p ON p.id = v.person_id WHERE v.job_id = ${jobId}::uuid AND v.kind = ${FIT_STOP} ORDER BY v.seq`,
  )
  return rows.map(({ at, joint, ...row }) => ({
    ...row,
    ...(joint === null ? {} : { joint }),
    says: FIT_STOP_WORDS[row.choice],
    at: at.toISOString(),
  }))
}

// ---- the parts between the webs ----------------------------------------------------------------------------------------

type TrappedSeen = z.infer<typeof trappedSeen>

/** What is in between the webs of a job; the last look stands. */
export async function setTrapped(act: Act, jobId: string, seen: TrappedSeen): Promise<void> {
  await act.tx.job.update({ where: { id: jobId }, data: { trapped: seen, version: { increment: 1 } }, select: { id: true } })
}
