import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { job } from '#contract/jobs.ts'
import { idParams } from '#contract/primitives.ts'
import { gate, jobEnd, stepBack, stepMove } from '#contract/steps.ts'
import { notFound } from '#server/plugins/errors.ts'
import { write } from '#server/plugins/idempotency.ts'
import { endJob, reportStep, takeBack } from './commands.ts'
import { readGate } from './store.ts'

export const stepRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/jobs/:id/gate',
    { schema: { summary: 'What the next step of a job still needs', params: idParams, response: { 200: gate, ...problemResponses } } },
    async (request) => {
      const found = await readGate(app.db.prisma, request.params.id, request.caller().id, app.clock())
      if (!found) throw notFound('This job')
      return found
    },
  )
  app.post(
    '/jobs/:id/steps',
    {
      schema: {
        summary: 'Report the next step of a job; the owner may let missing things pass, each with a reason',
        params: idParams,
        body: stepMove,
        response: { 200: job, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => reportStep(act, request.params.id, request.body)),
  )
  app.post(
    '/jobs/:id/steps/back',
    {
      schema: {
        summary: 'Take a job back to an earlier step, with a reason',
        params: idParams,
        body: stepBack,
        response: { 200: job, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => takeBack(act, request.params.id, request.body)),
  )
  app.post(
    '/jobs/:id/end',
    {
      schema: {
        summary: 'Close a job that is not done: given back unbuilt, or scrapped',
        params: idParams,
        body: jobEnd,
        response: { 200: job, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => endJob(act, request.params.id, request.body)),
  )
}
