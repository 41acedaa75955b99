import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { clockCorrection, clockEntry, clockStart, clockState, clockStop, jobHours } from '#contract/hours.ts'
import { idParams } from '#contract/primitives.ts'
import { jobExists } from '#server/features/events/store.ts'
import { notFound } from '#server/plugins/errors.ts'
import { write } from '#server/plugins/idempotency.ts'
import { clockAnswer, hoursAnswer } from './answer.ts'
import { correctHours, startClock, stopClock } from './commands.ts'

export const hourRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/clock',
    {
      schema: {
        summary: 'Own clock, and what closing time stopped that nobody has put right',
        response: { 200: clockState, ...problemResponses },
      },
    },
    (request) => clockAnswer(app.db, request.caller(), app.clock()),
  )
  app.post(
    '/clock/start',
    {
      schema: {
        summary: 'Start own clock on a job; the one that runs stops with it',
        body: clockStart,
        response: { 201: clockEntry, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => startClock(act, request.body)),
  )
  app.post(
    '/clock/stop',
    { schema: { summary: 'Stop own clock', body: clockStop, response: { 200: clockEntry, ...problemResponses } } },
    (request, reply) => write(app, request, reply, 200, (act) => stopClock(act, request.body)),
  )
  app.get(
    '/jobs/:id/hours',
    { schema: { summary: 'Bench hours of a job', params: idParams, response: { 200: jobHours, ...problemResponses } } },
    async (request) => {
      const { id } = request.params
      if (!(await jobExists(app.db.prisma, id))) throw notFound('This job')
      return hoursAnswer(app.db, request.caller(), app.clock(), id)
    },
  )
  app.patch(
    '/hours/:id',
    {
      schema: {
        summary: 'Put hours right, with a reason: one’s own, or as the owner anybody’s',
        params: idParams,
        body: clockCorrection,
        response: { 200: clockEntry, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => correctHours(act, request.params.id, request.body)),
  )
}
