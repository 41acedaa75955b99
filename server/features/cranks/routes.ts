import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { crankHit, crankQuery } from '#contract/cranks.ts'
import { problemResponses } from '#contract/errors.ts'
import { idParams } from '#contract/primitives.ts'
import { webLife, webLifeQuery } from '#contract/web-life.ts'
import { notFound } from '#server/plugins/errors.ts'
import { findCranks, readLivesOfWebs } from './store.ts'
import { webLifeAnswer } from './web-life.ts'

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
  app.get(
    '/cranks/:id/web-life',
    {
      schema: {
        summary: 'What the fit of each web of a crank lost with every pressing here, and how many pressings are left',
        params: idParams,
        querystring: webLifeQuery,
        response: { 200: webLife, ...problemResponses },
      },
    },
    async (request) => {
      const crank = await readLivesOfWebs(app.db.prisma, request.params.id, request.query.joint)
      if (!crank) throw notFound('This crank')
      return webLifeAnswer(crank)
    },
  )
}
