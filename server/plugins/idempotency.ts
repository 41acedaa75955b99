/**
 * A request that acts carries an Idempotency-Key. The key, a fingerprint of the request and the answer are stored in the
 * transaction of the effect: acknowledged means stored, and a repeat gets the stored answer with `Replayed: yes`.
 * After draft-ietf-httpapi-idempotency-key-header-07 (2025); no RFC yet.
 */
import { createHash } from 'node:crypto'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { canonicalJson } from '#core/canonical-json.ts'
import { type Act, asWire, type Caller, perform } from './act.ts'
import { ask, type Sql, sql } from './database.ts'
import { Problem } from './errors.ts'
import { versionFromIfMatch } from './etag.ts'

export const KEPT_DAYS = 30
const KEY = /^"?([\x21\x23-\x7e]{8,255}?)"?$/

interface Stored {
  fingerprint: string
  status: number
  body: unknown
}

interface Claim {
  mine: boolean
  stored: Stored | null
}

/** Tried again as a whole, like any other collision of two transactions; it then finds what the first one stored. */
class StoredMeanwhile extends Error {
  readonly code = '40001'
}

/**
 * Takes the key until the end of the act, and looks it up. Whoever takes it just as its first request ends may not see
 * what that one stored; they find it when they are tried again, see StoredMeanwhile.
 */
function claimOf(caller: string, key: string): Sql {
  return sql`SELECT pg_try_advisory_xact_lock(hashtextextended(${`${caller} ${key}`}, 0)) AS mine,
    (SELECT json_build_object('fingerprint', encode(i.fingerprint, 'hex'), 'status', i.status, 'body', i.body)
     FROM idempotency i WHERE i.caller = ${caller} AND i.key = ${key}) AS stored`
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
        const [claim] = await ask<Claim>(tx, claimOf(by.id, key))
        if (!claim?.mine)
          throw new Problem('idempotency-in-progress', 'The first request with this key is not finished. Ask again in a second.', {}, 1)
        const { stored } = claim
        if (stored) {
          if (stored.fingerprint !== fingerprint)
            throw new Problem('idempotency-mismatch', 'This key was used for another request. Make a new key for a new request.')
          replayed = stored
          return stored.body
        }
        const made = await run()
        // undefined fields do not exist on the wire, so they are dropped here as the serializer would.
        const body = made === undefined ? null : JSON.stringify(made)
        const kept = await ask(
          tx,
          sql`INSERT INTO idempotency (caller, key, fingerprint, status, body, created_at)
            VALUES (${by.id}, ${key}, decode(${fingerprint}, 'hex'), ${status}, ${body}::jsonb, ${app.clock()})
            ON CONFLICT DO NOTHING RETURNING key`,
        )
        if (kept.length === 0) throw new StoredMeanwhile()
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

function fingerprintOf(request: FastifyRequest): string {
  const parts = [request.method, request.routeOptions.url ?? '', request.params ?? {}, request.body ?? null]
  return createHash('sha256')
    .update(canonicalJson(asWire(parts)))
    .digest('hex')
}

/** Forgets keys that nobody will repeat any more. */
export async function forgetOldKeys(app: FastifyInstance): Promise<number> {
  const before = new Date(app.clock().getTime() - KEPT_DAYS * 86_400_000)
  const { count } = await app.db.prisma.idempotency.deleteMany({ where: { createdAt: { lt: before } } })
  return count
}
