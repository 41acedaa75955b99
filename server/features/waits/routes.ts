import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { job } from '#contract/jobs.ts'
import { idParams } from '#contract/primitives.ts'
import { waitEnd, waitNew } from '#contract/waits.ts'
import { write } from '#server/plugins/idempotency.ts'
import { beginWait, finishWait } from './commands.ts'

export const waitRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/jobs/:id/waits',
    {
      schema: {
        summary: 'Say what a crank waits for; said again, the new due day stands',
        params: idParams,
        body: waitNew,
        response: { 201: job, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => beginWait(act, request.params.id, request.body)),
  )
  app.post(
    '/jobs/:id/waits/end',
    {
      schema: {
        summary: 'Say that what it waited for has come, for a kit with its lot',
        params: idParams,
        body: waitEnd,
        response: { 200: job, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => finishWait(act, request.params.id, request.body)),
  )
}
