import { describe, expect, test } from 'vitest'
import type { Job } from '#contract/jobs.ts'
import { ENDS, JOB_KINDS, type JobKind, type JobState, nextStep, PATHS, STEPS, type Step } from '#core/steps.ts'
import { startApp } from '#tests/support/app.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const owner = await it.as('owner')

/** Puts a job where it stands in no other way than by the book, so that every cell of the table can be asked. */
async function standAt(job: Job, state: JobState): Promise<void> {
  await it.db.pool.query('UPDATE job SET state = $2 WHERE id = $1', [job.id, state])
}

async function report(job: Job, to: Step): Promise<{ status: number; problem: string }> {
  const answer = await owner.post(`/api/jobs/${job.id}/steps`, { to })
  return { status: answer.status, problem: String(answer.body.type ?? '').replace('/problems/', '') }
}

describe.each(JOB_KINDS)('the steps of a %s', (kind: JobKind) => {
  test('only the one step that follows is open, from wherever it stands', async () => {
    const job = await bookJob(it, { kind })
    for (const from of [...PATHS[kind], ...ENDS]) {
      await standAt(job, from)
      const next = ENDS.some((end) => end === from) ? null : nextStep(kind, from as Step)
      for (const to of STEPS) {
        const { status, problem } = await report(job, to)
        expect(status, `${from} → ${to}`).toBe(409)
        // Signing is reached by its sheet, so that without one even the right cell is closed here.
        expect(problem, `${from} → ${to}`).toBe(to === next && to !== 'signed' ? 'gate-not-met' : 'conflict-state')
      }
    }
    expect((await owner.get(`/api/jobs/${job.id}`).expect(200)).body.steps).toHaveLength(1)
  })

  test('it can be scrapped until it is signed, and given back until it is gone', async () => {
    for (const from of PATHS[kind])
      for (const end of ENDS) {
        const job = await bookJob(it, { kind })
        await standAt(job, from)
        const answer = await owner.post(`/api/jobs/${job.id}/end`, { end, reason: 'not worth it' })
        const isOpen = from !== 'gone' && !(end === 'scrapped' && from === 'signed')
        expect(answer.status, `${from} → ${end}`).toBe(isOpen ? 200 : 409)
        if (isOpen) expect(answer.body.state).toBe(end)
      }
  })
})

test('the gate says what is missing, in bench words, and who may let it pass', async () => {
  const job = await bookJob(it, { whyNow: 'knock' })
  const answer = await owner.get(`/api/jobs/${job.id}/gate`).expect(200)
  expect(answer.body.next).toBe('measured')
  expect(answer.body.missing).toEqual([
    { code: 'width-as-received', detail: 'The width as received is not read yet.', pass: 'owner' },
    { code: 'runout-left-as-received', detail: 'The left end as received is not read yet.', pass: 'owner' },
    { code: 'runout-right-as-received', detail: 'The right end as received is not read yet.', pass: 'owner' },
    { code: 'big-end-play', detail: 'It came for a knock: big-end play is not read yet.', pass: 'owner' },
  ])
  const refused = await owner.post(`/api/jobs/${job.id}/steps`, { to: 'measured' }).expect(409)
  expect(refused.body.missing).toEqual(answer.body.missing)
})
