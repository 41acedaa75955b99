import { randomBytes } from 'node:crypto'
import type { FastifyInstance, FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import {
  certificateCorrection,
  certificateNew,
  certificateOfJob,
  certificateRow,
  certificateVoid,
  paperQuery,
} from '#contract/certificates.ts'
import { problemResponses } from '#contract/errors.ts'
import { idParams } from '#contract/primitives.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { notFound } from '#server/plugins/errors.ts'
import { keepFile, readKept, sha256Of } from '#server/plugins/files.ts'
import { write } from '#server/plugins/idempotency.ts'
import { shopDay } from '#server/plugins/shop-day.ts'
import { correctSheet, issueSheet, type SheetMaker, voidSheet } from './commands.ts'
import { renderCertificate } from './document.ts'
import { previewSheet } from './preview.ts'
import { rowOf } from './row.ts'
import { keepPaper, paperFile, sheetById, standingOf } from './store.ts'

export const certificateRoutes: FastifyPluginAsyncZod = async (app) => {
  const maker = (request: FastifyRequest): SheetMaker => ({
    random: (bytes) => randomBytes(bytes),
    checkPage: (number, code) => `${app.publicUrl ?? `${request.protocol}://${request.host}`}/check?number=${number}&code=${code}`,
  })
  app.get(
    '/jobs/:id/certificate',
    {
      schema: {
        summary: 'The sheets of a job, and what the next one would say',
        params: idParams,
        response: { 200: certificateOfJob, ...problemResponses },
      },
    },
    (request) => previewSheet(app.db.prisma, request.params.id, request.caller(), app.clock()),
  )
  app.post(
    '/jobs/:id/certificates',
    {
      schema: {
        summary: 'Sign a job: make its certificate',
        params: idParams,
        body: certificateNew,
        response: { 201: certificateRow, ...problemResponses },
      },
    },
    (request, reply) =>
      write(app, request, reply, 201, async (act) => rowOf(await issueSheet(act, request.params.id, request.body, maker(request)))),
  )
  app.post(
    '/certificates/:id/corrections',
    {
      schema: {
        summary: 'Replace a sheet by a corrected one',
        params: idParams,
        body: certificateCorrection,
        response: { 201: certificateRow, ...problemResponses },
      },
    },
    (request, reply) =>
      write(app, request, reply, 201, async (act) => rowOf(await correctSheet(act, request.params.id, request.body, maker(request)))),
  )
  app.post(
    '/certificates/:id/void',
    {
      schema: {
        summary: 'Make a sheet void; its number stays taken',
        params: idParams,
        body: certificateVoid,
        response: { 200: certificateRow, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, async (act) => rowOf(await voidSheet(act, request.params.id, request.body))),
  )
  app.get(
    '/certificates/:id/paper.pdf',
    {
      schema: {
        summary: 'The sheet as PDF, drawn once and kept',
        params: idParams,
        querystring: paperQuery,
        produces: ['application/pdf'],
        response: { 200: z.any().describe('PDF'), ...problemResponses },
      },
    },
    async (request, reply) => {
      const { number, pdf } = await paperOf(app, request.params.id, request.query.paper)
      return reply
        .type('application/pdf')
        .header('content-disposition', `inline; filename="sheet-${number}.pdf"`)
        .serializer((bytes: unknown) => bytes as string)
        .send(pdf)
    },
  )
}

/** Draws a sheet at first asking and keeps it; what befell it since makes it another drawing of the same data. */
async function paperOf(app: FastifyInstance, id: string, wanted: 'A4' | 'Letter' | undefined): Promise<{ number: string; pdf: Buffer }> {
  const [sheet, settings] = await Promise.all([sheetById(app.db.prisma, id), readSettings(app.db.prisma)])
  if (!sheet) throw notFound('This sheet')
  const size = wanted ?? settings.paper
  const paper = `${size}${sheet.void ? ' void' : sheet.replacedBy ? ' replaced' : ''}`
  const kept = await paperFile(app.db.prisma, id, paper)
  const found = kept === null ? null : await readKept(app.files, 'papers', kept, 'pdf')
  if (found) return { number: sheet.data.number, pdf: found }
  // Drawn for the first time, or its file is gone from the disk: the same data make the same bytes.
  const pdf = await renderCertificate(
    sheet.data,
    sheet.seal,
    size,
    standingOf(sheet, (at) => shopDay(at, settings.zone)),
  )
  const sha256 = sha256Of(pdf)
  await keepFile(app.files, 'papers', sha256, 'pdf', pdf)
  await keepPaper(app.db.prisma, { certificateId: id, paper, sha256, bytes: pdf.length, drawnAt: app.clock() })
  return { number: sheet.data.number, pdf }
}
