import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { personLearning } from '#contract/learning.ts'
import { idParams } from '#contract/primitives.ts'
import { readPerson } from '#server/features/people/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { notFound, Problem } from '#server/plugins/errors.ts'
import { personLearningOf } from './line.ts'
import { jobsTruedBy } from './store.ts'

export const learningRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/people/:id/learning',
    {
      schema: {
        summary: 'Learning line of one person, for that person and the owner',
        params: idParams,
        response: { 200: personLearning, ...problemResponses },
      },
    },
    async (request) => {
      const { id } = request.params
      const caller = request.caller()
      if (caller.role !== 'owner' && caller.id !== id)
        throw new Problem('forbidden', 'A learning line is seen by its own person and the owner only.')
      const [person, settings, jobs] = await Promise.all([
        readPerson(app.db.prisma, id),
        readSettings(app.db.prisma),
        jobsTruedBy(app.db, id, app.clock()),
      ])
      if (!person) throw notFound('This person')
      return personLearningOf(person, jobs, settings.targetHours)
    },
  )
}
