import type { FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { booking, job, jobChange, jobCustomer, placeNew, publicLink } from '#contract/jobs.ts'
import { idParams } from '#contract/primitives.ts'
import { hashOf, newToken } from '#server/plugins/auth.ts'
import { Problem } from '#server/plugins/errors.ts'
import { write } from '#server/plugins/idempotency.ts'
import { bookIn } from './booking.ts'
import { changeJob, makeLink, movePlace } from './commands.ts'
import { moveToCustomer } from './right-customer.ts'

export const jobRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/jobs',
    { schema: { summary: 'Book a crank in', body: booking, response: { 201: job, ...problemResponses } } },
    (request, reply) => write(app, request, reply, 201, (act) => bookIn(act, request.body)),
  )
  app.patch(
    '/jobs/:id',
    {
      schema: {
        summary: 'Change what was written at booking',
        params: idParams,
        body: jobChange,
        response: { 200: job, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => changeJob(act, request.params.id, request.body)),
  )
  app.post(
    '/jobs/:id/customer',
    {
      schema: {
        summary: 'Move a job to its right customer; its secret address opens no more. Needs If-Match',
        params: idParams,
        body: jobCustomer,
        response: { 200: job, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => moveToCustomer(act, request.params.id, request.body)),
  )
  app.post(
    '/jobs/:id/place',
    {
      schema: {
        summary: 'Say where a crank lies and who has it',
        params: idParams,
        body: placeNew,
        response: { 200: job, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => movePlace(act, request.params.id, request.body)),
  )
  app.post(
    '/jobs/:id/link',
    {
      schema: {
        summary: 'Make the secret address of the customer’s page; it is shown once, and earlier ones of the job open no more',
        params: idParams,
        response: { 201: publicLink, ...problemResponses },
      },
    },
    async (request, reply) => {
      let token: string | undefined
      const answer = await write(app, request, reply, 201, async (act) => {
        token = newToken()
        await makeLink(act, request.params.id, hashOf(token))
        // The stored answer of this request must not hold the address, of which the book keeps a hash alone.
        return { url: '' }
      })
      if (token === undefined) throw new Problem('conflict-state', 'This address was made and is shown only once. Make another one.')
      return { ...answer, url: `${addressOf(request)}/crank/${token}` }
    },
  )

  function addressOf(request: FastifyRequest): string {
    return app.publicUrl ?? `${request.protocol}://${request.host}`
  }
}
