import type { FastifyReply, FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { paperQuery } from '#contract/certificates.ts'
import { problemResponses } from '#contract/errors.ts'
import type { Job } from '#contract/jobs.ts'
import { idParams } from '#contract/primitives.ts'
import { readerOf, readJob } from '#server/features/job-page/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { notFound } from '#server/plugins/errors.ts'
import { renderLabel } from './document-label.ts'
import { renderReceipt } from './document-receipt.ts'
import { labelOf, receiptOf } from './paper-data.ts'

/** A file in the document of this service, and in the handler its bytes. */
const pdf = z.file().describe('PDF') as unknown as z.ZodType<Buffer>
const answers = { 200: { content: { 'application/pdf': { schema: pdf } } }, ...problemResponses }

/** Papers of the counter, drawn anew each time from what stands in the book. */
export const jobPaperRoutes: FastifyPluginAsyncZod = async (app) => {
  async function jobFor(request: FastifyRequest, id: string): Promise<Job> {
    const job = await readJob(app.db.prisma, id, await readerOf(app.db.prisma, request.caller().role, app.clock()))
    if (!job) throw notFound('This job')
    return job
  }

  app.get(
    '/jobs/:id/receipt.pdf',
    { schema: { summary: 'Receipt for the customer', params: idParams, querystring: paperQuery, response: answers } },
    async (request, reply) => {
      const [job, settings] = await Promise.all([jobFor(request, request.params.id), readSettings(app.db.prisma)])
      return sendPaper(reply, `receipt-${job.tag}`).send(
        await renderReceipt(receiptOf(job, settings, request.query.paper ?? settings.paper)),
      )
    },
  )
  app.get(
    '/jobs/:id/label.pdf',
    { schema: { summary: 'Tag label of 62 × 29 mm', params: idParams, response: answers } },
    async (request, reply) => {
      const [job, settings] = await Promise.all([jobFor(request, request.params.id), readSettings(app.db.prisma)])
      const address = `${app.publicUrl ?? `${request.protocol}://${request.host}`}/jobs/${job.id}`
      return sendPaper(reply, `tag-${job.tag}`).send(await renderLabel(labelOf(job, settings, address)))
    },
  )
}

function sendPaper<Reply extends FastifyReply>(reply: Reply, name: string): Reply {
  reply.header('content-type', 'application/pdf').header('content-disposition', `inline; filename="${name}.pdf"`)
  return reply
}
