import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { draft, draftAnswer, draftParams, draftSave } from '#contract/drafts.ts'
import { problemResponses } from '#contract/errors.ts'
import { write } from '#server/plugins/idempotency.ts'
import { dropDraft, keepDraft, readDraft } from './store.ts'

/** Forms left half way. A draft belongs to one person, has no version and is no part of the record. */
export const draftRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/drafts/:form',
    {
      schema: {
        summary: 'Own draft of a form; null where there is none',
        params: draftParams,
        response: { 200: draftAnswer, ...problemResponses },
      },
    },
    async (request) => ({ draft: await readDraft(app.db, request.caller().id, request.params.form) }),
  )
  app.put(
    '/drafts/:form',
    {
      schema: { summary: 'Keep own draft of a form', params: draftParams, body: draftSave, response: { 200: draft, ...problemResponses } },
    },
    (request, reply) => write(app, request, reply, 200, (act) => keepDraft(act, request.params.form, request.body.data)),
  )
  app.delete(
    '/drafts/:form',
    { schema: { summary: 'Throw own draft away', params: draftParams, response: { 204: z.null(), ...problemResponses } } },
    async (request, reply) => {
      await write(app, request, reply, 204, async (act) => {
        await dropDraft(act, request.params.form)
        return null
      })
      return reply.send(null)
    },
  )
}
