import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { problemResponses } from '#contract/errors.ts'
import { crankHit, crankQuery } from '#contract/jobs.ts'
import { findCranks } from './store.ts'

export const crankRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/cranks',
    {
      schema: {
        summary: 'Cranks that have been here, by engine number or by customer, with their earlier jobs',
        querystring: crankQuery,
        response: { 200: z.array(crankHit), ...problemResponses },
      },
    },
    (request) => findCranks(app.db, request.query),
  )
}
