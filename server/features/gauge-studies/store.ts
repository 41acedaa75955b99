import type { GaugeStudyNew, GaugeStudyRow } from '#contract/gauge-studies.ts'
import { Prisma } from '#prisma/client/client.ts'
import type { Act } from '#server/plugins/act.ts'
import { idCursor, pageFrom, pageLength } from '#server/plugins/cursor.ts'
import { ask, type Db, type Tx } from '#server/plugins/database.ts'

type Reader = Tx | Db['prisma']

export interface StudyPerson {
  id: string
  name: string
  taken: number
}

/** A study as it stands, without its readings. */
export interface StudyHead {
  id: string
  name: string
  instrument: { id: string; name: string; stepMm: number }
  what: string
  toleranceMm: number | null
  parts: string[]
  rounds: number
  startedAt: Date
  startedById: string
  startedBy: string
  closedAt: Date | null
  closedBecause: string | null
  people: StudyPerson[]
}

const HEADS = Prisma.sql`SELECT s.id, s.name, json_build_object('id', i.id, 'name', i.name, 'stepMm', i.step_mm) AS instrument, s.what,
    s.tolerance_mm::float8 AS "toleranceMm", s.parts, s.rounds, s.started_at AS "startedAt", s.started_by_id AS "startedById",
    b.name AS "startedBy", s.closed_at AS "closedAt", s.closed_because AS "closedBecause",
    (SELECT json_agg(json_build_object('id', p.id, 'name', p.name, 'taken',
        (SELECT count(*) FROM gauge_reading r WHERE r.study_id = s.id AND r.person_id = p.id AND r.struck_at IS NULL)) ORDER BY g.place)
      FROM gauge_study_person g JOIN person p ON p.id = g.person_id WHERE g.study_id = s.id) AS people
  FROM gauge_study s JOIN instrument i ON i.id = s.instrument_id JOIN person b ON b.id = s.started_by_id`

export async function readStudy(db: Reader, id: string): Promise<StudyHead | null> {
  const [row] = await ask<StudyHead>(db, Prisma.sql`${HEADS} WHERE s.id = ${id}::uuid`)
  return row ?? null
}

/** Newest first. */
export async function listStudies(
  db: Reader,
  asked: { after?: string | undefined; limit?: number | undefined },
): Promise<{ rows: StudyHead[]; next: string | null }> {
  const last = idCursor(asked.after)
  const from = last === null ? null : await startOf(db, last)
  const rows = await ask<StudyHead>(
    db,
    Prisma.sql`${HEADS} WHERE ${from?.at ?? null}::timestamptz IS NULL OR (s.started_at, s.id) < (${from?.at ?? null}::timestamptz, ${from?.id ?? null}::uuid)
    ORDER BY s.started_at DESC, s.id DESC LIMIT ${pageLength(asked.limit) + 1}`,
  )
  return pageFrom(rows, asked.limit, (row) => row.id)
}

/** Where the row of a cursor stands; after a study that is not there comes nothing. */
async function startOf(db: Reader, id: string): Promise<{ at: Date; id: string }> {
  const row = await db.gaugeStudy.findUnique({ where: { id }, select: { startedAt: true } })
  return { at: row?.startedAt ?? new Date(0), id }
}

/** Locks a study until the end of the act, so that two who read at once do not both think that a reading is missing. */
export async function lockStudy(tx: Tx, id: string): Promise<StudyHead | null> {
  await ask(tx, Prisma.sql`SELECT id FROM gauge_study WHERE id = ${id}::uuid FOR UPDATE`)
  return readStudy(tx, id)
}

export async function addStudy(act: Act, wanted: GaugeStudyNew): Promise<string> {
  const { id = act.newId(), name, instrumentId, what, toleranceMm = null, parts, people, rounds } = wanted
  await act.tx.gaugeStudy.create({
    data: { id, name, instrumentId, what, toleranceMm, parts, rounds, startedById: act.by.id, startedAt: act.now },
    select: { id: true },
  })
  await act.tx.gaugeStudyPerson.createMany({ data: people.map((personId, index) => ({ studyId: id, personId, place: index + 1 })) })
  return id
}

export async function closeStudy(act: Act, id: string, because: string | null): Promise<void> {
  await act.tx.gaugeStudy.update({ where: { id }, data: { closedAt: act.now, closedBecause: because }, select: { id: true } })
}

/** A reading that is not struck out. */
export interface KeptReading {
  id: string
  part: number
  round: number
  personId: string
  mm: number
}

/** Every reading of a study, or those of one person; in the order in which they came in. */
export async function readingsOf(db: Reader, studyId: string, personId?: string): Promise<KeptReading[]> {
  const rows = await db.gaugeReading.findMany({
    where: { studyId, struckAt: null, ...(personId === undefined ? {} : { personId }) },
    select: { id: true, part: true, round: true, personId: true, mm: true },
    orderBy: [{ recordedAt: 'asc' }, { id: 'asc' }],
  })
  return rows.map((row) => ({ ...row, mm: Number(row.mm) }))
}

export async function addReading(act: Act, studyId: string, reading: Omit<KeptReading, 'personId'> & { occurredAt: Date }): Promise<void> {
  await act.tx.gaugeReading.create({ data: { ...reading, studyId, personId: act.by.id, recordedAt: act.now }, select: { id: true } })
}

export async function findReading(tx: Tx, id: string): Promise<{ studyId: string; personId: string; struck: boolean } | null> {
  const row = await tx.gaugeReading.findUnique({ where: { id }, select: { studyId: true, personId: true, struckAt: true } })
  return row && { studyId: row.studyId, personId: row.personId, struck: row.struckAt !== null }
}

export async function strikeReading(act: Act, id: string, because: string): Promise<void> {
  await act.tx.gaugeReading.update({
    where: { id },
    data: { struckAt: act.now, struckById: act.by.id, struckBecause: because },
    select: { id: true },
  })
}

/** Which of these people may read at the bench. */
export async function readersAmong(tx: Tx, people: readonly string[]): Promise<string[]> {
  const rows = await tx.person.findMany({
    where: { id: { in: [...people] }, role: { in: ['bench', 'owner'] }, barredAt: null },
    select: { id: true },
  })
  return rows.map(({ id }) => id)
}

export function wantedOf({ parts, rounds, people }: Pick<StudyHead, 'parts' | 'rounds' | 'people'>): number {
  return parts.length * rounds * people.length
}

export function stateOf({ closedAt, closedBecause }: Pick<StudyHead, 'closedAt' | 'closedBecause'>): GaugeStudyRow['state'] {
  if (closedAt === null) return 'open'
  return closedBecause === null ? 'all-in' : 'given-up'
}
