import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { findQuery, found } from '#contract/find.ts'
import { find } from './store.ts'

export const findRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/find',
    {
      schema: {
        summary: 'Find by tag, name, phone, engine number or model; jobs first',
        querystring: findQuery,
        response: { 200: found, ...problemResponses },
      },
    },
    async (request) => ({ rows: await find(app.db, request.query.q, request.caller().role) }),
  )
}
