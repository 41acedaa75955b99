import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { callPage, callQuery, followUp, followUpNew, strikeOut } from '#contract/follow-ups.ts'
import { idParams } from '#contract/primitives.ts'
import { daysBetween } from '#core/calendar.ts'
import { CALL_RULE } from '#core/comeback-calls.ts'
import { listCallsDue } from '#server/features/follow-ups/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { write } from '#server/plugins/idempotency.ts'
import { shopDay } from '#server/plugins/shop-day.ts'
import { recordFollowUp, strikeFollowUp } from './call-commands.ts'

export const callRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/jobs/:id/follow-ups',
    {
      schema: {
        summary: 'Write down a call after a crank went home: whether it runs, and its hours',
        params: idParams,
        body: followUpNew,
        response: { 201: followUp, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => recordFollowUp(act, request.params.id, request.body)),
  )
  app.post(
    '/follow-ups/:id/strike',
    {
      schema: {
        summary: 'Strike a call out; it stays in the book and counts no more',
        params: idParams,
        body: strikeOut,
        response: { 200: followUp, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => strikeFollowUp(act, request.params.id, request.body)),
  )
  app.get(
    '/follow-ups/due',
    {
      schema: {
        summary: 'Cranks that are to be rung after going home, the one that is gone longest first',
        querystring: callQuery,
        response: { 200: callPage, ...problemResponses },
      },
    },
    async (request) => {
      const { zone } = await readSettings(app.db.prisma)
      const today = shopDay(app.clock(), zone)
      const { rows, ...page } = await listCallsDue(app.db, request.query, { zone, today })
      return { ...page, rows: rows.map((row) => ({ ...row, daysGone: daysBetween(row.goneOn, today) })), rule: CALL_RULE, today }
    },
  )
}
