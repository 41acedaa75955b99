import type { Job } from '#contract/jobs.ts'
import type { Role } from '#contract/people.ts'
import type { Settings } from '#contract/settings.ts'
import { daysLate } from '#core/calendar.ts'
import { owesMinor } from '#core/owes.ts'
import { Prisma } from '#prisma/client/client.ts'
import { customerJson } from '#server/features/customers/store.ts'
import { wireInstant } from '#server/features/events/store.ts'
import { DEPOSIT_HELD } from '#server/features/money/store.ts'
import { readSettings, shopOf } from '#server/features/settings/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { ask, type Db, type Tx } from '#server/plugins/database.ts'
import { notFound } from '#server/plugins/errors.ts'
import { shopDay } from '#server/plugins/shop-day.ts'

/** What a role reads, and the day and the zone it is said in. */
export interface Reader {
  role: Role
  zone: string
  today: string
}

export async function readerOf(db: Tx | Db['prisma'], role: Role, now: Date): Promise<Reader> {
  const { zone } = await readSettings(db)
  return { role, zone, today: shopDay(now, zone) }
}

/** The same for somebody whose session came with the settings. */
export function readerWith({ role, shop }: { role: Role; shop: Settings }, now: Date): Reader {
  return { role, zone: shop.zone, today: shopDay(now, shop.zone) }
}

/** The job as it stands within this act, for the person who acts. */
export async function jobAsItStands(act: Act, id: string): Promise<Job> {
  const job = await readJob(act.tx, id, readerWith({ role: act.by.role, shop: await shopOf(act) }, act.now))
  if (!job) throw notFound('This job')
  return job
}

/** Parts that only the counter and the owner read; the bench's statement does not even ask for them. */
const MONEY_PARTS = Prisma.sql`,
  'deposit', ${DEPOSIT_HELD}, 'feeYesBy', j.fee_yes_by, 'feeYesHow', j.fee_yes_how,
  'quotes', coalesce((SELECT json_agg(json_build_object('id', q.id, 'version', q.version, 'totalMinor', q.total_minor, 'taxMinor', q.tax_minor,
      'text', q.text, 'madeBy', p.name, 'madeAt', ${wireInstant('q.made_at')}, 'yes', CASE WHEN q.yes_at IS NULL THEN NULL ELSE
        json_build_object('by', q.yes_by, 'how', q.yes_how, 'at', ${wireInstant('q.yes_at')}, 'enteredBy', y.name) END) ORDER BY q.version DESC)
    FROM quote q JOIN person p ON p.id = q.made_by_id LEFT JOIN person y ON y.id = q.yes_entered_by WHERE q.job_id = j.id), '[]'),
  'payments', coalesce((SELECT json_agg(json_build_object('id', m.id, 'amountMinor', m.amount_minor, 'what', m.what, 'how', m.how, 'note', m.note,
      'by', p.name, 'at', ${wireInstant('m.at')}) ORDER BY m.at, m.id)
    FROM payment m JOIN person p ON p.id = m.person_id WHERE m.job_id = j.id), '[]'),
  'lastTold', (SELECT json_build_object('says', v.data->>'told', 'at', ${wireInstant('v.occurred_at')}, 'how', v.data->>'how')
    FROM job_event v WHERE v.job_id = j.id AND v.kind = 'told' ORDER BY v.seq DESC LIMIT 1)`

function pageJson(reader: Reader): Prisma.Sql {
  const more = reader.role === 'bench' ? Prisma.empty : Prisma.sql`${MONEY_PARTS}, 'customer', ${customerJson(reader.zone)}`
  return Prisma.sql`json_strip_nulls(json_build_object(
  'id', j.id, 'tag', j.tag, 'kind', j.kind, 'state', j.state, 'engine', e.maker || ' ' || e.code, 'wantedOn', j.wanted_on,
  'promisedOn', j.promised_on, 'place', j.place, 'holder', (SELECT p.name FROM person p WHERE p.id = j.holder_id), 'bookedAt', ${wireInstant('j.booked_at')},
  'comeback', j.comeback_of_id IS NOT NULL, 'version', j.version, 'whyNow', j.why_now, 'cameBy', j.came_by, 'goesBy', j.goes_by,
  'hours', j.hours::float8, 'hoursHow', j.hours_how, 'usedFor', j.used_for, 'oil', j.oil, 'whoFits', j.who_fits,
  'earlierRebuild', j.earlier_rebuild, 'kitFrom', j.kit_from, 'cameWith', j.came_with, 'condition', j.condition,
  'conditionNote', j.condition_note, 'oldPartsBack', j.old_parts_back, 'oilHole', j.oil_hole, 'also', j.also, 'notDone', j.not_done,
  'comebackWhy', j.comeback_why,
  'comebackOf', (SELECT json_build_object('id', b.id, 'tag', b.tag) FROM job b WHERE b.id = j.comeback_of_id),
  'toldLate', EXISTS (SELECT 1 FROM job_event v WHERE v.job_id = j.id AND v.kind = 'told'
    AND v.occurred_at >= (j.promised_on + 1)::timestamp AT TIME ZONE ${reader.zone}),
  'waiting', coalesce((SELECT json_agg(json_build_object('what', w.what, 'note', w.note, 'since', ${wireInstant('w.since')}, 'dueOn', w.due_on) ORDER BY w.since, w.id)
    FROM job_wait w WHERE w.job_id = j.id AND w.ended_at IS NULL), '[]'),
  'steps', coalesce((SELECT json_agg(json_build_object('step', s.step, 'at', ${wireInstant('s.at')}, 'by', p.name) ORDER BY s.at, s.id)
    FROM job_step s JOIN person p ON p.id = s.person_id WHERE s.job_id = j.id AND s.undone_at IS NULL), '[]'),
  'passes', coalesce((SELECT json_agg(json_build_object('step', s.step, 'what', s.what, 'code', s.code, 'joint', s.joint, 'reason', s.reason, 'by', p.name, 'at', ${wireInstant('s.at')},
      'measuredBy', s.measured_by, 'customerToldAt', ${wireInstant('s.customer_told_at')}) ORDER BY s.at, s.id)
    FROM job_pass s JOIN person p ON p.id = s.person_id WHERE s.job_id = j.id), '[]'),
  'box', (SELECT json_build_object('items', b.items, 'carrier', b.carrier, 'carrierNo', b.carrier_no, 'grams', b.grams,
      'ownersWord', b.owners_word, 'checkedBy', p.name, 'checkedAt', ${wireInstant('b.checked_at')}, 'version', b.version)
    FROM box b JOIN person p ON p.id = b.checked_by_id WHERE b.job_id = j.id),
  'crank', json_build_object('id', k.id, 'engineId', k.engine_id, 'engineNumber', k.engine_number, 'marks', k.marks, 'welded', k.welded,
    'pressedBefore', k.pressed_before,
    'pressedHere', (SELECT json_build_object('left', coalesce(max(w.lefts), 0), 'right', coalesce(max(w.rights), 0)) FROM (
      SELECT count(*) FILTER (WHERE g.side = 'left') AS lefts, count(*) FILTER (WHERE g.side = 'right') AS rights
      FROM pressing g WHERE g.crank_id = k.id AND g.direction = 'together' AND g.struck_at IS NULL GROUP BY g.joint) w),
    'earlier', coalesce((SELECT json_agg(json_build_object('id', o.id, 'tag', o.tag, 'bookedAt', ${wireInstant('o.booked_at')}, 'state', o.state) ORDER BY o.number DESC)
      FROM job o WHERE o.crank_id = k.id AND o.number < j.number), '[]'))
  ${more}))`
}

/** What the statement answers; the rest of the page is decided by core. */
export type ReadPage = Omit<Job, 'late' | 'daysLate' | 'readySince' | 'owes'>

/** Answers one row, its page. */
export function pageStatement(id: string, reader: Reader): Prisma.Sql {
  return Prisma.sql`
    SELECT ${pageJson(reader)} AS page FROM job j JOIN crank k ON k.id = j.crank_id JOIN engine e ON e.id = k.engine_id
    JOIN customer c ON c.id = j.customer_id WHERE j.id = ${id}::uuid`
}

/** Everything the page of one job shows to this reader, in one statement; null where there is no such job. */
export async function readJob(db: Tx | Db['prisma'], id: string, reader: Reader): Promise<Job | null> {
  const [row] = await ask<{ page: ReadPage }>(db, pageStatement(id, reader))
  return row ? asJob(row.page, reader) : null
}

function asJob(page: ReadPage, { role, today }: Reader): Job {
  const days = daysLate({ promised: page.promisedOn ?? null, today, state: page.state })
  const signed = page.state === 'signed' ? page.steps.find((reached) => reached.step === 'signed') : undefined
  const owes = owedOn(page)
  const { ownersWord: _counters, ...boxForBench } = page.box ?? {}
  return {
    ...page,
    ...(page.box === undefined || role !== 'bench' ? {} : { box: boxForBench as Job['box'] }),
    late: days > 0,
    ...(days > 0 ? { daysLate: days } : {}),
    toldLate: days > 0 && page.toldLate,
    ...(signed === undefined ? {} : { readySince: signed.at }),
    ...(owes === null ? {} : { owes }),
  }
}

function owedOn({ quotes, payments }: ReadPage): number | null {
  const amounts = (what: string) => (payments ?? []).filter((payment) => payment.what === what).map((payment) => payment.amountMinor)
  return owesMinor({
    agreedMinor: quotes?.find((quote) => quote.yes !== undefined)?.totalMinor ?? null,
    deposits: amounts('deposit'),
    payments: amounts('payment'),
    givenBack: amounts('back'),
  })
}
