import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { problemResponses } from '#contract/errors.ts'
import {
  type CertificateMadeWith,
  instrumentCheckNew,
  instrumentPage,
  madeWith,
  madeWithCsvQuery,
  madeWithQuery,
} from '#contract/instrument-checks.ts'
import { instrument } from '#contract/instruments.ts'
import { idParams, LIMITS } from '#contract/primitives.ts'
import { readInstrument } from '#server/features/instruments/store.ts'
import { readSettings } from '#server/features/settings/store.ts'
import { type CsvColumn, sendCsv } from '#server/plugins/csv.ts'
import type { Db } from '#server/plugins/database.ts'
import { notFound } from '#server/plugins/errors.ts'
import { write } from '#server/plugins/idempotency.ts'
import { shopDay } from '#server/plugins/shop-day.ts'
import { checkInstrument } from './commands.ts'
import * as store from './store.ts'

const csv = z.file().describe('CSV') as unknown as z.ZodType<Buffer>

const MADE_WITH: readonly CsvColumn<CertificateMadeWith>[] = [
  { id: 'certificate', cell: (row) => row.number },
  { id: 'tag', cell: (row) => row.tag },
  { id: 'made_on', cell: (row) => row.issuedOn },
  { id: 'verdict', cell: (row) => row.verdict },
  { id: 'margin_mm', cell: (row) => row.marginMm },
  { id: 'stands', cell: (row) => row.stands },
]

/** What was found of an instrument, and the certificates that rest on its readings since its last good check. */
export const instrumentCheckRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/instruments/:id',
    { schema: { summary: 'An instrument and its checks', params: idParams, response: { 200: instrumentPage, ...problemResponses } } },
    async (request) => {
      const { one } = await found(app.db, request.params.id, app.clock())
      return { instrument: one, checks: await store.checksOf(app.db.prisma, one.id) }
    },
  )
  app.post(
    '/instruments/:id/checks',
    {
      schema: {
        summary: 'Write down a check, the zero of the day, or a fall',
        params: idParams,
        body: instrumentCheckNew,
        response: { 201: instrument, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => checkInstrument(act, request.params.id, request.body)),
  )
  app.get(
    '/instruments/:id/certificates',
    {
      schema: {
        summary: 'Certificates made with an instrument since its last good check',
        params: idParams,
        querystring: madeWithQuery,
        response: { 200: madeWith, ...problemResponses },
      },
    },
    async (request) => {
      const { one, zone } = await found(app.db, request.params.id, app.clock())
      const span = await spanOf(app.db, one.id, request.query.fault ?? one.doubt?.fault)
      const [n, page] = await Promise.all([
        store.countMadeWith(app.db.prisma, one.id, span),
        store.listMadeWith(app.db.prisma, one.id, span, { ...request.query, zone }),
      ])
      return { since: span.since?.toISOString() ?? null, until: span.until?.toISOString() ?? null, n, ...page }
    },
  )
  app.get(
    '/instruments/:id/certificates.csv',
    {
      schema: {
        summary: 'Certificates made with an instrument since its last good check, as CSV',
        params: idParams,
        querystring: madeWithCsvQuery,
        response: { 200: { content: { 'text/csv': { schema: csv } } }, ...problemResponses },
      },
    },
    async (request, reply) => {
      const { one, zone } = await found(app.db, request.params.id, app.clock())
      const span = await spanOf(app.db, one.id, request.query.fault ?? one.doubt?.fault)
      return sendCsv(
        reply,
        { name: 'certificates-made-with', separator: request.query.separator },
        MADE_WITH,
        allMadeWith(app.db, one.id, span, zone),
      )
    },
  )
}

async function found(db: Db, id: string, now: Date) {
  const { zone } = await readSettings(db.prisma)
  const one = await readInstrument(db.prisma, id, shopDay(now, zone))
  if (one === null) throw notFound('This instrument')
  return { one, zone }
}

async function spanOf(db: Db, instrumentId: string, fault: string | undefined): Promise<store.Doubtful> {
  const span = await store.doubtfulSpan(db.prisma, instrumentId, fault)
  if (span === null) throw notFound('This check or fall')
  return span
}

async function* allMadeWith(db: Db, instrumentId: string, span: store.Doubtful, zone: string): AsyncGenerator<CertificateMadeWith> {
  let after: string | undefined
  do {
    const page = await store.listMadeWith(db.prisma, instrumentId, span, { after, limit: LIMITS.listPageMost, zone })
    yield* page.rows
    after = page.next ?? undefined
  } while (after !== undefined)
}
