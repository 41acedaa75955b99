import type { FastifyReply, FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { problemResponses } from '#contract/errors.ts'
import { comebackQuery, officeComebacks, officeRunning, runningQuery } from '#contract/office-came-back.ts'
import { cranksCsvQuery, cranksQuery, csvSeparator, officeCranks } from '#contract/office-cranks.ts'
import { earningQuery, officeEarning } from '#contract/office-earns.ts'
import { firstCheckQuery, officeFirstCheck } from '#contract/office-first-check.ts'
import { flowQuery, officeFlow } from '#contract/office-flow.ts'
import { type OfficeToday, officeToday } from '#contract/office-today.ts'
import { CRANK_RULES, CRANK_TITLES } from '#core/office-rules.ts'
import { type CsvColumn, type CsvSeparator, sendCsv } from '#server/plugins/csv.ts'
import { allCranks, countCranks, listCranks } from './cranks.ts'
import { windowOf } from './filters.ts'
import { csvOf } from './links.ts'
import { readComebacks, readEarning, readFirstCheck, readFlow, readRunning, readToday, stand } from './read.ts'
import * as tables from './tables.ts'

const csv = z.file().describe('CSV') as unknown as z.ZodType<Buffer>
const csvAnswers = { 200: { content: { 'text/csv': { schema: csv } } }, ...problemResponses }
const separator = { separator: csvSeparator }
const onlySeparator = z.strictObject(separator)
/** Rows of a file whose table is made in one piece. */
const FILE_ROWS = 10_000

/** Owner only: what stands in the shop today, and its figures, each with its rule, its cranks and its table. */
export const officeRoutes: FastifyPluginAsyncZod = async (app) => {
  const now = (request: FastifyRequest) => stand(app.db, app.clock(), request.caller().shop)
  function file<Row>(
    reply: FastifyReply,
    name: string,
    columns: readonly CsvColumn<Row>[],
    rows: Iterable<Row> | AsyncIterable<Row>,
    by?: CsvSeparator,
  ) {
    return sendCsv(reply, { name, separator: by }, columns, rows)
  }

  app.get(
    '/office',
    { schema: { summary: 'What stands in the shop today', response: { 200: officeToday, ...problemResponses } } },
    async (request) => readToday(app.db, await now(request)),
  )
  app.get(
    '/office/flow',
    {
      schema: {
        summary: 'In and out by week, and days in the house',
        querystring: flowQuery,
        response: { 200: officeFlow, ...problemResponses },
      },
    },
    async (request) => readFlow(app.db, await now(request), request.query),
  )
  app.get(
    '/office/first-check',
    { schema: { summary: 'True at first check', querystring: firstCheckQuery, response: { 200: officeFirstCheck, ...problemResponses } } },
    async (request) => readFirstCheck(app.db, await now(request), request.query),
  )
  app.get(
    '/office/comebacks',
    {
      schema: {
        summary: 'What came back of what went home',
        querystring: comebackQuery,
        response: { 200: officeComebacks, ...problemResponses },
      },
    },
    async (request) => readComebacks(app.db, await now(request), request.query),
  )
  app.get(
    '/office/running',
    {
      schema: {
        summary: 'Still running, by hours ridden',
        querystring: runningQuery,
        response: { 200: officeRunning, ...problemResponses },
      },
    },
    async (request) => readRunning(app.db, await now(request), request.query),
  )
  app.get(
    '/office/earning',
    {
      schema: {
        summary: 'What earns: hours against price by engine',
        querystring: earningQuery,
        response: { 200: officeEarning, ...problemResponses },
      },
    },
    async (request) => readEarning(app.db, await now(request), request.query),
  )
  app.get(
    '/office/cranks',
    { schema: { summary: 'The cranks behind a figure', querystring: cranksQuery, response: { 200: officeCranks, ...problemResponses } } },
    async (request) => {
      const { after, limit, ...asked } = request.query
      const at = await now(request)
      const window = windowOf(asked.figure, asked, at.today)
      const [page, n] = await Promise.all([
        listCranks(app.db, asked.figure, { ...asked, after, limit }, at),
        countCranks(app.db, asked.figure, asked, at),
      ])
      const { figure, ...filters } = asked
      const rule = CRANK_RULES[figure]
      return { figure, title: CRANK_TITLES[figure], rule, n, csv: csvOf('cranks', { figure, ...filters }), ...(window ?? {}), ...page }
    },
  )

  app.get(
    '/office/cranks.csv',
    { schema: { summary: 'The cranks behind a figure, as CSV', querystring: cranksCsvQuery, response: csvAnswers } },
    async (request, reply) => {
      const { separator: by, ...asked } = request.query
      const at = await now(request)
      windowOf(asked.figure, asked, at.today)
      return file(reply, `cranks-${asked.figure}`, tables.CRANKS, allCranks(app.db, asked.figure, asked, at), by)
    },
  )
  function todayTable<Row>(name: string, summary: string, columns: readonly CsvColumn<Row>[], rowsOf: (today: OfficeToday) => Row[]) {
    app.get(
      `/office/${name}.csv`,
      { schema: { summary: `${summary}, as CSV`, querystring: onlySeparator, response: csvAnswers } },
      async (request, reply) => {
        const today = await readToday(app.db, await now(request), FILE_ROWS)
        return file(reply, name, columns, rowsOf(today), request.query.separator)
      },
    )
  }
  todayTable('late', 'What is late and why', tables.LATE, ({ late }) => late.rows)
  todayTable('promised', 'What is promised this week', tables.PROMISED, ({ promised }) => promised.rows)
  todayTable('waiting', 'What waits', tables.WAITING, ({ waiting }) => waiting.rows)
  todayTable('ready', 'What is ready and not fetched', tables.READY, ({ ready }) => ready.rows)
  todayTable('instruments', 'Instruments whose check is due', tables.INSTRUMENTS, ({ instruments }) => instruments.rows)

  app.get(
    '/office/flow.csv',
    { schema: { summary: 'In and out by week, as CSV', querystring: flowQuery.extend(separator), response: csvAnswers } },
    async (request, reply) => {
      const { weeks } = await readFlow(app.db, await now(request), request.query)
      return file(reply, 'flow', tables.FLOW, weeks, request.query.separator)
    },
  )
  app.get(
    '/office/first-check.csv',
    { schema: { summary: 'True at first check, as CSV', querystring: firstCheckQuery.extend(separator), response: csvAnswers } },
    async (request, reply) => {
      const figure = await readFirstCheck(app.db, await now(request), request.query)
      return file(reply, 'first-check', tables.FIRST_CHECK, tables.firstCheckRows(figure), request.query.separator)
    },
  )
  app.get(
    '/office/comebacks.csv',
    { schema: { summary: 'What came back, as CSV', querystring: comebackQuery.extend(separator), response: csvAnswers } },
    async (request, reply) => {
      const figure = await readComebacks(app.db, await now(request), request.query, FILE_ROWS)
      return file(reply, 'comebacks', tables.COMEBACKS, tables.comebackRows(figure), request.query.separator)
    },
  )
  app.get(
    '/office/running.csv',
    { schema: { summary: 'Still running, as CSV', querystring: runningQuery.extend(separator), response: csvAnswers } },
    async (request, reply) => {
      const figure = await readRunning(app.db, await now(request), request.query)
      return file(reply, 'running', tables.RUNNING, tables.runningRows(figure), request.query.separator)
    },
  )
  app.get(
    '/office/earning.csv',
    { schema: { summary: 'What earns, as CSV', querystring: earningQuery.extend(separator), response: csvAnswers } },
    async (request, reply) => {
      const figure = await readEarning(app.db, await now(request), request.query)
      return file(reply, 'earning', tables.EARNING, tables.earningRows(figure), request.query.separator)
    },
  )
}
