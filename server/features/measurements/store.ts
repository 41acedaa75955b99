import type { Bench } from '#contract/bench.ts'
import type { EngineBuild } from '#contract/crank-build.ts'
import type { JobRecord } from '#core/bench/job-record.ts'
import { lastPressedAt } from '#core/bench/parting.ts'
import type { Joint } from '#core/crank-build.ts'
import { type DoubtKind, instrumentDoubtWords } from '#core/instrument-doubt.ts'
import { doneWord, isEnd, type JobKind, type JobState, PATHS } from '#core/steps.ts'
import { Prisma } from '#prisma/client/client.ts'
import { type StandingFigures, standingFiguresOf } from '#server/features/engines/store.ts'
import { doubtOf } from '#server/features/instruments/store.ts'
import { lockJob } from '#server/features/jobs/store.ts'
import { KIT_NAMED, KITS_OF_JOINTS, type KitOfJob } from '#server/features/kits/store.ts'
import { OWES } from '#server/features/money/store.ts'
import {
  type JsonPressing,
  type JsonWeld,
  PRESSINGS_OF_JOB,
  pressingsFrom,
  readFitStops,
  WELDS_OF_JOB,
  weldsFrom,
} from '#server/features/pressings/store.ts'
import { type JsonSet, readOursOfEngine, SETS_OF_JOB, setsFrom } from '#server/features/readings/store.ts'
import { SHOP_SETTINGS, settingsFrom } from '#server/features/settings/store.ts'
import { type JsonMove, MOVES_OF_JOB, movesFrom } from '#server/features/truing/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { ask, type Db, type Tx } from '#server/plugins/database.ts'
import { notFound, Problem } from '#server/plugins/errors.ts'
import { shopDay } from '#server/plugins/shop-day.ts'
import { type BesideTheJob, benchAnswer } from './answer.ts'
import type { JobBench } from './held.ts'

interface Head {
  tag: string
  kind: JobKind
  state: JobState
  whyNow: JobRecord['whyNow']
  oilHole: JobRecord['oilHole']
  crankId: string
  engineId: string
  quoteVersion: number | null
  yes: { version: number; by: string; how: string } | null
  certificateAt: Date | null
  boxItems: { came: number; back: number; why?: string }[] | null
  ownersWord: string | null
  owes: number | null
  steps: { step: JobState; at: string; undoneAt: string | null }[]
  passes: { code: string; joint: Joint | null; reason: string; at: string }[] | null
  build: EngineBuild | null
  kits: Partial<Record<Joint, KitOfJob>> | null
  trapped: JobBench['trapped']
  sheet: StandingFigures | null
  kit: KitOfJob | null
  shopSettings: unknown
  /** Of the unstruck sets. */
  instruments: { name: string; dueOn: string | null; doubt: { kind: DoubtKind } | null }[] | null
  sets: JsonSet[] | null
  pressings: JsonPressing[] | null
  welds: JsonWeld[] | null
  moves: JsonMove[] | null
}

/** A certificate that is void or replaced does not stand. */
const STANDING_CERTIFICATE = Prisma.sql`(SELECT c.issued_at FROM certificate c WHERE c.job_id = j.id
  AND NOT EXISTS (SELECT 1 FROM certificate_void v WHERE v.certificate_id = c.id)
  AND NOT EXISTS (SELECT 1 FROM certificate n WHERE n.replaces_id = c.id) ORDER BY c.number DESC LIMIT 1)`

/** One statement, since every act at the bench begins with it. */
async function readHead(db: Tx | Db['prisma'], jobId: string): Promise<Head | null> {
  const [row] = await ask<Head>(
    db,
    Prisma.sql`
    SELECT j.tag, j.kind, j.state, j.why_now AS "whyNow", j.oil_hole AS "oilHole", j.crank_id AS "crankId", k.engine_id AS "engineId",
      (SELECT max(q.version) FROM quote q WHERE q.job_id = j.id) AS "quoteVersion",
      (SELECT json_build_object('version', q.version, 'by', q.yes_by, 'how', q.yes_how) FROM quote q
       WHERE q.job_id = j.id AND q.yes_at IS NOT NULL ORDER BY q.version DESC LIMIT 1) AS yes,
      ${STANDING_CERTIFICATE} AS "certificateAt", b.items AS "boxItems", b.owners_word AS "ownersWord", ${OWES}::float8 AS owes,
      (SELECT json_agg(json_build_object('step', s.step, 'at', s.at, 'undoneAt', s.undone_at) ORDER BY s.at, s.id)
       FROM job_step s WHERE s.job_id = j.id) AS steps,
      (SELECT json_agg(json_build_object('code', p.code, 'joint', p.joint, 'reason', p.reason, 'at', p.at) ORDER BY p.at, p.id) FROM job_pass p
       WHERE p.job_id = j.id AND p.at > coalesce((SELECT max(s.undone_at) FROM job_step s WHERE s.job_id = j.id), '-infinity')) AS passes,
      ${standingFiguresOf(Prisma.sql`k.engine_id`)} AS sheet, ${KIT_NAMED} AS kit, ${KITS_OF_JOINTS} AS kits, j.trapped,
      (SELECT e.build FROM engine e WHERE e.id = k.engine_id) AS build, ${SHOP_SETTINGS} AS "shopSettings",
      (SELECT json_agg(json_build_object('name', i.name, 'dueOn', i.due_on, 'doubt', ${doubtOf(Prisma.sql`i.id`)}) ORDER BY i.name) FROM instrument i WHERE i.id IN (
         SELECT m.instrument_id FROM measurement m WHERE m.job_id = j.id AND m.struck_at IS NULL)) AS instruments,
      ${SETS_OF_JOB} AS sets, ${PRESSINGS_OF_JOB} AS pressings, ${WELDS_OF_JOB} AS welds, ${MOVES_OF_JOB} AS moves
    FROM job j JOIN crank k ON k.id = j.crank_id LEFT JOIN box b ON b.job_id = j.id WHERE j.id = ${jobId}::uuid`,
  )
  return row ?? null
}

/** Names of the instruments in use on a job whose check was due before this day. */
function overdueOn({ instruments }: Head, today: string): string[] {
  return (instruments ?? []).filter(({ dueOn }) => dueOn !== null && dueOn < today).map(({ name }) => name)
}

/** What is in doubt of the instruments in use on a job, and why. */
function doubtedOf({ instruments }: Head): string[] {
  return (instruments ?? []).flatMap(({ name, doubt }) => (doubt === null ? [] : [instrumentDoubtWords(name, doubt.kind)]))
}

export { pressingAnswer } from './answer.ts'
export type { JobBench } from './held.ts'

/**
 * Everything that the bench knows of a job; null where there is no such job. now says which instruments are overdue, and
 * may be null where nobody asks for that.
 */
export async function readJobBench(db: Tx | Db['prisma'], jobId: string, now: Date | null): Promise<JobBench | null> {
  const head = await readHead(db, jobId)
  if (head === null) return null
  const { zone, guardRule, samePersonMayCheck, scrapFloorFactor, houseLimitMm } = settingsFrom(head.shopSettings)
  const sheet = head.sheet ?? {}
  const sets = setsFrom(head.sets)
  const pressings = pressingsFrom(head.pressings)
  const welds = weldsFrom(head.welds)
  const moves = movesFrom(head.moves)
  const { kit, build, trapped } = head
  const kits = head.kits ?? {}
  const { kind, state, whyNow, oilHole, quoteVersion } = head
  const record: JobRecord = {
    kind,
    state,
    whyNow,
    oilHole,
    sets: sets.map((kept) => kept.set),
    pressings: pressings.map((kept) => kept.done),
    moves: moves.map(({ shown, doneAt }) => ({
      action: shown.action,
      doneAt,
      ...(shown.joint === undefined ? {} : { joint: shown.joint }),
    })),
    welds,
    kitLot: kit?.lot ?? null,
    kitLots: Object.fromEntries(Object.entries(kits).map(([joint, { lot }]) => [joint, lot])),
    build,
    trapped,
    sheet,
    quote: quoteVersion === null ? null : { version: quoteVersion, yes: head.yes },
    overdueInstruments: now === null ? [] : overdueOn(head, shopDay(now, zone)),
    doubtedInstruments: doubtedOf(head),
    certificate: head.certificateAt && { madeAt: head.certificateAt.toISOString() },
    box: head.boxItems && { isComplete: isBoxComplete(head.boxItems), ownersWord: head.ownersWord },
    paid: (head.owes ?? 0) === 0,
    awaitedSecond: spansOf(head, stepBeforeSigned(kind)),
    settings: { samePersonMayCheck, scrapFloorFactor, houseLimitMm },
  }
  return {
    id: jobId,
    tag: head.tag,
    kind,
    state,
    crankId: head.crankId,
    engineId: head.engineId,
    sheet,
    zone,
    guardRule,
    record,
    sets,
    pressings,
    welds,
    moves,
    kit,
    kits,
    build,
    trapped,
    truingSince: truingSince(head, record),
    passes: (head.passes ?? []).map(({ joint, ...pass }) => ({ ...pass, ...(joint === null ? {} : { joint }), at: asInstant(pass.at) })),
    shutAt: shutAt(head),
    endedFrom: isEnd(state) ? (head.steps.findLast((one) => one.undoneAt === null && !isEnd(one.step))?.step ?? null) : null,
  }
}

/** The bench of a job, whatever its state, locked until the end of the act. */
export async function lockedBench(act: Act, jobId: string): Promise<JobBench> {
  const held = (await lockJob(act.tx, jobId)) && (await readJobBench(act.tx, jobId, act.now))
  if (!held) throw notFound('This job')
  return held
}

/** The bench of a job that is still worked on, locked until the end of the act; what is signed stands as its paper says. */
export async function openBench(act: Act, jobId: string): Promise<JobBench> {
  const held = await lockedBench(act, jobId)
  mustBeOpen(held)
  return held
}

export function mustBeOpen(held: JobBench): void {
  if (held.state === 'signed')
    throw new Problem('conflict-state', `${held.tag} is signed, and its paper says what was read. The owner takes it a step back first.`)
  if (held.state === 'gone' || isEnd(held.state))
    throw new Problem('conflict-state', `${held.tag} is ${doneWord(held.state)}: nothing is done on it at the bench any more.`)
}

/** What the book knows beside the job: our own last ones of its engine, and what was decided where a fit stopped it. */
async function readBesideTheJob(db: Tx | Db['prisma'], { id, engineId }: JobBench): Promise<BesideTheJob> {
  return { ours: await readOursOfEngine(db, engineId, id), fitStops: await readFitStops(db, id) }
}

/**
 * Everything measured on a job and what it comes to, as this person may see it. Without a person, as somebody sees it who
 * took none of the readings: while a second reading is waited for, the first is hidden.
 */
export async function readBench(db: Tx | Db['prisma'], jobId: string, viewerId: string | null = null): Promise<Bench> {
  const held = await readJobBench(db, jobId, null)
  if (held === null) throw notFound('This job')
  return benchAnswer(held, await readBesideTheJob(db, held), viewerId)
}

function isBoxComplete(items: readonly { came: number; back: number; why?: string }[]): boolean {
  return items.every((item) => item.back >= item.came || (item.why ?? '').trim() !== '')
}

function stepBeforeSigned(kind: JobKind): JobState {
  const path = PATHS[kind]
  return path[path.indexOf('signed') - 1]!
}

function spansOf(head: Head, step: JobState): JobRecord['awaitedSecond'] {
  return head.steps
    .filter((one) => one.step === step)
    .map(({ at, undoneAt }) => ({ from: asInstant(at), until: undoneAt === null ? null : asInstant(undoneAt) }))
}

function shutAt({ steps }: Head): string | null {
  const end = steps.find((one) => one.undoneAt === null && (one.step === 'signed' || isEnd(one.step)))
  return end === undefined ? null : asInstant(end.at)
}

function truingSince(head: Head, record: JobRecord): string {
  const together = head.steps.findLast((one) => one.step === 'together' && one.undoneAt === null)
  if (together !== undefined) return asInstant(together.at)
  const partings = record.pressings.filter((pressing) => pressing.direction === 'apart')
  return lastPressedAt(partings) ?? asInstant(head.steps[0]!.at)
}

function asInstant(text: string): string {
  return new Date(text).toISOString()
}
