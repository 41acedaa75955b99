import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { problemResponses } from '#contract/errors.ts'
import { liveQuery } from '#contract/live.ts'

const stream = z.string().describe('Server-sent events, UTF-8')

export const liveRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/live',
    {
      // A HEAD would open a stream that nobody reads.
      exposeHeadRoute: false,
      schema: {
        summary: 'Live updates: which things changed, as server-sent events',
        description:
          'A stream that stays open. An event without a name says that a thing changed; its id is its number in the audit chain and its data is {"entity", "id", "jobId" where there is one, "seq"}, never a figure, a name or a price: ask for the thing itself. `here` opens the stream with the last number there is. `all` means that too much was missed: ask for everything again. `beat` comes every 15 s after a comment line. `end` says why the server ends the stream: "signed-out", "changed" (the role) or "closing". Send Last-Event-ID (or `after`) to hear what was missed. Each role hears of what it may see: the bench hears nothing of customers. The stream does not count as use of the session.',
        querystring: liveQuery,
        response: { 200: { description: 'The stream', content: { 'text/event-stream': { schema: stream } } }, ...problemResponses },
      },
    },
    async (request, reply) => {
      await app.live.open(request, reply, lastHeard(request.headers['last-event-id']) ?? request.query.after)
    },
  )
}

/** What the browser sends by itself when it comes back. Anything but a number is none. */
function lastHeard(header: string | string[] | undefined): number | undefined {
  return typeof header === 'string' && /^\d{1,15}$/.test(header) ? Number(header) : undefined
}
