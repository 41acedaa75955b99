import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { fitStop, fitStopNew } from '#contract/fit-stop.ts'
import { strike } from '#contract/measurements.ts'
import { oilHole, oilHoleSeen, pressing, pressingNew, trappedSeen, trappedTick, weld, weldNew } from '#contract/pressings.ts'
import { idParams } from '#contract/primitives.ts'
import { write } from '#server/plugins/idempotency.ts'
import { decideOnFit, lookAtOilHole, pressWeb, strikePressing, tickTrapped, weldPin } from './commands.ts'

export const pressingRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/jobs/:id/pressings',
    {
      schema: {
        summary: 'Write down one web pressed apart or together, with the peak of the gauge and what was seen of it',
        params: idParams,
        body: pressingNew,
        response: { 201: pressing, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => pressWeb(act, request.params.id, request.body)),
  )
  app.post(
    '/pressings/:id/strike',
    {
      schema: {
        summary: 'Strike a pressing out, with a reason',
        params: idParams,
        body: strike,
        response: { 200: pressing, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => strikePressing(act, request.params.id, request.body)),
  )
  app.post(
    '/jobs/:id/fit-stops',
    {
      schema: {
        summary: 'Decide what becomes of a web that is too loose for its pin, with the reason; it opens no gate',
        params: idParams,
        body: fitStopNew,
        response: { 201: fitStop, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => decideOnFit(act, request.params.id, request.body)),
  )
  app.post(
    '/jobs/:id/trapped-parts',
    {
      schema: {
        summary: 'Say which of the parts that sit between the webs are in, before they are pressed together',
        params: idParams,
        body: trappedTick,
        response: { 201: trappedSeen, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => tickTrapped(act, request.params.id, request.body)),
  )
  app.post(
    '/jobs/:id/oil-hole',
    {
      schema: {
        summary: 'Say whether the oil hole of the pin is open',
        params: idParams,
        body: oilHole,
        response: { 200: oilHoleSeen, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => lookAtOilHole(act, request.params.id, request.body)),
  )
  app.post(
    '/jobs/:id/welds',
    {
      schema: {
        summary: 'Write a weld down; a crank that was true goes back a step until it is read again cold',
        params: idParams,
        body: weldNew,
        response: { 201: weld, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => weldPin(act, request.params.id, request.body)),
  )
}
