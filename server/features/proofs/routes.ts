import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { proof, proofs, proofWanted } from '#contract/proofs.ts'
import { write } from '#server/plugins/idempotency.ts'
import { askForDrill, howItStands } from './commands.ts'

export const proofRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/proofs',
    {
      schema: {
        summary: 'Whether the backups of the book hold: the last drills and backups',
        response: { 200: proofs, ...problemResponses },
      },
    },
    () => howItStands(app.db.prisma, app.clock()),
  )
  app.post(
    '/proofs',
    {
      schema: {
        summary: 'Prove it now: write a backup, put it into a scratch database and compare',
        body: proofWanted,
        response: { 202: proof, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 202, askForDrill),
  )
}
