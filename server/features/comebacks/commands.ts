import type { z } from 'zod'
import type { Comeback, ComebackChange, ComebackNew } from '#contract/comebacks.ts'
import type { strikeOut } from '#contract/follow-ups.ts'
import type { Role } from '#contract/people.ts'
import { decisionFault } from '#core/comeback.ts'
import { findingsClash } from '#core/comeback-findings.ts'
import { dayInWords } from '#core/days-in-words.ts'
import { textOrNull } from '#server/features/customers/store.ts'
import { addEvent } from '#server/features/events/store.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import { fieldFault, notFound, Problem } from '#server/plugins/errors.ts'
import { changedWords, decidedWords, foundWords, reportedWords } from './comeback-words.ts'
import { goneJob, mustBeSince, mustKnowRidden, shopToday } from './report-rules.ts'
import { comebackAsItStands } from './sheet-then.ts'
import * as store from './store.ts'

/** A crank of ours came back, or is talked about as failed. What was found and who bears it come later, apart from this. */
export async function reportComeback(act: Act, jobId: string, wanted: ComebackNew): Promise<Comeback> {
  const { zone, today } = await shopToday(act)
  const job = await goneJob(act, jobId, zone)
  const standing = await store.reportOf(act.tx, jobId)
  if (standing !== null)
    throw new Problem(
      'conflict-state',
      `${job.tag} has a report already, of ${dayInWords(standing.day)}; write into that one instead: ${standing.id}.`,
    )
  mustBeSince(wanted.day, { goneOn: job.goneOn, today })
  const ridden = { hours: wanted.hours ?? null, hoursHow: wanted.hoursHow }
  mustKnowRidden(ridden)
  const report: store.NewReport = {
    id: wanted.id,
    jobId,
    day: wanted.day,
    how: wanted.how,
    ...ridden,
    says: wanted.says.trim(),
    thought: textOrNull(wanted.thought),
    newJobId: await store.unreportedReturn(act.tx, jobId),
  }
  const id = await store.addReport(act, report)
  const says = reportedWords(report)
  await tellHistories(act, report, {
    kind: 'comeback-reported',
    says,
    toCounter: `${says} They say: “${report.says}”`,
    occurredAt: wanted.occurredAt,
  })
  act.note('report comeback', 'comeback', id, { after: report })
  return comebackAsItStands(act, id)
}

/** Who writes which part of a report. What is thought of it is anybody's; what was found is the bench's, who bears it the owner's. */
const WRITTEN_BY: Readonly<Record<keyof ComebackChange, readonly Role[]>> = {
  day: ['counter', 'owner'],
  hours: ['counter', 'owner'],
  hoursHow: ['counter', 'owner'],
  says: ['counter', 'owner'],
  found: ['bench', 'owner'],
  foundNote: ['bench', 'owner'],
  thought: ['counter', 'bench', 'owner'],
  cause: ['owner'],
  share: ['owner'],
}

function mustBeTheirs(act: Act, wanted: ComebackChange): void {
  const foreign = (Object.keys(WRITTEN_BY) as (keyof ComebackChange)[]).find(
    (name) => wanted[name] !== undefined && !WRITTEN_BY[name].includes(act.by.role),
  )
  if (foreign === undefined) return
  if (foreign === 'cause' || foreign === 'share') throw new Problem('forbidden', 'Cause and whose it is are for the owner to decide.')
  const place = WRITTEN_BY[foreign].includes('bench')
    ? 'What was found is written down at the bench.'
    : 'What was reported is corrected at the counter.'
  throw new Problem('forbidden', place)
}

/**
 * What was found on the crank, apart from what is thought of it, apart from what is decided. Each by whom it belongs to, in
 * one change at the version that was seen.
 */
export async function recordFindings(act: Act, id: string, wanted: ComebackChange): Promise<Comeback> {
  mustBeTheirs(act, wanted)
  const { zone, today } = await shopToday(act)
  const report = await lockedReport(act, id, zone)
  mustStandAt(report.version, act.expectedVersion())
  const before = columnsOf(report)
  const after = changed(before, wanted)
  mustKnowRidden(after)
  if (after.day !== before.day) mustBeSince(after.day, { goneOn: report.goneOn ?? null, today })
  const clash = findingsClash(after.found)
  if (clash !== null) throw fieldFault('/found', 'clash', clash)
  const fault = decisionFault({ found: after.found, foundNote: after.foundNote, cause: after.cause ?? null, share: after.whose ?? null })
  if (fault !== null) throw fieldFault(`/${fault.field}`, 'not-decided-so', fault.detail)
  if (JSON.stringify(after) === JSON.stringify(before)) return comebackAsItStands(act, id)
  const isFound = JSON.stringify([after.found, after.foundNote]) !== JSON.stringify([before.found, before.foundNote])
  await store.changeReport(act, id, after, isFound ? lookOf(act, after) : undefined)
  await sayChange(act, report, before, after, isFound)
  act.note('change comeback', 'comeback', id, { before, after })
  return comebackAsItStands(act, id)
}

function lookOf(act: Act, after: store.ReportColumns): store.Look {
  if (after.found.length === 0 && after.foundNote === null) return { lookedById: null, lookedAt: null }
  return { lookedById: act.by.id, lookedAt: act.now }
}

async function sayChange(
  act: Act,
  report: Standing,
  before: store.ReportColumns,
  after: store.ReportColumns,
  isFound: boolean,
): Promise<void> {
  const histories = { jobId: report.job.id, newJobId: report.newJob?.id ?? null }
  if (isFound) {
    const isBuilder = (await store.readReport(act.tx, report.id, { seesCustomers: false, zone: 'UTC' }))?.lookedByBuilder ?? false
    await tellHistories(act, histories, { kind: 'comeback-found', says: foundWords(after, isBuilder) })
  }
  if (after.cause !== before.cause || after.whose !== before.whose)
    await tellHistories(act, histories, { kind: 'comeback-decided', says: decidedWords(after) })
  const rest = changedWords(before, after)
  if (rest !== null) await tellHistories(act, histories, { kind: 'comeback-changed', says: rest })
}

/** A report that should not stand: of another crank, written twice. It stays in the book and counts no more. */
export async function strikeComeback(act: Act, id: string, wanted: z.infer<typeof strikeOut>): Promise<Comeback> {
  const { zone } = await shopToday(act)
  const report = await lockedReport(act, id, zone)
  if (report.cause !== undefined && act.by.role !== 'owner')
    throw new Problem('forbidden', 'It is decided, so striking it out is for the owner.')
  await store.strikeReport(act, id, wanted.reason)
  const histories = { jobId: report.job.id, newJobId: report.newJob?.id ?? null }
  const says = `The report that it came back was struck out: ${wanted.reason}`
  await tellHistories(act, histories, { kind: 'comeback-struck', says, occurredAt: wanted.occurredAt })
  act.note('strike comeback', 'comeback', id, { before: { newJobId: histories.newJobId }, reason: wanted.reason })
  return comebackAsItStands(act, id)
}

type Standing = NonNullable<Awaited<ReturnType<typeof store.readReport>>>

async function lockedReport(act: Act, id: string, zone: string): Promise<Standing> {
  const report = (await store.lockReport(act.tx, id)) ? await store.readReport(act.tx, id, { seesCustomers: false, zone }) : null
  if (report === null) throw notFound('This report')
  if (report.struck !== undefined) throw new Problem('conflict-state', 'This report is struck out. Nothing is written into it any more.')
  return report
}

function columnsOf(report: Standing): store.ReportColumns {
  return {
    day: report.day,
    hours: report.hours ?? null,
    hoursHow: report.hoursHow,
    says: report.says ?? null,
    found: report.found,
    foundNote: report.foundNote ?? null,
    thought: report.thought ?? null,
    cause: report.cause ?? null,
    whose: report.share ?? null,
  }
}

/** Fields that were not sent stay; null takes one away, and with the cause goes whose it is. */
function changed(before: store.ReportColumns, wanted: ComebackChange): store.ReportColumns {
  const text = (name: 'says' | 'foundNote' | 'thought') => (wanted[name] === undefined ? before[name] : textOrNull(wanted[name]))
  const hours = wanted.hours === undefined ? before.hours : wanted.hours
  return {
    day: wanted.day ?? before.day,
    hours,
    hoursHow: wanted.hoursHow ?? (wanted.hours === null ? 'unknown' : before.hoursHow),
    says: text('says'),
    found: wanted.found ?? before.found,
    foundNote: text('foundNote'),
    thought: text('thought'),
    cause: wanted.cause === undefined ? before.cause : wanted.cause,
    whose: wanted.cause === null && wanted.share === undefined ? null : wanted.share === undefined ? before.whose : wanted.share,
  }
}

interface Line {
  kind: string
  says: string
  toCounter?: string
  occurredAt?: string | undefined
}

/** One line in the history of the job that came back, and the same in that of the job under which it is here again. */
async function tellHistories(act: Act, of: { jobId: string; newJobId: string | null }, line: Line): Promise<void> {
  await addEvent(act, of.jobId, line)
  if (of.newJobId !== null) await addEvent(act, of.newJobId, line)
}
