import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { job } from '#contract/jobs.ts'
import { idParams } from '#contract/primitives.ts'
import { notFound } from '#server/plugins/errors.ts'
import { readerWith, readJob } from './store.ts'

export const jobPageRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/jobs/:id',
    { schema: { summary: 'One job, with what this role may see', params: idParams, response: { 200: job, ...problemResponses } } },
    async (request) => {
      const reader = readerWith(request.caller(), app.clock())
      const found = await readJob(app.db.prisma, request.params.id, reader)
      if (!found) throw notFound('This job')
      return found
    },
  )
}
