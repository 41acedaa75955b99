import type { z } from 'zod'
import type { JOB_LISTS, jobPage } from '#contract/book.ts'
import type { JobRow } from '#contract/jobs.ts'
import type { Role } from '#contract/people.ts'
import { benchTurns } from '#core/bench-now.ts'
import { daysLate, isLate } from '#core/calendar.ts'
import { ENDS, STEPS } from '#core/steps.ts'
import { wireInstant } from '#server/features/events/store.ts'
import { DEPOSIT_HELD, OWES } from '#server/features/money/store.ts'
import { dayCursor, dayCursorOf, numberCursor, pageFrom, pageLength } from '#server/plugins/cursor.ts'
import type { Db } from '#server/plugins/database.ts'

type JobList = (typeof JOB_LISTS)[number]
type JobPage = z.infer<typeof jobPage>

const LEFT: readonly string[] = ['gone', ...ENDS]
const IN_THE_HOUSE = STEPS.filter((step) => step !== 'gone')
/** States in which a broken promise counts, as core decides it. */
const CAN_BE_LATE = IN_THE_HOUSE.filter((state) => isLate({ promised: '2000-01-01', today: '2000-01-02', state }))

const WAITS_FOR = (what: string) => `EXISTS (SELECT 1 FROM job_wait w WHERE w.job_id = j.id AND w.ended_at IS NULL AND w.what = '${what}')`
const HOUSE = `j.state IN (${quoted(IN_THE_HOUSE)})`
const LATE = `j.state IN (${quoted(CAN_BE_LATE)}) AND j.promised_on < $1::date`

const WHICH: Readonly<Record<JobList, string>> = {
  house: HOUSE,
  late: LATE,
  'waiting-kit': `${HOUSE} AND ${WAITS_FOR('kit')}`,
  'waiting-yes': `${HOUSE} AND ${WAITS_FOR('yes')}`,
  ready: `j.state = 'signed'`,
  bench: `(${benchTurns()
    .map(
      ({ kind, step, heldUpBy }) =>
        `(j.kind = '${kind}' AND j.state = '${step}' AND NOT EXISTS (SELECT 1 FROM job_wait w WHERE w.job_id = j.id AND w.ended_at IS NULL AND w.what IN (${quoted(heldUpBy)})))`,
    )
    .join(' OR ')})`,
  gone: `j.state IN (${quoted(LEFT)})`,
  all: 'true',
}

/** Lists of what has left run from the newest tag back; the others by promise, those without one last. */
const BY_NUMBER: readonly JobList[] = ['gone', 'all']

function quoted(words: readonly string[]): string {
  return words.map((word) => `'${word}'`).join(', ')
}

const ROW = `'id', j.id, 'tag', j.tag, 'kind', j.kind, 'state', j.state, 'engine', e.maker || ' ' || e.code, 'number', j.number,
  'waiting', coalesce((SELECT json_agg(json_build_object('what', w.what, 'note', w.note, 'since', ${wireInstant('w.since').sql}, 'dueOn', w.due_on) ORDER BY w.since, w.id)
    FROM job_wait w WHERE w.job_id = j.id AND w.ended_at IS NULL), '[]'),
  'wantedOn', j.wanted_on, 'promisedOn', j.promised_on, 'place', j.place, 'holder', p.name, 'bookedAt', ${wireInstant('j.booked_at').sql},
  'comeback', j.comeback_of_id IS NOT NULL,
  'readySince', CASE WHEN j.state = 'signed' THEN (SELECT ${wireInstant('max(s.at)').sql} FROM job_step s
    WHERE s.job_id = j.id AND s.step = 'signed' AND s.undone_at IS NULL) END,
  'toldLate', ${LATE} AND EXISTS (SELECT 1 FROM job_event v WHERE v.job_id = j.id AND v.kind = 'told'
    AND v.occurred_at >= (j.promised_on + 1)::timestamp AT TIME ZONE $2)`

/** For counter and owner; the last quote is asked while it has no yes. */
const MONEY_OF_ROW = `, 'whose', c.name, 'owes', ${OWES.sql}, 'deposit', ${DEPOSIT_HELD.sql},
  'asked', (SELECT CASE WHEN q.yes_at IS NULL THEN q.total_minor END FROM quote q WHERE q.job_id = j.id ORDER BY q.version DESC LIMIT 1),
  'askedOn', (SELECT CASE WHEN q.yes_at IS NULL THEN ${wireInstant('q.made_at').sql} END FROM quote q WHERE q.job_id = j.id ORDER BY q.version DESC LIMIT 1)`

function countOf(where: string): string {
  return `(SELECT count(*) FROM job j WHERE ${where})`
}

/**
 * One statement answers the rows and how many cranks each list holds: $1 today, $2 the zone, $3 how many rows, then the
 * cursor. Its text depends on the list and the role alone, so the database prepares it once.
 */
export function bookStatement(list: JobList, role: Role): string {
  const byNumber = BY_NUMBER.includes(list)
  const after = byNumber
    ? '($4::int IS NULL OR j.number < $4)'
    : `($4::uuid IS NULL OR (coalesce(j.promised_on, 'infinity'), j.id) > (coalesce($5::date, 'infinity'), $4))`
  const order = byNumber ? 'j.number DESC' : 'j.promised_on NULLS LAST, j.id'
  const page = `SELECT j.* FROM job j WHERE ${WHICH[list]} AND ${after} ORDER BY ${order} LIMIT $3`
  return `SELECT json_build_object('house', ${countOf(HOUSE)}, 'late', ${countOf(LATE)}, 'waitingKit', ${countOf(WHICH['waiting-kit'])},
      'waitingYes', ${countOf(WHICH['waiting-yes'])}, 'ready', ${countOf(WHICH.ready)}) AS counts,
    (SELECT json_agg(json_strip_nulls(json_build_object(${ROW}${role === 'bench' ? '' : MONEY_OF_ROW})) ORDER BY ${order})
     FROM (${page}) j JOIN crank k ON k.id = j.crank_id JOIN engine e ON e.id = k.engine_id JOIN customer c ON c.id = j.customer_id
     LEFT JOIN person p ON p.id = j.holder_id) AS rows`
}

interface Row extends Omit<JobRow, 'late' | 'daysLate'> {
  number: number
}

/** The book: one list of it, by promise or newest first, with the number of cranks in each. */
export async function listJobs(
  db: Db,
  asked: { list?: JobList | undefined; after?: string | undefined; limit?: number | undefined },
  reader: { role: Role; zone: string; today: string },
): Promise<JobPage> {
  const list = asked.list ?? 'house'
  const byNumber = BY_NUMBER.includes(list)
  const bench = reader.role === 'bench'
  const { rows } = await db.pool.query<{ counts: JobPage['counts']; rows: Row[] | null }>({
    name: `book ${list}${bench ? ' for the bench' : ''}`,
    text: bookStatement(list, reader.role),
    values: [reader.today, reader.zone, pageLength(asked.limit) + 1, ...(byNumber ? [numberCursor(asked.after)] : dayAndId(asked.after))],
  })
  const answer = rows[0]!
  const page = pageFrom(answer.rows ?? [], asked.limit, (row) =>
    byNumber ? String(row.number) : dayCursorOf({ day: row.promisedOn ?? null, id: row.id }),
  )
  return { counts: answer.counts, today: reader.today, rows: page.rows.map((row) => asRow(row, reader.today)), next: page.next }
}

function dayAndId(after: string | undefined): [id: string | null, day: string | null] {
  const cursor = dayCursor(after)
  return [cursor?.id ?? null, cursor?.day ?? null]
}

function asRow({ number: _place, ...row }: Row, today: string): JobRow {
  const days = daysLate({ promised: row.promisedOn ?? null, today, state: row.state })
  return { ...row, late: days > 0, ...(days > 0 ? { daysLate: days } : {}) }
}
