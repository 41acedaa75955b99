import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { engine, engineChange, engineCopy, engineNew, enginePage, engineQuery, figureCorrection } from '#contract/engines.ts'
import { problemResponses } from '#contract/errors.ts'
import { idParams } from '#contract/primitives.ts'
import { notFound } from '#server/plugins/errors.ts'
import { write } from '#server/plugins/idempotency.ts'
import { addEngine, changeEngine, copyEngine, correctFigure } from './commands.ts'
import { listEngines, readEngine } from './store.ts'

export const engineRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/engines',
    { schema: { summary: 'Model sheets by maker and code', querystring: engineQuery, response: { 200: enginePage, ...problemResponses } } },
    (request) => listEngines(app.db, request.query),
  )
  app.post(
    '/engines',
    { schema: { summary: 'Add a model sheet', body: engineNew, response: { 201: engine, ...problemResponses } } },
    (request, reply) => write(app, request, reply, 201, (act) => addEngine(act, request.body)),
  )
  app.get(
    '/engines/:id',
    {
      schema: {
        summary: 'One model sheet with the earlier versions of its figures',
        params: idParams,
        response: { 200: engine, ...problemResponses },
      },
    },
    async (request) => {
      const sheet = await readEngine(app.db.prisma, request.params.id)
      if (!sheet) throw notFound('This engine')
      return sheet
    },
  )
  app.patch(
    '/engines/:id',
    {
      schema: {
        summary: 'Change the name, the surfaces or the note of a model sheet',
        params: idParams,
        body: engineChange,
        response: { 200: engine, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => changeEngine(act, request.params.id, request.body)),
  )
  app.post(
    '/engines/:id/copies',
    {
      schema: {
        summary: 'Make a new sheet from this one',
        params: idParams,
        body: engineCopy,
        response: { 201: engine, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => copyEngine(act, request.params.id, request.body)),
  )
  app.post(
    '/engines/:id/figures',
    {
      schema: {
        summary: 'Correct a figure; the earlier version stays readable',
        params: idParams,
        body: figureCorrection,
        response: { 201: engine, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => correctFigure(act, request.params.id, request.body)),
  )
}
