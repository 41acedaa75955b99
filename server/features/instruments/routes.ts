import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { problemResponses } from '#contract/errors.ts'
import { instrument, instrumentChange, instrumentNew } from '#contract/instruments.ts'
import { idParams } from '#contract/primitives.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { write } from '#server/plugins/idempotency.ts'
import { shopDay } from '#server/plugins/shop-day.ts'
import { changeInstrument, takeInstrumentIn } from './commands.ts'
import { listInstruments } from './store.ts'

export const instrumentRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/instruments',
    { schema: { summary: 'Instruments, those in use first', response: { 200: z.array(instrument), ...problemResponses } } },
    async () => {
      const { zone } = await readSettings(app.db.prisma)
      return listInstruments(app.db.prisma, shopDay(app.clock(), zone))
    },
  )
  app.post(
    '/instruments',
    { schema: { summary: 'Add an instrument', body: instrumentNew, response: { 201: instrument, ...problemResponses } } },
    (request, reply) => write(app, request, reply, 201, (act) => takeInstrumentIn(act, request.body)),
  )
  app.patch(
    '/instruments/:id',
    {
      schema: {
        summary: 'Write down a new check of an instrument, rename it, or say that it is used no more',
        params: idParams,
        body: instrumentChange,
        response: { 200: instrument, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => changeInstrument(act, request.params.id, request.body)),
  )
}
