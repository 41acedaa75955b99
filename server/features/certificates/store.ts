import type { CertificateData, CertificateStanding } from '#core/certificate.ts'
import { Prisma } from '#prisma/client/client.ts'
import type { Act } from '#server/plugins/act.ts'
import type { Db, Tx } from '#server/plugins/database.ts'
import type { Seal } from './seal.ts'

/** A sheet as it was sealed, and what befell it since. */
export interface Sheet {
  id: string
  number: number
  jobId: string
  /** The sealed text: the RFC 8785 form of the data. */
  text: string
  data: CertificateData
  seal: Seal
  checkCode: string
  issuedAt: Date
  issuedBy: string
  replaces: string | null
  reason: string | null
  replacedBy: { number: string; at: Date } | null
  void: { reason: string; at: Date; by: string } | null
}

interface Row {
  id: string
  number: number
  job_id: string
  data: string
  seal_alg: Seal['alg']
  seal_key_id: string | null
  seal_value: string
  check_code: string
  issued_at: Date
  issued_by: string
  replaces: number | null
  reason: string | null
  next_number: number | null
  next_at: Date | null
  void_reason: string | null
  void_at: Date | null
  void_by: string | null
}

const SHEET = Prisma.sql`
  SELECT c.id, c.number, c.job_id, c.data, c.seal_alg, c.seal_key_id, c.seal_value, c.check_code, c.issued_at, p.name AS issued_by,
    earlier.number AS replaces, c.reason, later.number AS next_number, later.issued_at AS next_at, v.reason AS void_reason, v.at AS void_at, vp.name AS void_by
  FROM certificate c JOIN person p ON p.id = c.issued_by_id
  LEFT JOIN certificate earlier ON earlier.id = c.replaces_id
  LEFT JOIN certificate later ON later.replaces_id = c.id
  LEFT JOIN certificate_void v ON v.certificate_id = c.id LEFT JOIN person vp ON vp.id = v.person_id`

/** A number as it prints: four figures at the least. */
export function printedNumber(number: number): string {
  return String(number).padStart(4, '0')
}

function asSheet(row: Row): Sheet {
  return {
    id: row.id,
    number: row.number,
    jobId: row.job_id,
    text: row.data,
    data: JSON.parse(row.data) as CertificateData,
    seal: { alg: row.seal_alg, keyId: null, value: row.seal_value },
    checkCode: row.check_code,
    issuedAt: row.issued_at,
    issuedBy: row.issued_by,
    replaces: row.replaces === null ? null : printedNumber(row.replaces),
    reason: row.reason,
    replacedBy: row.next_number === null || row.next_at === null ? null : { number: printedNumber(row.next_number), at: row.next_at },
    void: row.void_reason === null || row.void_at === null ? null : { reason: row.void_reason, at: row.void_at, by: row.void_by ?? '' },
  }
}

type Reader = Db['prisma'] | Tx

export async function sheetsOfJob(db: Reader, jobId: string): Promise<Sheet[]> {
  const rows = await db.$queryRaw<Row[]>`${SHEET} WHERE c.job_id = ${jobId}::uuid ORDER BY c.number DESC`
  return rows.map(asSheet)
}

export async function sheetById(db: Reader, id: string): Promise<Sheet | null> {
  const rows = await db.$queryRaw<Row[]>`${SHEET} WHERE c.id = ${id}::uuid`
  return rows[0] ? asSheet(rows[0]) : null
}

export async function sheetByNumber(db: Reader, number: number): Promise<Sheet | null> {
  const rows = await db.$queryRaw<Row[]>`${SHEET} WHERE c.number = ${number}`
  return rows[0] ? asSheet(rows[0]) : null
}

export async function sheetByFile(db: Reader, sha256: string): Promise<Sheet | null> {
  const rows = await db.$queryRaw<Row[]>`${SHEET} WHERE c.id IN (SELECT certificate_id FROM certificate_paper WHERE sha256 = ${sha256})`
  return rows[0] ? asSheet(rows[0]) : null
}

/** The next number; the row stays locked until the commit, so that numbers have no gaps and no doubles. */
export async function takeNumber(tx: Tx): Promise<number> {
  const { last } = await tx.counter.update({ where: { name: 'certificate' }, data: { last: { increment: 1 } }, select: { last: true } })
  return last
}

export interface NewSheet {
  id?: string | undefined
  number: number
  jobId: string
  text: string
  seal: Seal
  checkCode: string
  replacesId: string | null
  reason: string | null
}

export async function addSheet(act: Act, sheet: NewSheet): Promise<string> {
  const { id } = await act.tx.certificate.create({
    data: {
      ...(sheet.id === undefined ? {} : { id: sheet.id }),
      number: sheet.number,
      jobId: sheet.jobId,
      replacesId: sheet.replacesId,
      reason: sheet.reason,
      data: sheet.text,
      sealAlg: sheet.seal.alg,
      sealKeyId: sheet.seal.keyId,
      sealValue: sheet.seal.value,
      checkCode: sheet.checkCode,
      issuedById: act.by.id,
      issuedAt: act.now,
    },
    select: { id: true },
  })
  return id
}

export async function addVoid(act: Act, certificateId: string, reason: string): Promise<void> {
  await act.tx.certificateVoid.create({
    data: { certificateId, reason, personId: act.by.id, at: act.now },
    select: { certificateId: true },
  })
}

/** Head of the audit chain, printed on the sheet: it holds the chain from outside the book. */
export async function chainHead(tx: Tx): Promise<string | undefined> {
  const row = await tx.auditRow.findFirst({ orderBy: { seq: 'desc' }, select: { hash: true } })
  return row ? Buffer.from(row.hash).toString('hex') : undefined
}

/** A drawn file by its paper and by how the sheet stood when it was drawn. */
export async function paperFile(db: Reader, certificateId: string, paper: string): Promise<string | null> {
  const row = await db.certificatePaper.findUnique({ where: { certificateId_paper: { certificateId, paper } }, select: { sha256: true } })
  return row?.sha256 ?? null
}

/** Keeps what was drawn; of two drawn at once the first stays. */
export async function keepPaper(
  db: Reader,
  drawn: { certificateId: string; paper: string; sha256: string; bytes: number; drawnAt: Date },
): Promise<void> {
  await db.certificatePaper.createMany({ data: [drawn], skipDuplicates: true })
}

export async function filesOf(db: Reader, certificateId: string): Promise<string[]> {
  const rows = await db.certificatePaper.findMany({ where: { certificateId }, orderBy: { paper: 'asc' }, select: { sha256: true } })
  return rows.map((row) => row.sha256)
}

export function standingOf(sheet: Sheet, dayOf: (at: Date) => string): CertificateStanding {
  return {
    ...(sheet.replacedBy === null ? {} : { replacedBy: { number: sheet.replacedBy.number, onDay: dayOf(sheet.replacedBy.at) } }),
    ...(sheet.void === null ? {} : { void: { onDay: dayOf(sheet.void.at), reason: sheet.void.reason } }),
  }
}
