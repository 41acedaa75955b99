import type { CertificateMadeWith, InstrumentCheck } from '#contract/instrument-checks.ts'
import type { CheckKind } from '#contract/instruments.ts'
import type { CertificateData } from '#core/certificate.ts'
import { certificateMargin } from '#core/certificate-margin.ts'
import { Prisma } from '#prisma/client/client.ts'
import { printedNumber } from '#server/features/certificates/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { numberCursor, pageFrom, pageLength } from '#server/plugins/cursor.ts'
import { ask, type Db, type Tx } from '#server/plugins/database.ts'
import { dateColumn, shopDay } from '#server/plugins/shop-day.ts'

type Reader = Tx | Db['prisma']

export interface NewCheck {
  id: string
  instrumentId: string
  kind: CheckKind
  held?: boolean | undefined
  offMm?: number | undefined
  note?: string | undefined
  occurredAt: Date
}

export async function addCheck(act: Act, check: NewCheck): Promise<void> {
  const { id, instrumentId, kind, held = null, offMm = null, note = null, occurredAt } = check
  await act.tx.instrumentCheck.create({
    data: { id, instrumentId, kind, held, offMm, note, personId: act.by.id, occurredAt, recordedAt: act.now },
    select: { id: true },
  })
}

/** What a check that found it good changes in the register. */
export async function registerChecked(act: Act, id: string, checkedOn: string, dueOn: string | undefined): Promise<void> {
  await act.tx.instrument.update({
    where: { id },
    data: { checkedOn: dateColumn(checkedOn), ...(dueOn === undefined ? {} : { dueOn: dateColumn(dueOn) }), version: { increment: 1 } },
    select: { id: true },
  })
}

const LISTED = 200

interface Row {
  id: string
  kind: CheckKind
  held: boolean | null
  offMm: number | null
  note: string | null
  by: string | null
  occurredAt: Date
}

/** Newest first. */
export async function checksOf(db: Reader, instrumentId: string): Promise<InstrumentCheck[]> {
  const rows = await ask<Row>(
    db,
    Prisma.sql`SELECT k.id, k.kind, k.held, k.off_mm::float8 AS "offMm", k.note, p.name AS by, k.occurred_at AS "occurredAt"
    FROM instrument_check k LEFT JOIN person p ON p.id = k.person_id WHERE k.instrument_id = ${instrumentId}::uuid
    ORDER BY k.occurred_at DESC, k.recorded_at DESC, k.id DESC LIMIT ${LISTED}`,
  )
  return rows.map(({ held, offMm, note, by, occurredAt, ...row }) => ({
    ...row,
    ...(held === null ? {} : { held }),
    ...(offMm === null ? {} : { offMm }),
    ...(note === null ? {} : { note }),
    ...(by === null ? {} : { by }),
    occurredAt: occurredAt.toISOString(),
  }))
}

/** Between two good checks; null where there is none on that side. */
export interface Doubtful {
  since: Date | null
  until: Date | null
}

/**
 * The good checks on either side of a fault; without a fault, from the last good check on. null where this instrument has no
 * such fault.
 */
export async function doubtfulSpan(db: Reader, instrumentId: string, fault: string | undefined): Promise<Doubtful | null> {
  const good = Prisma.sql`SELECT g.occurred_at FROM instrument_check g WHERE g.instrument_id = ${instrumentId}::uuid AND g.kind = 'check' AND g.held`
  if (fault === undefined) {
    const [last] = await ask<{ since: Date | null }>(db, Prisma.sql`SELECT (${good} ORDER BY g.occurred_at DESC LIMIT 1) AS since`)
    return { since: last?.since ?? null, until: null }
  }
  const [span] = await ask<Doubtful>(
    db,
    Prisma.sql`SELECT
      (${good} AND (g.occurred_at, g.recorded_at, g.id) < (f.occurred_at, f.recorded_at, f.id) ORDER BY g.occurred_at DESC LIMIT 1) AS since,
      (${good} AND (g.occurred_at, g.recorded_at, g.id) > (f.occurred_at, f.recorded_at, f.id) ORDER BY g.occurred_at LIMIT 1) AS until
    FROM instrument_check f WHERE f.id = ${fault}::uuid AND f.instrument_id = ${instrumentId}::uuid AND f.held IS DISTINCT FROM true`,
  )
  return span ?? null
}

/** Certificates with a reading by this instrument from this span that stood when they were made. */
function madeWith(instrumentId: string, { since, until }: Doubtful): Prisma.Sql {
  return Prisma.sql`FROM certificate c JOIN job j ON j.id = c.job_id
    WHERE (${since}::timestamptz IS NULL OR c.issued_at >= ${since}::timestamptz) AND EXISTS (
      SELECT 1 FROM measurement m WHERE m.job_id = c.job_id AND m.instrument_id = ${instrumentId}::uuid
      AND m.recorded_at <= c.issued_at AND (m.struck_at IS NULL OR m.struck_at > c.issued_at)
      AND (${since}::timestamptz IS NULL OR m.occurred_at >= ${since}::timestamptz)
      AND (${until}::timestamptz IS NULL OR m.occurred_at < ${until}::timestamptz))`
}

export async function countMadeWith(db: Reader, instrumentId: string, span: Doubtful): Promise<number> {
  const [row] = await ask<{ n: number }>(db, Prisma.sql`SELECT count(*)::int AS n ${madeWith(instrumentId, span)}`)
  return row?.n ?? 0
}

interface Made {
  id: string
  number: number
  jobId: string
  tag: string
  issuedAt: Date
  data: string
  stands: boolean
}

/** Newest first. */
export async function listMadeWith(
  db: Reader,
  instrumentId: string,
  span: Doubtful,
  { after, limit, zone }: { after?: string | undefined; limit?: number | undefined; zone: string },
): Promise<{ rows: CertificateMadeWith[]; next: string | null }> {
  const cursor = numberCursor(after)
  const rows = await ask<Made>(
    db,
    Prisma.sql`SELECT c.id, c.number, c.job_id AS "jobId", j.tag, c.issued_at AS "issuedAt", c.data,
      NOT EXISTS (SELECT 1 FROM certificate_void v WHERE v.certificate_id = c.id)
        AND NOT EXISTS (SELECT 1 FROM certificate n WHERE n.replaces_id = c.id) AS stands
    ${madeWith(instrumentId, span)} AND (${cursor}::int IS NULL OR c.number < ${cursor}::int)
    ORDER BY c.number DESC LIMIT ${pageLength(limit) + 1}`,
  )
  const page = pageFrom(rows, limit, (row) => String(row.number))
  return {
    next: page.next,
    rows: page.rows.map(({ number, issuedAt, data, ...row }) => ({
      ...row,
      number: printedNumber(number),
      issuedOn: shopDay(issuedAt, zone),
      ...certificateMargin(JSON.parse(data) as CertificateData),
    })),
  }
}
