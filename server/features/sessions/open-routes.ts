import type { FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { problemResponses } from '#contract/errors.ts'
import { idParams } from '#contract/primitives.ts'
import { ownSessionParams, session, sessionParams, sessionsEnded } from '#contract/sessions.ts'
import { readPerson } from '#server/features/people/store.ts'
import { sessionLimits } from '#server/features/settings/store.ts'
import { notFound } from '#server/plugins/errors.ts'
import { write } from '#server/plugins/idempotency.ts'
import { endAllOf, endMyOthers, endOne } from './own-and-others.ts'
import { openSessionsOf } from './store.ts'

const list = { 200: z.array(session), ...problemResponses }
const ended = { 200: sessionsEnded, ...problemResponses }

/** Where somebody is signed in, and ending it: one's own for everybody, everybody's for the owner. */
export const openSessionRoutes: FastifyPluginAsyncZod = async (app) => {
  async function openOf(request: FastifyRequest, personId: string) {
    const { sessionHash } = request.caller()
    return openSessionsOf(app.db, personId, { now: app.clock(), limits: await sessionLimits(app.db), here: sessionHash })
  }

  app.get('/people/me/sessions', { schema: { summary: 'Own open sessions', response: list } }, (request) =>
    openOf(request, request.caller().id),
  )
  app.post('/people/me/sessions/end', { schema: { summary: 'End own sessions everywhere but here', response: ended } }, (request, reply) =>
    write(app, request, reply, 200, (act) => endMyOthers(act, request.caller().sessionHash)),
  )
  app.post(
    '/people/me/sessions/:session/end',
    { schema: { summary: 'End one own session', params: ownSessionParams, response: ended } },
    (request, reply) => write(app, request, reply, 200, (act) => endOne(act, act.by.id, request.params.session)),
  )
  app.get(
    '/people/:id/sessions',
    { schema: { summary: 'Open sessions of a person', params: idParams, response: list } },
    async (request) => {
      if (!(await readPerson(app.db.prisma, request.params.id))) throw notFound('This person')
      return openOf(request, request.params.id)
    },
  )
  app.post(
    '/people/:id/sessions/end',
    { schema: { summary: 'End all sessions of a person', params: idParams, response: ended } },
    (request, reply) => write(app, request, reply, 200, (act) => endAllOf(act, request.params.id)),
  )
  app.post(
    '/people/:id/sessions/:session/end',
    { schema: { summary: 'End one session of a person', params: sessionParams, response: ended } },
    (request, reply) => write(app, request, reply, 200, (act) => endOne(act, request.params.id, request.params.session)),
  )
}
