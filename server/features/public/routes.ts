import type { FastifyInstance } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { lookedUp, lookUp, yourCrank } from '#contract/certificates.ts'
import { problemResponses } from '#contract/errors.ts'
import { id } from '#contract/primitives.ts'
import { parseCheckCode } from '#core/check-code.ts'
import { filesOf, printedNumber, type Sheet, sheetByFile, sheetByNumber, sheetsOfJob } from '#server/features/certificates/store.ts'
import { standingFigures } from '#server/features/engines/store.ts'
import { readerOf, readJob } from '#server/features/job-page/store.ts'
import { readBench } from '#server/features/measurements/store.ts'
import { failuresSince, noteFailure } from '#server/features/sessions/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { hashOf } from '#server/plugins/auth.ts'
import { notFound, Problem } from '#server/plugins/errors.ts'
import { readKept } from '#server/plugins/files.ts'
import { shopDay } from '#server/plugins/shop-day.ts'
import { lookedUpOf } from './look-up.ts'
import { jobOfLink, photoFile, photosOf } from './store.ts'
import { yourCrankOf } from './your-crank.ts'

/** Guessing limits: look-ups a minute from one address, and wrong codes a day for one number. */
export const LOOK_UPS = { aMinute: 10, aDay: 100 } as const

const token = z.string().min(20).max(100).describe('Secret of the link')
const byAddress = (max: number) => ({ rateLimit: { max, timeWindow: 60_000, keyGenerator: (request: { ip: string }) => request.ip } })

export const publicRoutes: FastifyPluginAsyncZod = async (app) => {
  app.addHook('onRequest', async (_request, reply) => {
    reply.header('x-robots-tag', 'noindex, nofollow')
  })
  app.get(
    '/public/crank/:token',
    {
      config: byAddress(60),
      schema: {
        summary: 'Where a crank is, for whoever has its link',
        params: z.strictObject({ token }),
        response: { 200: yourCrank, ...problemResponses },
      },
    },
    async (request) => {
      const jobId = await jobOfLink(app.db, hashOf(request.params.token))
      if (jobId === null) throw notFound('This link')
      return pageOf(app, jobId)
    },
  )
  app.get(
    '/public/crank/:token/photos/:id',
    {
      config: byAddress(300),
      schema: {
        summary: 'A photo of the crank, for whoever has its link',
        params: z.strictObject({ token, id }),
        produces: ['image/jpeg'],
        response: { 200: z.any().describe('JPEG'), ...problemResponses },
      },
    },
    async (request, reply) => {
      const jobId = await jobOfLink(app.db, hashOf(request.params.token))
      const file = jobId === null ? null : await photoFile(app.db, jobId, request.params.id)
      const picture = file === null ? null : await readKept(app.files, 'photos', file, 'jpg')
      if (picture === null) throw notFound('This photo')
      return reply
        .type('image/jpeg')
        .header('content-disposition', 'inline')
        .serializer((bytes: unknown) => bytes as string)
        .send(picture)
    },
  )
  app.post(
    '/public/check',
    {
      config: byAddress(LOOK_UPS.aMinute),
      schema: {
        summary: 'Check a certificate by number and code, or by the SHA-256 of its file',
        body: lookUp,
        response: { 200: lookedUp, ...problemResponses },
      },
    },
    async (request) => {
      const sheet = 'sha256' in request.body ? await sheetByFile(app.db.prisma, request.body.sha256) : await sheetByCode(app, request.body)
      if (!sheet)
        throw new Problem(
          'not-found',
          'No sheet of this shop has this number and code, or this very file was not drawn here. Look at the number and code again.',
        )
      const { zone } = await readSettings(app.db.prisma)
      return lookedUpOf(sheet, await filesOf(app.db.prisma, sheet.id), (at) => shopDay(at, zone))
    },
  )
}

async function sheetByCode(app: FastifyInstance, asked: { number: string; code: string }): Promise<Sheet | null> {
  const number = Number(asked.number.trim().replace(/^no\.?\s*/i, ''))
  const code = parseCheckCode(asked.code)
  if (!Number.isInteger(number) || number < 1 || number > 2_000_000_000 || !code.ok) return null
  const subject = `check ${printedNumber(number)}`
  const dayAgo = new Date(app.clock().getTime() - 86_400_000)
  if ((await failuresSince(app.db, subject, dayAgo)) >= LOOK_UPS.aDay)
    throw new Problem('rate-limited', 'This number was asked for with wrong codes too often today. Ask the shop.', {}, 3600)
  const sheet = await sheetByNumber(app.db.prisma, number)
  if (sheet?.checkCode === code.code) return sheet
  await noteFailure(app.db, subject, app.clock())
  return null
}

async function pageOf(app: FastifyInstance, jobId: string) {
  const db = app.db.prisma
  const settings = await readSettings(db)
  const [job, bench, sheets, photos] = await Promise.all([
    readJob(db, jobId, await readerOf(db, 'counter', app.clock())),
    readBench(db, jobId),
    sheetsOfJob(db, jobId),
    photosOf(app.db, jobId),
  ])
  if (!job) throw notFound('This link')
  const figures = await standingFigures(db, job.crank.engineId)
  const standing = sheets.find((sheet) => sheet.void === null && sheet.replacedBy === null)
  const money = new Intl.NumberFormat('en-GB', { style: 'currency', currency: settings.currency, currencyDisplay: 'code' })
  return yourCrankOf({
    shop: settings.shopName,
    job,
    bench,
    playLimitMm: figures.playLimitMm,
    sheet: standing && { number: printedNumber(standing.number), checkCode: standing.checkCode },
    photos,
    dayOf: (instant) => shopDay(new Date(instant), settings.zone),
    inWords: (minor) => money.format(minor / 10 ** (money.resolvedOptions().maximumFractionDigits ?? 2)),
  })
}
