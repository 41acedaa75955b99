import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { problemResponses } from '#contract/errors.ts'
import { ownPasswordNew, ownPin, person, personChange, personNew } from '#contract/people.ts'
import { idParams } from '#contract/primitives.ts'
import { write } from '#server/plugins/idempotency.ts'
import { hashPassword } from '#server/plugins/passwords.ts'
import { addSomebody, changeSomebody } from './commands.ts'
import { setOwnPassword, setOwnPin } from './own-door.ts'
import { listPeople } from './store.ts'

export const peopleRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get('/people', { schema: { summary: 'People of the shop', response: { 200: z.array(person), ...problemResponses } } }, () =>
    listPeople(app.db),
  )
  app.post(
    '/people',
    { schema: { summary: 'Add a person', body: personNew, response: { 201: person, ...problemResponses } } },
    async (request, reply) => {
      const passwordHash = await hashPassword(request.body.password)
      return write(app, request, reply, 201, (act) => addSomebody(act, request.body, passwordHash))
    },
  )
  app.patch(
    '/people/:id',
    {
      schema: {
        summary: 'Change a person, bar them, set a new password, take their PIN away',
        params: idParams,
        body: personChange,
        response: { 200: person, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => changeSomebody(act, request.params.id, request.body)),
  )
  app.put(
    '/people/me/pin',
    { schema: { summary: 'Set own PIN for the bench tablets', body: ownPin, response: { 200: person, ...problemResponses } } },
    (request, reply) => write(app, request, reply, 200, (act) => setOwnPin(act, app.db, request.body)),
  )
  app.put(
    '/people/me/password',
    {
      schema: {
        summary: 'Change own password; own sessions elsewhere end',
        body: ownPasswordNew,
        response: { 200: person, ...problemResponses },
      },
    },
    (request, reply) => {
      const { sessionHash } = request.caller()
      return write(app, request, reply, 200, (act) => setOwnPassword(act, app.db, request.body, sessionHash))
    },
  )
}
