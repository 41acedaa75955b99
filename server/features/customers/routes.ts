import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { customer, customerChange, customerMerge, customerNew, customerPage, customerQuery } from '#contract/customers.ts'
import { problemResponses } from '#contract/errors.ts'
import { idParams } from '#contract/primitives.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { notFound } from '#server/plugins/errors.ts'
import { write } from '#server/plugins/idempotency.ts'
import { addSomeone, changeSomeone } from './commands.ts'
import { mergeInto } from './merge.ts'
import { listCustomers, readCustomer } from './store.ts'

export const customerRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/customers',
    { schema: { summary: 'Customers by name', querystring: customerQuery, response: { 200: customerPage, ...problemResponses } } },
    async (request) => {
      const { zone } = await readSettings(app.db.prisma)
      return listCustomers(app.db, request.query, zone)
    },
  )
  app.post(
    '/customers',
    { schema: { summary: 'Add a customer', body: customerNew, response: { 201: customer, ...problemResponses } } },
    (request, reply) => write(app, request, reply, 201, (act) => addSomeone(act, request.body)),
  )
  app.get(
    '/customers/:id',
    {
      schema: {
        summary: 'One customer; the address of an entry that became another leads on to it',
        params: idParams,
        response: { 200: customer, ...problemResponses },
      },
    },
    async (request) => {
      const { zone } = await readSettings(app.db.prisma)
      const found = await readCustomer(app.db.prisma, request.params.id, zone)
      if (!found) throw notFound('This customer')
      return found
    },
  )
  app.patch(
    '/customers/:id',
    {
      schema: { summary: 'Change a customer', params: idParams, body: customerChange, response: { 200: customer, ...problemResponses } },
    },
    (request, reply) => write(app, request, reply, 200, (act) => changeSomeone(act, request.params.id, request.body)),
  )
  app.post(
    '/customers/:id/merge',
    {
      schema: {
        summary: 'Make two entries that are one customer one; the one in the address stays. Needs If-Match',
        params: idParams,
        body: customerMerge,
        response: { 200: customer, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => mergeInto(act, request.params.id, request.body)),
  )
}
