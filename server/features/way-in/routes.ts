import type { FastifyRequest } from 'fastify'
import type { FastifyPluginAsyncZod } from 'fastify-type-provider-zod'
import { problemResponses } from '#contract/errors.ts'
import { wayIn, wayInQuery } from '#contract/way-in.ts'
import { faultsOfWayIn } from '#server/plugins/way-in.ts'

export const wayInRoutes: FastifyPluginAsyncZod = async (app) => {
  app.get(
    '/way-in',
    {
      schema: {
        summary: 'What is set wrong between this browser and the book: proxy headers, host, path',
        querystring: wayInQuery,
        response: { 200: wayIn, ...problemResponses },
      },
    },
    async (request) => ({
      faults: faultsOfWayIn({
        seen: request.query.seen,
        protocol: request.protocol,
        host: request.host,
        peer: request.socket.remoteAddress ?? 'the proxy’s address',
        forwardedProto: one(request, 'x-forwarded-proto'),
        forwardedPrefix: one(request, 'x-forwarded-prefix'),
        publicUrl: app.publicUrl,
      }),
    }),
  )
}

function one(request: FastifyRequest, header: string): string | undefined {
  const given = request.headers[header]
  return Array.isArray(given) ? given.join(', ') : given
}
