import type { AuditLine, AuditQuery } from '#contract/audit.ts'
import { type AuditSayings, auditChanges } from '#core/audit-changes.ts'
import { auditActionWords, auditThingOf } from '#core/audit-words.ts'
import { hiddenSets } from '#core/bench/second-check.ts'
import { dayInWords } from '#core/days-in-words.ts'
import { moneyWords } from '#core/money-words.ts'
import { readJobBench } from '#server/features/measurements/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import type { Db } from '#server/plugins/database.ts'
import { shopDay, shopTime } from '#server/plugins/shop-day.ts'
import { type AuditRowRead, awaitingSecond, listAudit, type Named, namesOf } from './store.ts'

const UUID = /[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}/gi

/** A page of the audit chain in the words of the shop, as this person may read it. */
export async function auditLines(db: Db, asked: AuditQuery, viewerId: string): Promise<{ rows: AuditLine[]; next: string | null }> {
  const { zone, currency } = await readSettings(db.prisma)
  const page = await listAudit(db.pool, asked, zone)
  const names = await namesOf(db.pool, idsIn(page.rows))
  const hidden = await hiddenIn(db, page.rows, names, viewerId)
  const say: AuditSayings = {
    name: (id) => names.get(id.toLowerCase())?.says ?? `one that is not in the book (${id.slice(0, 8)})`,
    money: (minor) => moneyWords(minor, currency),
    instant: (iso) => inShop(new Date(iso), zone),
    day: dayWords,
  }
  return { rows: page.rows.map((row) => asLine(row, names, hidden, say)), next: page.next }
}

function inShop(at: Date, zone: string): string {
  return `${dayInWords(shopDay(at, zone))}, ${shopTime(at, zone)}`
}

/** Ten signs that look like a date may have been typed as text and be none. */
function dayWords(date: string): string {
  return Number.isNaN(Date.parse(`${date}T00:00:00Z`)) ? date : dayInWords(date)
}

function idsIn(rows: readonly AuditRowRead[]): string[] {
  const found = rows.flatMap((row) => [row.actorId ?? '', row.entityId, row.payload ?? '']).flatMap((text) => text.match(UUID) ?? [])
  return [...new Set(found.map((id) => id.toLowerCase()))]
}

/** First readings that this person must not see before the second is in: by no way, the audit included. */
async function hiddenIn(
  db: Db,
  rows: readonly AuditRowRead[],
  names: ReadonlyMap<string, Named>,
  viewerId: string,
): Promise<ReadonlySet<string>> {
  const jobs = new Set(rows.flatMap((row) => (row.entity === 'measurement' ? [names.get(row.entityId)?.jobId ?? ''] : [])))
  jobs.delete('')
  const hidden = new Set<string>()
  for (const id of await awaitingSecond(db.pool, [...jobs])) {
    const held = await readJobBench(db.prisma, id, null)
    for (const set of held === null ? [] : hiddenSets(held.record, viewerId)) hidden.add(set)
  }
  return hidden
}

function asLine(row: AuditRowRead, names: ReadonlyMap<string, Named>, hidden: ReadonlySet<string>, say: AuditSayings): AuditLine {
  const isHidden = row.entity === 'measurement' && hidden.has(row.entityId)
  const kept = row.payload === null ? 'taken-out' : isHidden ? 'out-of-sight' : 'whole'
  const { before, after, reason } = kept === 'whole' ? (JSON.parse(row.payload ?? '{}') as Record<string, unknown>) : {}
  const named = names.get(row.entityId.toLowerCase())
  const thing = auditThingOf(row.entity)
  const id = named?.jobId ?? (named === undefined ? undefined : row.entityId)
  const who = row.actorId === null ? undefined : names.get(row.actorId)?.says
  return {
    seq: row.seq,
    at: row.at.toISOString(),
    ...(who === undefined ? {} : { by: who }),
    ...(row.actorId === null ? {} : { byId: row.actorId }),
    action: row.action,
    did: auditActionWords(row.action),
    about: { ...(thing === null ? {} : { thing }), ...(id === undefined ? {} : { id }), says: named?.says ?? '' },
    changes: auditChanges(before, after, say),
    ...(typeof reason === 'string' ? { reason } : {}),
    kept,
  }
}
