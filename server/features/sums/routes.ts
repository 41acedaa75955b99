import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { chartIn, chartOut } from '#contract/sum-chart.ts'
import { compareIn, compareOut } from '#contract/sum-compare.ts'
import { doubtIn, doubtOut } from '#contract/sum-doubt.ts'
import { fitIn, fitOut } from '#contract/sum-fit.ts'
import { gaugeIn, gaugeOut } from '#contract/sum-gauge.ts'
import { learningIn, learningOut } from '#contract/sum-learning.ts'
import { oddOneOutIn, oddOneOutOut } from '#contract/sum-odd-one-out.ts'
import { rateIn, rateOut } from '#contract/sum-rate.ts'
import { survivalIn, survivalOut } from '#contract/sum-survival.ts'
import { truingIn, truingOut } from '#contract/sum-truing.ts'
import { widthIn, widthOut } from '#contract/sum-width.ts'
import type { Answer } from '#core/answer.ts'
import { chart } from '#core/chart.ts'
import { compare } from '#core/compare.ts'
import { doubt } from '#core/doubt.ts'
import { fit as pressFit } from '#core/fit.ts'
import { gauge } from '#core/gauge.ts'
import { learning } from '#core/learning.ts'
import { SUMS_BODY_BYTES, SURVIVAL_BODY_BYTES, SURVIVAL_ITEMS_MOST } from '#core/limits.ts'
import { oddOneOut } from '#core/odd-one-out.ts'
import { rate } from '#core/rate.ts'
import { survival } from '#core/survival.ts'
import { truing } from '#core/truing.ts'
import { width } from '#core/width.ts'
import { cannotBeWorkedOut, fieldFault } from '#server/plugins/errors.ts'

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
  app.post(
    '/sums/doubt',
    {
      bodyLimit,
      schema: { summary: 'What a reading is worth', body: doubtIn, response: { 200: doubtOut, ...problemResponses } },
    },
    async (request) => workedOut(doubt(request.body)),
  )
  app.post(
    '/sums/survival',
    {
      bodyLimit: SURVIVAL_BODY_BYTES,
      preValidation: async (request) => notTooMany(request.body),
      schema: { summary: 'How long things last', body: survivalIn, response: { 200: survivalOut, ...problemResponses } },
    },
    async (request) => workedOut(survival(request.body)),
  )
  app.post(
    '/sums/rate',
    {
      bodyLimit,
      schema: { summary: 'How often something fails', body: rateIn, response: { 200: rateOut, ...problemResponses } },
    },
    async (request) => workedOut(rate(request.body)),
  )
  app.post(
    '/sums/compare',
    {
      bodyLimit,
      schema: { summary: 'Whether two sides fail alike', body: compareIn, response: { 200: compareOut, ...problemResponses } },
    },
    async (request) => workedOut(compare(request.body)),
  )
  app.post(
    '/sums/chart',
    {
      bodyLimit,
      schema: { summary: 'Whether a run of values is steady', body: chartIn, response: { 200: chartOut, ...problemResponses } },
    },
    async (request) => workedOut(chart(request.body)),
  )
  app.post(
    '/sums/gauge',
    {
      bodyLimit,
      schema: {
        summary: 'What a gauge and its people add to the scatter',
        body: gaugeIn,
        response: { 200: gaugeOut, ...problemResponses },
      },
    },
    async (request) => workedOut(gauge(request.body)),
  )
  app.post(
    '/sums/odd-one-out',
    {
      bodyLimit,
      schema: { summary: 'Which value stands apart', body: oddOneOutIn, response: { 200: oddOneOutOut, ...problemResponses } },
    },
    async (request) => workedOut(oddOneOut(request.body)),
  )
}

function workedOut<Value>(answer: Answer<Value>): Value {
  if (!answer.ok) throw cannotBeWorkedOut(answer.reason, answer.detail)
  return answer.value
}

/** A list of millions is told so at once, before each of its items is looked at. */
function notTooMany(body: unknown): void {
  const items = typeof body === 'object' && body !== null && 'items' in body ? body.items : undefined
  if (Array.isArray(items) && items.length > SURVIVAL_ITEMS_MOST) throw fieldFault('/items', 'too_big', `At most ${SURVIVAL_ITEMS_MOST}.`)
}
