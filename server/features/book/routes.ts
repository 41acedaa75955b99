import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { jobPage, jobQuery } from '#contract/book.ts'
import { problemResponses } from '#contract/errors.ts'
import { readerWith } from '#server/features/job-page/store.ts'
import { listJobs } from './store.ts'

export const bookRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/jobs',
    {
      schema: {
        summary: 'The book: one list of jobs, with the number of cranks in each list',
        querystring: jobQuery,
        response: { 200: jobPage, ...problemResponses },
      },
    },
    async (request) => listJobs(app.db, request.query, readerWith(request.caller(), app.clock())),
  )
}
