import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { settingsAnswer, settingsWanted } from '#contract/settings.ts'
import { write } from '#server/plugins/idempotency.ts'
import { changeSettings, readSettings } from './store.ts'

export const settingsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get('/settings', { schema: { summary: 'Settings of the shop', response: { 200: settingsAnswer, ...problemResponses } } }, () =>
    readSettings(app.db.prisma),
  )
  app.put(
    '/settings',
    {
      schema: { summary: 'Change the settings of the shop', body: settingsWanted, response: { 200: settingsAnswer, ...problemResponses } },
    },
    (request, reply) => write(app, request, reply, 200, (act) => changeSettings(act, request.body)),
  )
}
