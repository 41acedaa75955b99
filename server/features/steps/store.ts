import type { Gate, StepMove } from '#contract/steps.ts'
import { factsOf } from '#core/bench/job-facts.ts'
import { hiddenSets } from '#core/bench/second-check.ts'
import type { Missing, MissingCode } from '#core/gates/missing.ts'
import { MISSING_CODES } from '#core/gates/missing.ts'
import { decideMove, type Pass } from '#core/step-moves.ts'
import { actWord, doneWord, ENDS, type End, isEnd, type JobState, nextStep, PATHS, type Step } from '#core/steps.ts'
import { addEvent, momentOf } from '#server/features/events/store.ts'
import { type JobBench, lockedBench, readJobBench } from '#server/features/measurements/store.ts'
import type { Act } from '#server/plugins/act.ts'
import type { Db, Tx } from '#server/plugins/database.ts'
import { notFound, Problem } from '#server/plugins/errors.ts'
import { doneAt } from '#server/plugins/moments.ts'
import { saidWithoutFigures } from './out-of-sight.ts'

const ABOUT_THE_SHEET: readonly MissingCode[] = ['certificate', 'certificate-older-than-readings']

export interface StepAsked {
  id?: string | undefined
  occurredAt?: string | undefined
  passes?: StepMove['passes']
  reason?: string | undefined
}

/**
 * Takes a job one step on, or to one of its other ends, if the table of gates says so: the step, what the owner let pass,
 * the end of waits that it answers, a line of history. Who may report which step is for the caller to see to.
 */
export async function takeStep(act: Act, jobId: string, to: JobState, asked: StepAsked = {}): Promise<void> {
  const held = await lockedBench(act, jobId)
  const given = asPasses(act, asked.passes ?? [])
  const facts = factsOf(held.record)
  const decision = decideMove({ from: held.state, to, facts, passes: [...passesOf(held), ...given] })
  if (!decision.ok && decision.reason === 'not-on-the-path') throw new Problem('conflict-state', decision.detail)
  if (!decision.ok)
    throw new Problem('gate-not-met', decision.detail, { missing: decision.missing.map((one) => asSeen(held, act.by.id, one)) })
  const letPass = matched(given, decision.passed)
  const at = new Date(doneAt({ occurredAt: momentOf(act, asked.occurredAt), recordedAt: act.now }))
  await reach(act, jobId, to, at)
  await keepPasses(act, jobId, to, letPass)
  const said = letPass.map((pass) => ` ${passWords(pass)}`).join('')
  await addEvent(act, jobId, {
    kind: isEnd(to) ? 'end' : 'step',
    says: `${sentence(doneWord(to))}${asked.reason === undefined ? '.' : `: ${asked.reason}`}${said}`,
    id: asked.id,
    occurredAt: asked.occurredAt,
    data: { step: to },
  })
  act.note(isEnd(to) ? 'end job' : 'reach step', 'job', jobId, {
    before: { state: held.state },
    after: { state: to, passes: letPass.map(({ code, reason }) => ({ code, reason })) },
    reason: asked.reason,
  })
}

/**
 * What the owner lets pass before a job is signed, written down first, because the sheet that signs it prints it. The job
 * stays where it is. The sheet itself is nothing to let pass.
 */
export async function letPassBeforeSigning(act: Act, held: JobBench, asked: StepAsked): Promise<void> {
  const missing = missingTo(held, 'signed').filter((one) => one.pass === 'owner' && !ABOUT_THE_SHEET.includes(one.code))
  const letPass = matched(asPasses(act, asked.passes ?? []), missing)
  if (letPass.length === 0) throw new Problem('conflict-state', 'Nothing of this is missing, or nobody can let it pass.')
  await keepPasses(act, held.id, 'signed', letPass)
  await addEvent(act, held.id, { kind: 'pass', says: letPass.map(passWords).join(' '), id: asked.id, occurredAt: asked.occurredAt })
  act.note('let pass', 'job', held.id, { after: { passes: letPass.map(({ code, reason }) => ({ code, reason })) } })
}

type GivenPass = Omit<NonNullable<StepMove['passes']>[number], 'code'> & Pass
type LetPass = GivenPass & { what: string }

function asPasses(act: Act, passes: NonNullable<StepMove['passes']>): GivenPass[] {
  return passes.map((pass) => ({ ...pass, code: pass.code as MissingCode, at: act.now.toISOString() }))
}

/** The passes that excuse something, each with what it excuses. */
function matched(given: readonly GivenPass[], missing: readonly Missing[]): LetPass[] {
  return given.flatMap((pass) => {
    const excused = missing.find((one) => one.code === pass.code && one.joint === pass.joint)
    return excused === undefined ? [] : [{ ...pass, what: saidWithoutFigures(excused) }]
  })
}

function passWords({ what, reason }: LetPass): string {
  return `The owner let pass: ${what} Why: ${reason}`
}

async function keepPasses(act: Act, jobId: string, step: JobState, passes: readonly LetPass[]): Promise<void> {
  for (const { code, joint, what, reason, measuredBy, customerToldAt } of passes)
    await act.tx.jobPass.create({
      data: {
        jobId,
        step,
        code,
        joint: joint ?? null,
        what,
        reason,
        measuredBy: measuredBy ?? null,
        customerToldAt: customerToldAt === undefined ? null : new Date(customerToldAt),
        personId: act.by.id,
        at: act.now,
      },
      select: { id: true },
    })
}

/** The step that a certificate reaches by being made; the gate decides as for every other. */
export async function signedStep(act: Act, jobId: string): Promise<void> {
  await takeStep(act, jobId, 'signed')
}

async function reach(act: Act, jobId: string, to: JobState, at: Date): Promise<void> {
  await act.tx.jobStep.create({ data: { jobId, step: to, personId: act.by.id, at }, select: { id: true } })
  await act.tx.job.update({
    where: { id: jobId },
    data: { state: to, version: { increment: 1 }, ...(to === 'gone' ? { goneAt: at } : {}) },
    select: { id: true },
  })
  const ended = to === 'agreed' ? { what: 'yes' } : {}
  if (to === 'agreed' || to === 'gone' || isEnd(to))
    await act.tx.jobWait.updateMany({ where: { jobId, endedAt: null, ...ended }, data: { endedAt: act.now, endedById: act.by.id } })
}

/** Takes a job back to an earlier step: what came after it stays in the book, undone, and a line of history says why. */
export async function goBack(act: Act, held: JobBench, to: Step, asked: StepAsked & { says: string }): Promise<void> {
  const path = PATHS[held.kind]
  const after: (Step | End)[] = [...path.slice(path.indexOf(to) + 1), ...ENDS]
  await act.tx.jobStep.updateMany({ where: { jobId: held.id, step: { in: after }, undoneAt: null }, data: { undoneAt: act.now } })
  await act.tx.job.update({ where: { id: held.id }, data: { state: to, goneAt: null, version: { increment: 1 } }, select: { id: true } })
  await addEvent(act, held.id, { kind: 'step-back', says: asked.says, id: asked.id, occurredAt: asked.occurredAt, data: { step: to } })
  act.note('step back', 'job', held.id, { before: { state: held.state }, after: { state: to }, reason: asked.reason })
}

/** What the next step still needs, as this person may see it; null where there is no such job. */
export async function readGate(db: Tx | Db['prisma'], jobId: string, viewerId: string, now: Date): Promise<Gate | null> {
  const held = await readJobBench(db, jobId, now)
  if (held === null) return null
  const { kind, state } = held
  if (isEnd(state)) return { next: null, act: doneWord(state), missing: [] }
  const next = nextStep(kind, state)
  const missing = next === null ? [] : missingTo(held, next)
  return { next, act: actWord(kind, state), missing: missing.map((one) => asSeen(held, viewerId, one)) }
}

/** What stands against signing, the sheet itself left aside: that is made as it is signed. Nothing that is hidden is said. */
export async function missingToSign(db: Tx | Db['prisma'], jobId: string, now: Date): Promise<Gate['missing']> {
  const held = await readJobBench(db, jobId, now)
  if (held === null) throw notFound('This job')
  if (isEnd(held.state) || nextStep(held.kind, held.state) !== 'signed')
    return [{ code: 'not-on-the-path', detail: `It is ${doneWord(held.state)}: signing is not what comes next.`, pass: 'never' }]
  return missingTo(held, 'signed')
    .filter((one) => !ABOUT_THE_SHEET.includes(one.code))
    .map((one) => asSeen(held, null, one))
}

function missingTo(held: JobBench, next: Step): readonly Missing[] {
  const decision = decideMove({ from: held.state, to: next, facts: factsOf(held.record), passes: passesOf(held) })
  return !decision.ok && decision.reason === 'gate-not-met' ? decision.missing : []
}

function passesOf(held: JobBench): Pass[] {
  return held.passes.filter((pass): pass is Pass => MISSING_CODES.some((code) => code === pass.code))
}

/** Without its figures while some of the first reading is hidden from this person. */
function asSeen(held: JobBench, viewerId: string | null, missing: Missing): Gate['missing'][number] {
  const { code, joint, pass } = missing
  const isHidden = hiddenSets(held.record, viewerId).size > 0
  return { code, ...(joint === undefined ? {} : { joint }), detail: isHidden ? saidWithoutFigures(missing) : missing.detail, pass }
}

function sentence(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1)
}
