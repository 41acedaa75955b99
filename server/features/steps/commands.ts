import type { z } from 'zod'
import type { Job } from '#contract/jobs.ts'
import type { Role } from '#contract/people.ts'
import type { jobEnd, StepMove, stepBack } from '#contract/steps.ts'
import { MISSING_CODES } from '#core/gates/missing.ts'
import { stepBack as decideStepBack } from '#core/step-moves.ts'
import { doneWord, isEnd, type Step } from '#core/steps.ts'
import { jobAsItStands } from '#server/features/job-page/store.ts'
import { lockedBench } from '#server/features/measurements/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { fieldFault, Problem } from '#server/plugins/errors.ts'
import * as store from './store.ts'

const BENCH: readonly Role[] = ['bench', 'owner']
const COUNTER: readonly Role[] = ['counter', 'owner']

/** Who reports which step. Booked comes with the booking; signing asks the may-sign mark instead. */
const REPORTED_BY: Readonly<Record<Exclude<Step, 'booked' | 'signed'>, readonly Role[]>> = {
  measured: BENCH,
  agreed: COUNTER,
  apart: BENCH,
  together: BENCH,
  trued: BENCH,
  gone: COUNTER,
}

/** One step on: reported by the side of the shop whose step it is, what is missing let pass by the owner alone. */
export async function reportStep(act: Act, jobId: string, wanted: StepMove): Promise<Job> {
  const { to, passes = [], id, occurredAt } = wanted
  mayReport(act, to)
  if (passes.length > 0 && act.by.role !== 'owner') throw new Problem('forbidden', 'Only the owner lets something pass.')
  passes.forEach((pass, index) => {
    if (!MISSING_CODES.some((code) => code === pass.code))
      throw fieldFault(`/passes/${index}/code`, 'unknown', 'No gate asks for anything of this name.')
  })
  if (to === 'signed') await sign(act, jobId, wanted)
  else await store.takeStep(act, jobId, to, { id, occurredAt, passes })
  return jobAsItStands(act, jobId)
}

function mayReport(act: Act, to: Step): void {
  if (to === 'booked') throw new Problem('conflict-state', 'Booked is where a job begins.')
  const maySign = BENCH.includes(act.by.role) && (act.by.maySign || act.by.role === 'owner')
  if (to === 'signed' && !maySign) throw new Problem('forbidden', 'Signing is not open to you. The owner can open it.')
  if (to !== 'signed' && !REPORTED_BY[to].includes(act.by.role))
    throw new Problem('forbidden', `That it is ${doneWord(to)} is for the ${REPORTED_BY[to][0]} or the owner to say.`)
}

/**
 * The first time a job is signed by making its sheet, and what the owner lets pass is written down before. A job that went
 * a step back keeps its sheet and is signed again upon it.
 */
async function sign(act: Act, jobId: string, wanted: StepMove): Promise<void> {
  const held = await lockedBench(act, jobId)
  if (held.record.certificate !== null) return store.takeStep(act, jobId, 'signed', wanted)
  if ((wanted.passes ?? []).length === 0) throw new Problem('conflict-state', 'It is signed by making its certificate.')
  await store.letPassBeforeSigning(act, held, wanted)
}

/** Back to an earlier step, by the owner, with a reason. */
export async function takeBack(act: Act, jobId: string, wanted: z.infer<typeof stepBack>): Promise<Job> {
  const { to, reason, id, occurredAt } = wanted
  const held = await lockedBench(act, jobId)
  const endedFrom = held.endedFrom !== null && !isEnd(held.endedFrom) ? held.endedFrom : null
  const decision = decideStepBack({ kind: held.kind, from: held.state, to, reason, endedFrom })
  if (!decision.ok && decision.reason === 'needs-a-reason') throw fieldFault('/reason', 'missing', decision.detail)
  if (!decision.ok) throw new Problem('conflict-state', decision.detail)
  const says = `Back from ${doneWord(held.state)} to ${doneWord(to)}: ${reason}`
  await store.goBack(act, held, to, { says, reason, id, occurredAt })
  return jobAsItStands(act, jobId)
}

/** Given back unbuilt, or scrapped. */
export async function endJob(act: Act, jobId: string, wanted: z.infer<typeof jobEnd>): Promise<Job> {
  const { end, reason, id, occurredAt } = wanted
  await store.takeStep(act, jobId, end, { reason, id, occurredAt })
  return jobAsItStands(act, jobId)
}
