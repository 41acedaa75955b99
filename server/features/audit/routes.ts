import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { auditCheck, auditCheckQuery, auditPage, auditQuery } from '#contract/audit.ts'
import { problemResponses } from '#contract/errors.ts'
import { fieldFault, notFound } from '#server/plugins/errors.ts'
import { auditLines } from './lines.ts'
import { checkPiece } from './verify.ts'

export const auditRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/audit',
    {
      schema: {
        summary: 'Who changed what, newest first, with what stood before and after',
        querystring: auditQuery,
        response: { 200: auditPage, ...problemResponses },
      },
    },
    (request) => {
      const { id, thing } = request.query
      if (id !== undefined && thing === undefined) throw fieldFault('#/query/thing', 'missing', 'Say what kind of thing this id is of.')
      return auditLines(app.db, request.query, request.caller().id)
    },
  )
  app.get(
    '/audit/check',
    {
      schema: {
        summary: 'Works the hashes of a piece of the audit chain again; follow next to its end',
        querystring: auditCheckQuery,
        response: { 200: auditCheck, ...problemResponses },
      },
    },
    async (request) => {
      const piece = await checkPiece(app.db.pool, request.query.after ?? 0)
      if (piece === null) throw notFound('This row of the chain')
      return piece
    },
  )
}
