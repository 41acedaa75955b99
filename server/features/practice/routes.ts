import { randomInt } from 'node:crypto'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { practiceEnd, practiceLines, practiceMoveNew, practiceNew, practiceQuery, practiceRun } from '#contract/practice.ts'
import { idParams } from '#contract/primitives.ts'
import { readPerson } from '#server/features/people/store.ts'
import { notFound, Problem } from '#server/plugins/errors.ts'
import { write } from '#server/plugins/idempotency.ts'
import { endPractice, makePracticeMove, startPractice } from './commands.ts'
import { shownRun } from './shown.ts'
import { listRuns, readRun } from './store.ts'

const SEEDS = 2 ** 32

export const practiceRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/practice',
    {
      schema: {
        summary: 'Own practice cranks, the last first',
        querystring: practiceQuery,
        response: { 200: practiceLines, ...problemResponses },
      },
    },
    (request) => listRuns(app.db.prisma, request.caller().id, request.query),
  )
  app.post(
    '/practice',
    {
      schema: {
        summary: 'Take a practice crank: made up, its faults hidden',
        body: practiceNew,
        response: { 201: practiceRun, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => startPractice(act, request.body, randomInt(SEEDS))),
  )
  app.get(
    '/practice/:id',
    {
      schema: {
        summary: 'One practice crank; its faults once it is put down',
        params: idParams,
        response: { 200: practiceRun, ...problemResponses },
      },
    },
    async (request) => {
      const caller = request.caller()
      const run = await readRun(app.db.prisma, request.params.id)
      if (run === null || (run.personId !== caller.id && caller.role !== 'owner')) throw notFound('This practice crank')
      return shownRun(run)
    },
  )
  app.post(
    '/practice/:id/moves',
    {
      schema: {
        summary: 'Say what both ends will read, and make the move',
        params: idParams,
        body: practiceMoveNew,
        response: { 201: practiceRun, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 201, (act) => makePracticeMove(act, request.params.id, request.body)),
  )
  app.post(
    '/practice/:id/end',
    {
      schema: {
        summary: 'Call it true, call it one that no hand cures, or leave it',
        params: idParams,
        body: practiceEnd,
        response: { 200: practiceRun, ...problemResponses },
      },
    },
    (request, reply) => write(app, request, reply, 200, (act) => endPractice(act, request.params.id, request.body)),
  )
  app.get(
    '/people/:id/practice',
    {
      schema: {
        summary: 'Practice cranks of one person, for that person and the owner',
        params: idParams,
        querystring: practiceQuery,
        response: { 200: practiceLines, ...problemResponses },
      },
    },
    async (request) => {
      const { id } = request.params
      const caller = request.caller()
      if (caller.role !== 'owner' && caller.id !== id)
        throw new Problem('forbidden', 'Practice is seen by its own person and the owner only.')
      if ((await readPerson(app.db.prisma, id)) === null) throw notFound('This person')
      return listRuns(app.db.prisma, id, request.query)
    },
  )
}
