/**
 * A request that acts carries an Idempotency-Key. The key, a fingerprint of the request and the answer are stored in the
 * transaction of the effect: acknowledged means stored, and a repeat gets the stored answer with `Replayed: yes`.
 * After draft-ietf-httpapi-idempotency-key-header-07 (2025); no RFC yet.
 */
import { createHash } from 'node:crypto'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { canonicalJson } from '#core/canonical-json.ts'
import { type Act, asWire, type Caller, perform } from './act.ts'
import type { JsonColumn } from './database.ts'
import { Problem } from './errors.ts'
import { versionFromIfMatch } from './etag.ts'

export const KEPT_DAYS = 30
const KEY = /^"?([\x21\x23-\x7e]{8,255}?)"?$/

interface Stored {
  fingerprint: Uint8Array
  status: number
  body: unknown
}

/** Does one act for a request and answers it; repeats of the same key are answered from the book. */
export async function write<Answer>(
  app: FastifyInstance,
  request: FastifyRequest,
  reply: FastifyReply,
  status: number,
  work: (act: Act) => Promise<Answer>,
  by: Caller = request.caller(),
): Promise<Answer> {
  const key = keyOf(request)
  const fingerprint = fingerprintOf(request)
  let replayed: Stored | undefined
  const answer = await perform(
    app.db,
    {
      by,
      now: app.clock(),
      requestId: request.id,
      expectedVersion: () => versionFromIfMatch(request.headers['if-match']),
      around: async (tx, run) => {
        if (key === undefined) return run()
        replayed = undefined
        const [claim] = await tx.$queryRaw<
          { mine: boolean }[]
        >`SELECT pg_try_advisory_xact_lock(hashtextextended(${`${by.id} ${key}`}, 0)) AS mine`
        if (!claim?.mine)
          throw new Problem('idempotency-in-progress', 'The first request with this key is not finished. Ask again in a second.', {}, 1)
        const stored = await tx.idempotency.findUnique({ where: { caller_key: { caller: by.id, key } } })
        if (stored) {
          if (!Buffer.from(stored.fingerprint).equals(fingerprint))
            throw new Problem('idempotency-mismatch', 'This key was used for another request. Make a new key for a new request.')
          replayed = stored
          return stored.body
        }
        const made = await run()
        // undefined fields do not exist on the wire, so they are dropped here as the serializer would.
        const body = made === undefined ? undefined : (asWire(made) as JsonColumn)
        await tx.idempotency.create({
          data: {
            caller: by.id,
            key,
            fingerprint: new Uint8Array(fingerprint),
            status,
            createdAt: app.clock(),
            ...(body === undefined ? {} : { body }),
          },
          select: { key: true },
        })
        return made
      },
    },
    work,
  )
  if (replayed) reply.header('replayed', 'yes')
  reply.code(replayed?.status ?? status)
  return answer
}

function keyOf(request: FastifyRequest): string | undefined {
  const given = request.headers['idempotency-key']
  if (given === undefined) {
    if (request.method === 'POST')
      throw new Problem('idempotency-key-missing', 'Send an Idempotency-Key (a UUID, say) so that a repeat does not do it twice.')
    return undefined
  }
  const key = typeof given === 'string' ? KEY.exec(given)?.[1] : undefined
  if (key === undefined) throw new Problem('validation', 'An Idempotency-Key has 8 to 255 printable characters.')
  return key
}

function fingerprintOf(request: FastifyRequest): Buffer {
  const parts = [request.method, request.routeOptions.url ?? '', request.params ?? {}, request.body ?? null]
  return createHash('sha256')
    .update(canonicalJson(asWire(parts)))
    .digest()
}

/** Forgets keys that nobody will repeat any more. */
export async function forgetOldKeys(app: FastifyInstance): Promise<number> {
  const before = new Date(app.clock().getTime() - KEPT_DAYS * 86_400_000)
  const { count } = await app.db.prisma.idempotency.deleteMany({ where: { createdAt: { lt: before } } })
  return count
}
