import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { idParams } from '#contract/primitives.ts'
import { check, move, moveNew, truing, truingQuery } from '#contract/truing.ts'
import { readJobBench } from '#server/features/measurements/store.ts'
import { notFound } from '#server/plugins/errors.ts'
import { write } from '#server/plugins/idempotency.ts'
import { checkAnswer, truingAnswer } from './answer.ts'
import { logMove } from './commands.ts'

export const truingRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/jobs/:id/truing',
    {
      schema: {
        summary: 'The truing of a job: its sets of readings, the moves between them, and what the last set says to do',
        params: idParams,
        querystring: truingQuery,
        response: { 200: truing, ...problemResponses },
      },
    },
    async (request) => truingAnswer(await heldOf(request.params.id), request.caller().id, request.query.joint),
  )
  app.get(
    '/jobs/:id/check',
    {
      schema: {
        summary: 'The second check of a job, the first reading hidden until the second is in',
        params: idParams,
        response: { 200: check, ...problemResponses },
      },
    },
    async (request) => checkAnswer(await heldOf(request.params.id), request.caller().id),
  )
  app.post(
    '/jobs/:id/moves',
    {
      schema: {
        summary: 'Write a truing move down, after it was made and before it is read again',
        params: idParams,
        body: moveNew,
        response: { 201: move, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => logMove(act, request.params.id, request.body)),
  )

  async function heldOf(jobId: string) {
    const held = await readJobBench(app.db.prisma, jobId, app.clock())
    if (!held) throw notFound('This job')
    return held
  }
}
