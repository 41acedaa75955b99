import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import {
  comeback,
  comebackChange,
  comebackNew,
  comebackPage,
  comebackQuery,
  sameLotPage,
  sameLotQuery,
  sinceHome,
} from '#contract/comebacks.ts'
import { problemResponses } from '#contract/errors.ts'
import { strikeOut } from '#contract/follow-ups.ts'
import type { Role } from '#contract/people.ts'
import { idParams } from '#contract/primitives.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { notFound } from '#server/plugins/errors.ts'
import { write } from '#server/plugins/idempotency.ts'
import { shopDay } from '#server/plugins/shop-day.ts'
import { recordFindings, reportComeback, strikeComeback } from './commands.ts'
import { readComeback } from './sheet-then.ts'
import { readSinceHome } from './since-home.ts'
import { listReports, listSameLot } from './store.ts'

export const comebackRoutes: FastifyPluginAsyncZod = async (app) => {
  const readBy = async (role: Role) => {
    const { zone } = await readSettings(app.db.prisma)
    return { seesCustomers: role !== 'bench', zone, today: shopDay(app.clock(), zone) }
  }

  app.post(
    '/jobs/:id/comeback',
    {
      schema: {
        summary: 'Report that a crank of ours came back, or is talked about as failed; blame is decided after looking, never here',
        params: idParams,
        body: comebackNew,
        response: { 201: comeback, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => reportComeback(act, request.params.id, request.body)),
  )
  app.patch(
    '/comebacks/:id',
    {
      schema: {
        summary: 'Write what was found, what is thought, and after looking the cause and whose it is; each by whom it belongs to',
        params: idParams,
        body: comebackChange,
        response: { 200: comeback, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => recordFindings(act, request.params.id, request.body)),
  )
  app.post(
    '/comebacks/:id/strike',
    {
      schema: {
        summary: 'Strike a report out; it stays in the book and counts no more',
        params: idParams,
        body: strikeOut,
        response: { 200: comeback, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => strikeComeback(act, request.params.id, request.body)),
  )
  app.get(
    '/comebacks',
    {
      schema: {
        summary: 'Cranks that came back, those without a cause first',
        querystring: comebackQuery,
        response: { 200: comebackPage, ...problemResponses },
      },
    },
    async (request) => {
      const by = await readBy(request.caller().role)
      return { ...(await listReports(app.db, request.query, by)), today: by.today }
    },
  )
  app.get(
    '/comebacks/:id',
    {
      schema: {
        summary: 'One report, with what our sheet said then and what the crank reads now',
        params: idParams,
        response: { 200: comeback, ...problemResponses },
      },
    },
    (request) => readComeback(app.db.prisma, request.params.id, request.caller()),
  )
  app.get(
    '/comebacks/:id/same-lot',
    {
      schema: {
        summary: 'The other cranks with a kit of the same lot, and how many of them came back',
        params: idParams,
        querystring: sameLotQuery,
        response: { 200: sameLotPage, ...problemResponses },
      },
    },
    async (request) => {
      const found = await listSameLot(app.db, request.params.id, request.query, await readBy(request.caller().role))
      if (found === null) throw notFound('This report')
      return found
    },
  )
  app.get(
    '/jobs/:id/since-home',
    {
      schema: {
        summary: 'What was heard of a crank since it went home: the report, the calls, and whether it is to be rung',
        params: idParams,
        response: { 200: sinceHome, ...problemResponses },
      },
    },
    async (request) => {
      const by = await readBy(request.caller().role)
      return readSinceHome(app.db.prisma, request.params.id, by, by.today)
    },
  )
}
