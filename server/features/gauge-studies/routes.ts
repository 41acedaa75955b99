import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { problemResponses } from '#contract/errors.ts'
import { gaugeReadingNew, gaugeStudies, gaugeStudy, gaugeStudyNew, studiesQuery, studyBecause } from '#contract/gauge-studies.ts'
import { csvSeparator } from '#contract/office-cranks.ts'
import { idParams } from '#contract/primitives.ts'
import { type CsvColumn, sendCsv } from '#server/plugins/csv.ts'
import { Problem } from '#server/plugins/errors.ts'
import { write } from '#server/plugins/idempotency.ts'
import { rowOf } from './answer.ts'
import { giveUpStudy, readPart, startStudy, strikeOwnReading, studyAs } from './commands.ts'
import { listStudies } from './store.ts'

const csv = z.file().describe('CSV') as unknown as z.ZodType<Buffer>

const READINGS: readonly CsvColumn<{ part: string; person: string; round: number; mm: number }>[] = [
  { id: 'part', cell: (row) => row.part },
  { id: 'person', cell: (row) => row.person },
  { id: 'round', cell: (row) => row.round },
  { id: 'reading_mm', cell: (row) => row.mm },
]

/** Blind repeat readings by several people: the server shows nobody's until all are in. */
export const gaugeStudyRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/gauge-studies',
    { schema: { summary: 'Gauge studies, newest first', querystring: studiesQuery, response: { 200: gaugeStudies, ...problemResponses } } },
    async (request) => {
      const { rows, next } = await listStudies(app.db.prisma, request.query)
      return { rows: rows.map(rowOf), next }
    },
  )
  app.post(
    '/gauge-studies',
    { schema: { summary: 'Start a gauge study', body: gaugeStudyNew, response: { 201: gaugeStudy, ...problemResponses } } },
    (request, reply) => write(app, request, reply, 201, (act) => startStudy(act, request.body)),
  )
  app.get(
    '/gauge-studies/:id',
    {
      schema: {
        summary: 'A gauge study: what you read next, and once all is in what it comes to',
        params: idParams,
        response: { 200: gaugeStudy, ...problemResponses },
      },
    },
    (request) => studyAs(app.db.prisma, request.params.id, request.caller().id),
  )
  app.post(
    '/gauge-studies/:id/readings',
    {
      schema: {
        summary: 'Your reading of the part that comes next',
        params: idParams,
        body: gaugeReadingNew,
        response: { 201: gaugeStudy, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => readPart(act, request.params.id, request.body)),
  )
  app.post(
    '/gauge-studies/:id/give-up',
    {
      schema: {
        summary: 'Give a study up whose readings will not all come in',
        params: idParams,
        body: studyBecause,
        response: { 200: gaugeStudy, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => giveUpStudy(act, request.params.id, request.body.because)),
  )
  app.post(
    '/gauge-readings/:id/strike',
    {
      schema: {
        summary: 'Strike out a reading of your own that was mistyped',
        params: idParams,
        body: studyBecause,
        response: { 200: gaugeStudy, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => strikeOwnReading(act, request.params.id, request.body.because)),
  )
  app.get(
    '/gauge-studies/:id/readings.csv',
    {
      schema: {
        summary: 'The readings of a study that are all in, as CSV',
        params: idParams,
        querystring: z.strictObject({ separator: csvSeparator }),
        response: { 200: { content: { 'text/csv': { schema: csv } } }, ...problemResponses },
      },
    },
    async (request, reply) => {
      const { result, parts, people } = await studyAs(app.db.prisma, request.params.id, request.caller().id)
      if (result === undefined) throw new Problem('conflict-state', 'The readings are hidden until all are in.')
      const names = new Map(people.map((one) => [one.id, one.name]))
      const rows = result.readings.map(({ part, personId, round, mm }) => ({
        part: parts[part - 1] ?? '',
        person: names.get(personId) ?? '',
        round,
        mm,
      }))
      return sendCsv(reply, { name: 'gauge-study', separator: request.query.separator }, READINGS, rows)
    },
  )
}
