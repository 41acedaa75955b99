import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { job } from '#contract/jobs.ts'
import { box, boxCheck, paymentNew, quoteNew, yesNew } from '#contract/money.ts'
import { idParams } from '#contract/primitives.ts'
import { write } from '#server/plugins/idempotency.ts'
import { checkBox, enterYes, makeQuote, takePayment } from './commands.ts'

export const moneyRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/jobs/:id/quotes',
    {
      schema: {
        summary: 'Make a quote; it replaces the one before and waits for a yes',
        params: idParams,
        body: quoteNew,
        response: { 201: job, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => makeQuote(act, request.params.id, request.body)),
  )
  app.post(
    '/jobs/:id/yes',
    {
      schema: {
        summary: 'Enter the customer’s yes to the last quote',
        params: idParams,
        body: yesNew,
        response: { 201: job, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => enterYes(act, request.params.id, request.body)),
  )
  app.post(
    '/jobs/:id/payments',
    {
      schema: {
        summary: 'Write down money taken or given back; no card data',
        params: idParams,
        body: paymentNew,
        response: { 201: job, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => takePayment(act, request.params.id, request.body)),
  )
  app.put(
    '/jobs/:id/box',
    {
      schema: {
        summary: 'Check the box against what came in; If-Match "0" for the first time',
        params: idParams,
        body: boxCheck,
        response: { 200: box, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => checkBox(act, request.params.id, request.body)),
  )
}
