import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { problemResponses } from '#contract/errors.ts'
import { kitModel, kitModelNew, kitNaming, kitOfJob, kitQuery } from '#contract/kits.ts'
import { idParams } from '#contract/primitives.ts'
import { write } from '#server/plugins/idempotency.ts'
import { addKitModel, nameKit } from './commands.ts'
import { listKits } from './store.ts'

export const kitRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/kits',
    {
      schema: {
        summary: 'Rod kits with their lots, and how many cranks have one of each',
        querystring: kitQuery,
        response: { 200: z.array(kitModel), ...problemResponses },
      },
    },
    (request) => listKits(app.db, request.query),
  )
  app.post(
    '/kits',
    { schema: { summary: 'Add a rod kit', body: kitModelNew, response: { 201: kitModel, ...problemResponses } } },
    (request, reply) => write(app, request, reply, 201, (act) => addKitModel(act, request.body)),
  )
  app.post(
    '/jobs/:id/kit',
    {
      schema: {
        summary: 'Name the kit that goes into a crank, with its lot; a wait for the kit is over with it',
        params: idParams,
        body: kitNaming,
        response: { 201: kitOfJob, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => nameKit(act, request.params.id, request.body)),
  )
}
