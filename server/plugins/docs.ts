/** The OpenAPI 3.1 document, made from the same schemas that check what comes in and what goes out. */
import swagger from '@fastify/swagger'
import type { FastifyInstance } from 'fastify'
import { jsonSchemaTransform } from 'fastify-type-provider-zod'
import { z } from 'zod'
import { POLICY } from '#contract/policy.ts'

export async function installDocs(app: FastifyInstance): Promise<void> {
  await app.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Throwbook',
        version: '1',
        description:
          'The shop book of a workshop that rebuilds pressed-together crankshafts. Lengths in mm, angles in degrees unless the name says Rad, instants RFC 3339 in UTC, money in minor units. Every non-2xx answer is a problem document (RFC 9457). A POST that records something needs an Idempotency-Key; a change needs If-Match with the version seen.',
      },
      components: {
        securitySchemes: {
          session: { type: 'apiKey', in: 'cookie', name: 'throwbook', description: 'Session cookie, given by POST /api/session' },
        },
      },
    },
    transform: (given) => {
      const { schema, url } = jsonSchemaTransform(given)
      const { method } = given.route
      const access = POLICY[`${[method].flat()[0]} ${given.url}`]
      return {
        schema: {
          ...schema,
          security: access === 'public' ? [] : [{ session: [] }],
          ...(access === undefined || access === 'public' ? {} : { 'x-roles': access }),
        },
        url,
      }
    },
  })
}

export async function docsRoutes(app: FastifyInstance): Promise<void> {
  app.get(
    '/openapi.json',
    { schema: { summary: 'This document', response: { 200: z.record(z.string(), z.unknown()) } } },
    () => app.swagger() as unknown as Record<string, unknown>,
  )
}
