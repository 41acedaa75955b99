import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { problemResponses } from '#contract/errors.ts'
import { eventPage, jobEvent, jobNote, told } from '#contract/events.ts'
import { job } from '#contract/jobs.ts'
import { idParams, pageQuery } from '#contract/primitives.ts'
import { notFound } from '#server/plugins/errors.ts'
import { write } from '#server/plugins/idempotency.ts'
import { tellCustomer, writeNote } from './commands.ts'
import { listEvents } from './store.ts'

export const eventRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/jobs/:id/events',
    {
      schema: {
        summary: 'History of a job, newest line first',
        params: idParams,
        querystring: z.strictObject(pageQuery),
        response: { 200: eventPage, ...problemResponses },
      },
    },
    async (request) => {
      const page = await listEvents(app.db, request.params.id, request.caller().role, request.query)
      if (!page) throw notFound('This job')
      return page
    },
  )
  app.post(
    '/jobs/:id/notes',
    {
      schema: {
        summary: 'Write a line into the history of a job',
        params: idParams,
        body: jobNote,
        response: { 201: jobEvent, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => writeNote(act, request.params.id, request.body)),
  )
  app.post(
    '/jobs/:id/told',
    {
      schema: {
        summary: 'Write down what the customer was told',
        params: idParams,
        body: told,
        response: { 201: job, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => tellCustomer(act, request.params.id, request.body)),
  )
}
