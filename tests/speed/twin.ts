/**
 * The same routes by hand, to measure the service against: Fastify without a plugin, a pool, statements that the database
 * has prepared, and JSON as it falls out. It looks up the session and answers the same body. It does not check or shape
 * what comes in or goes out, knows no roles, renews no session, counts no requests and sets no header; it works in UTC.
 * Reads send the statements of the service. The figures of the office are the service's own functions, called bare.
 */
import { createHash } from 'node:crypto'
import Fastify, { type FastifyInstance, type FastifyRequest } from 'fastify'
import type { JobRow } from '#contract/jobs.ts'
import { FIRST_SETTINGS } from '#contract/settings.ts'
import { daysLate } from '#core/calendar.ts'
import { stateWords } from '#core/steps.ts'
import { bookStatement } from '#server/features/book/store.ts'
import { findStatement } from '#server/features/find/store.ts'
import { readFlow, readToday, stand } from '#server/features/office/read.ts'
import { OWNER, type Person, readPage, type Twin, ZONE } from './twin-page.ts'
import { bookIn, takeReadings } from './twin-writes.ts'

const WHO = `SELECT p.id, p.name FROM session s JOIN person p ON p.id = s.person_id
  WHERE s.id_hash = $1 AND s.ended_at IS NULL AND s.ends_at > $2 AND p.barred_at IS NULL`
const PAGE = 50

export function buildTwin(twin: Twin): FastifyInstance {
  const { pool, clock } = twin
  const app = Fastify()
  const today = () => clock().toISOString().slice(0, 10)

  async function who(request: FastifyRequest): Promise<Person> {
    const token = /throwbook=([^;]+)/.exec(request.headers.cookie ?? '')?.[1] ?? ''
    const hash = createHash('sha256').update(token).digest()
    const { rows } = await pool.query<Person>({ name: 'who', text: WHO, values: [hash, clock()] })
    if (rows[0] === undefined) throw new Error('nobody is signed in')
    return rows[0]
  }

  app.get<{ Params: { id: string } }>('/api/jobs/:id', async (request) => {
    await who(request)
    return readPage(pool, request.params.id, today())
  })
  app.get('/api/jobs', async (request) => {
    await who(request)
    const { rows } = await pool.query<{ counts: object; rows: (JobRow & { number: number })[] | null }>({
      name: 'book',
      text: bookStatement('house', OWNER),
      values: [today(), ZONE, PAGE + 1, null, null],
    })
    const read = rows[0]?.rows ?? []
    const last = read[PAGE - 1]
    return {
      counts: rows[0]?.counts,
      today: today(),
      rows: read.slice(0, PAGE).map(({ number: _place, ...row }) => {
        const days = daysLate({ promised: row.promisedOn ?? null, today: today(), state: row.state })
        return { ...row, late: days > 0, ...(days > 0 ? { daysLate: days } : {}) }
      }),
      next: read.length > PAGE && last !== undefined ? `${last.promisedOn ?? '-'} ${last.id}` : null,
    }
  })
  app.get<{ Querystring: { q: string } }>('/api/find', async (request) => {
    await who(request)
    const { text, values } = findStatement(request.query.q, OWNER)
    const { rows } = await pool.query({ name: `find ${values.length}`, text, values })
    return {
      rows: rows.map(({ kind, state, says, ...hit }) => ({ ...hit, says: kind === null ? says : `${says} · ${stateWords(kind, state)}` })),
    }
  })
  app.get('/api/office', async (request) => {
    await who(request)
    return readToday({ pool }, await stand({ pool }, clock(), FIRST_SETTINGS))
  })
  app.get('/api/office/flow', async (request) => {
    await who(request)
    return readFlow({ pool }, await stand({ pool }, clock(), FIRST_SETTINGS), {})
  })
  app.post('/api/jobs', async (request, reply) => {
    const by = await who(request)
    reply.code(201)
    return bookIn(twin, by, request)
  })
  app.post<{ Params: { id: string } }>('/api/jobs/:id/measurements', async (request, reply) => {
    const by = await who(request)
    reply.code(201)
    return takeReadings(twin, by, request, request.params.id)
  })
  return app
}
