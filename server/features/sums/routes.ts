import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { fitIn, fitOut, learningIn, learningOut, truingIn, truingOut, widthIn, widthOut } from '#contract/sums.ts'
import type { Answer } from '#core/answer.ts'
import { fit as pressFit } from '#core/fit.ts'
import { learning } from '#core/learning.ts'
import { SUMS_BODY_BYTES } from '#core/limits.ts'
import { truing } from '#core/truing.ts'
import { width } from '#core/width.ts'
import { cannotBeWorkedOut } from '#server/plugins/errors.ts'

const bodyLimit = SUMS_BODY_BYTES

/** The bench sums: nothing is read from the book and nothing is kept. */
export const sumsRoutes: FastifyPluginAsyncZod = async (app) => {
  app.post(
    '/sums/truing',
    {
      bodyLimit,
      schema: { summary: 'What is wrong with a crank and what to do', body: truingIn, response: { 200: truingOut, ...problemResponses } },
    },
    async (request) => workedOut(truing(request.body)),
  )
  app.post(
    '/sums/width',
    { bodyLimit, schema: { summary: 'The width to press to', body: widthIn, response: { 200: widthOut, ...problemResponses } } },
    async (request) => width(request.body),
  )
  app.post(
    '/sums/fit',
    { bodyLimit, schema: { summary: 'What a press fit holds', body: fitIn, response: { 200: fitOut, ...problemResponses } } },
    async (request) => pressFit(request.body),
  )
  app.post(
    '/sums/learning',
    {
      bodyLimit,
      schema: { summary: 'The learning line of a hand', body: learningIn, response: { 200: learningOut, ...problemResponses } },
    },
    async (request) => workedOut(learning(request.body)),
  )
}

function workedOut<Value>(answer: Answer<Value>): Value {
  if (!answer.ok) throw cannotBeWorkedOut(answer.reason, answer.detail)
  return answer.value
}
