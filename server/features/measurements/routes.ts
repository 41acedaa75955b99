import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { bench } from '#contract/bench.ts'
import { problemResponses } from '#contract/errors.ts'
import { measurement, measurementNew, strike, turnRound } from '#contract/measurements.ts'
import { idParams } from '#contract/primitives.ts'
import { write } from '#server/plugins/idempotency.ts'
import { strikeReadings, takeReadings } from './commands.ts'
import { readBench } from './store.ts'
import { turnReadingsRound } from './turn-round.ts'

export const measurementRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/jobs/:id/measurements',
    {
      schema: {
        summary: 'Everything measured on a job and what it comes to; a first reading is hidden until the second is in',
        params: idParams,
        response: { 200: bench, ...problemResponses },
      },
    },
    (request) => readBench(app.db.prisma, request.params.id, request.caller().id),
  )
  app.post(
    '/jobs/:id/measurements',
    {
      schema: {
        summary: 'Write down a set of readings, or why it was not read',
        params: idParams,
        body: measurementNew,
        response: { 201: measurement, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => takeReadings(act, request.params.id, request.body)),
  )
  app.post(
    '/measurements/:id/strike',
    {
      schema: {
        summary: 'Strike a set of readings out, with a reason; it stays in the book',
        params: idParams,
        body: strike,
        response: { 200: measurement, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => strikeReadings(act, request.params.id, request.body)),
  )
  app.post(
    '/measurements/:id/turn-round',
    {
      schema: {
        summary: 'Strike a set of runout out and write it down again with 3 and 9 changed over: its marks run the other way',
        params: idParams,
        body: turnRound,
        response: { 201: measurement, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => turnReadingsRound(act, request.params.id, request.body)),
  )
}
