import type { ClockEntry } from '#contract/hours.ts'
import { Prisma } from '#prisma/client/client.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import type { Db, Tx } from '#server/plugins/database.ts'

type Work = ClockEntry['work']
type StoppedHow = NonNullable<ClockEntry['stoppedHow']>

export interface ClockRow {
  id: string
  personId: string
  person: string
  jobId: string
  tag: string
  work: Work
  startedAt: Date
  stoppedAt: Date | null
  stoppedHow: StoppedHow | null
  wasStartedAt: Date | null
  wasStoppedAt: Date | null
  correctedBy: string | null
  correctedAt: Date | null
  correctedWhy: string | null
  version: number
}

const ENTRIES = Prisma.sql`
  SELECT c.id, c.person_id AS "personId", p.name AS person, c.job_id AS "jobId", j.tag, c.work, c.started_at AS "startedAt",
    c.stopped_at AS "stoppedAt", c.stopped_how AS "stoppedHow", c.was_started_at AS "wasStartedAt", c.was_stopped_at AS "wasStoppedAt",
    b.name AS "correctedBy", c.corrected_at AS "correctedAt", c.corrected_why AS "correctedWhy", c.version
  FROM clock_entry c JOIN person p ON p.id = c.person_id JOIN job j ON j.id = c.job_id LEFT JOIN person b ON b.id = c.corrected_by_id`

const MS_AN_HOUR = 3_600_000

export function asEntry(row: ClockRow): ClockEntry {
  const { id, personId, person, jobId, tag, work, startedAt, stoppedAt, stoppedHow, version } = row
  return {
    id,
    personId,
    person,
    jobId,
    tag,
    work,
    startedAt: startedAt.toISOString(),
    ...(stoppedAt === null ? {} : { stoppedAt: stoppedAt.toISOString(), hours: (stoppedAt.getTime() - startedAt.getTime()) / MS_AN_HOUR }),
    ...(stoppedHow === null ? {} : { stoppedHow }),
    ...(row.correctedAt === null || row.wasStartedAt === null
      ? {}
      : {
          corrected: {
            by: row.correctedBy ?? '',
            at: row.correctedAt.toISOString(),
            why: row.correctedWhy ?? '',
            wasStartedAt: row.wasStartedAt.toISOString(),
            ...(row.wasStoppedAt === null ? {} : { wasStoppedAt: row.wasStoppedAt.toISOString() }),
          },
        }),
    version,
  }
}

/** The clock of this person that runs; there is never more than one. */
export async function runningOf(db: Tx | Db['prisma'], personId: string): Promise<ClockRow | null> {
  const [row] = await db.$queryRaw<ClockRow[]>`${ENTRIES} WHERE c.person_id = ${personId}::uuid AND c.stopped_at IS NULL`
  return row ?? null
}

export async function runningOn(db: Tx | Db['prisma'], jobId: string): Promise<ClockRow[]> {
  return db.$queryRaw<ClockRow[]>`${ENTRIES} WHERE c.job_id = ${jobId}::uuid AND c.stopped_at IS NULL ORDER BY c.started_at, c.id`
}

/** Clocks of this person that closing time stopped and nobody has put right. */
export async function unansweredOf(db: Tx | Db['prisma'], personId: string): Promise<ClockRow[]> {
  return db.$queryRaw<ClockRow[]>`
    ${ENTRIES} WHERE c.person_id = ${personId}::uuid AND c.stopped_how = 'closing-time' AND c.corrected_at IS NULL
    ORDER BY c.started_at, c.id LIMIT 100`
}

export async function entriesOfJob(db: Tx | Db['prisma'], jobId: string): Promise<ClockRow[]> {
  return db.$queryRaw<ClockRow[]>`${ENTRIES} WHERE c.job_id = ${jobId}::uuid ORDER BY c.started_at, c.id`
}

export async function readEntry(db: Tx | Db['prisma'], id: string): Promise<ClockRow | null> {
  const [row] = await db.$queryRaw<ClockRow[]>`${ENTRIES} WHERE c.id = ${id}::uuid`
  return row ?? null
}

/** Other clocks of a person that touch a stretch of time, for a correction that must not lie over them. */
export async function entriesAround(tx: Tx, entry: ClockRow, from: Date, until: Date): Promise<ClockRow[]> {
  return tx.$queryRaw<ClockRow[]>`
    ${ENTRIES} WHERE c.person_id = ${entry.personId}::uuid AND c.id <> ${entry.id}::uuid AND c.started_at < ${until}
      AND coalesce(c.stopped_at, 'infinity') > ${from} ORDER BY c.started_at, c.id`
}

/** Keeps a person's clocks from being moved by two requests at once, until the end of the act. */
export async function lockClocksOf(tx: Tx, personId: string): Promise<void> {
  await tx.$queryRaw`SELECT 1 AS locked FROM person WHERE id = ${personId}::uuid FOR NO KEY UPDATE`
}

/** When the last clock of this person stopped; null where none ever ran, or one still runs. */
export async function lastStopOf(tx: Tx, personId: string): Promise<Date | null> {
  const [row] = await tx.$queryRaw<{ stoppedAt: Date | null }[]>`
    SELECT max(stopped_at) AS "stoppedAt" FROM clock_entry WHERE person_id = ${personId}::uuid`
  return row?.stoppedAt ?? null
}

export async function startClock(
  act: Act,
  clock: { id?: string | undefined; jobId: string; work: Work; startedAt: Date },
): Promise<ClockRow> {
  const { id, ...columns } = clock
  const made = await act.tx.clockEntry.create({
    data: { ...columns, personId: act.by.id, ...(id === undefined ? {} : { id }) },
    select: { id: true },
  })
  return (await readEntry(act.tx, made.id))!
}

/** Stops a running clock; null where it runs no more. */
export async function stopClock(act: Act, id: string, stop: { at: Date; how: StoppedHow }): Promise<ClockRow | null> {
  const { count } = await act.tx.clockEntry.updateMany({
    where: { id, stoppedAt: null },
    data: { stoppedAt: stop.at, stoppedHow: stop.how, version: { increment: 1 } },
  })
  return count === 0 ? null : readEntry(act.tx, id)
}

/** Puts an entry right at the version that was seen. What the clock itself said is kept, however often it is put right. */
export async function correctEntry(
  act: Act,
  before: ClockRow,
  right: { startedAt: Date; stoppedAt: Date; why: string },
): Promise<ClockRow> {
  const isFirst = before.correctedAt === null
  const { count } = await act.tx.clockEntry.updateMany({
    where: { id: before.id, version: before.version },
    data: {
      startedAt: right.startedAt,
      stoppedAt: right.stoppedAt,
      stoppedHow: before.stoppedHow ?? 'hand',
      wasStartedAt: isFirst ? before.startedAt : before.wasStartedAt,
      wasStoppedAt: isFirst ? before.stoppedAt : before.wasStoppedAt,
      correctedById: act.by.id,
      correctedAt: act.now,
      correctedWhy: right.why,
      version: { increment: 1 },
    },
  })
  const now = (await readEntry(act.tx, before.id))!
  if (count === 0) mustStandAt(now.version, before.version)
  return now
}
