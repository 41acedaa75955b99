import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { paperQuery } from '#contract/certificates.ts'
import { problemResponses } from '#contract/errors.ts'
import { idParams } from '#contract/primitives.ts'
import { readEngine } from '#server/features/engines/store.ts'
import { readerOf, readJob } from '#server/features/job-page/store.ts'
import { readJobBench } from '#server/features/measurements/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { notFound } from '#server/plugins/errors.ts'
import { benchSheetOf } from './bench-sheet-data.ts'
import { renderBenchSheet } from './document-bench-sheet.ts'

/** A file in the document of this service, and in the handler its bytes. */
const pdf = z.file().describe('PDF') as unknown as z.ZodType<Buffer>

export const benchSheetRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/jobs/:id/bench-sheet.pdf',
    {
      schema: {
        summary: 'Sheet for the bench when the book is out of reach, with the places and limits of this crank and boxes for its readings',
        params: idParams,
        querystring: paperQuery,
        response: { 200: { content: { 'application/pdf': { schema: pdf } } }, ...problemResponses },
      },
    },
    async (request, reply) => {
      const db = app.db.prisma
      const { id } = request.params
      const reader = await readerOf(db, request.caller().role, app.clock())
      const [job, held, settings] = await Promise.all([readJob(db, id, reader), readJobBench(db, id, app.clock()), readSettings(db)])
      const engine = held && (await readEngine(db, held.engineId))
      if (!job || !held || !engine) throw notFound('This job')
      const paper = request.query.paper ?? settings.paper
      const drawn = await renderBenchSheet(benchSheetOf({ job, held, engine, settings, paper, today: reader.today }))
      return reply
        .header('content-type', 'application/pdf')
        .header('content-disposition', `inline; filename="bench-sheet-${job.tag}.pdf"`)
        .send(drawn)
    },
  )
}
