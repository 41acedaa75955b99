import type { z } from 'zod'
import type { found } from '#contract/find.ts'
import type { Role } from '#contract/people.ts'
import { findWords } from '#core/find-text.ts'
import { stateWords } from '#core/steps.ts'
import { parseTag } from '#core/tag.ts'
import { Prisma } from '#prisma/client/client.ts'
import { ask, type Db } from '#server/plugins/database.ts'

type Found = z.infer<typeof found>['rows'][number]

const JOBS_MOST = 12
const OTHERS_MOST = 6
/** How like a word has to be to one in the book, 0 to 1, where nothing holds it as typed. */
const LIKENESS = 0.4
/** Shorter words are like too many others. */
const ALIKE_FROM = 4
const RUNNING_NUMBER = /^\d{1,7}$/

interface Asked {
  /** Words that all have to be found, the longest first: it is the one that narrows most. */
  words: string[]
  /** Running number of a tag, where that is what was typed. */
  number: number | null
  role: Role
}

interface Hit extends Omit<Found, 'says'> {
  says: string
  kind: Parameters<typeof stateWords>[0] | null
  state: Parameters<typeof stateWords>[1] | null
}

function askedOf(typed: string, role: Role): Asked {
  const words = findWords(typed).sort((one, other) => other.length - one.length)
  return { words, number: tagNumberIn(typed), role }
}

/** Answers what holds all the words as typed. */
export function findStatement(typed: string, role: Role): Prisma.Sql {
  return exactly(askedOf(typed, role))
}

/** Jobs first, then customers, then model sheets. The bench finds by tag, number and model, and is told no names. */
export async function find(db: Db, typed: string, role: Role): Promise<Found[]> {
  const asked = askedOf(typed, role)
  if (asked.words.length === 0) return []
  const exact = await ask<Hit>(db.prisma, exactly(asked))
  if (exact.length > 0) return exact.map(asFound)
  return (await alike(db, asked)).map(asFound)
}

function tagNumberIn(typed: string): number | null {
  const tag = parseTag(typed)
  if (tag.ok) return tag.number
  return RUNNING_NUMBER.test(typed.trim()) ? Number(typed.trim()) : null
}

function asFound({ kind, state, says, ...hit }: Hit): Found {
  return { ...hit, says: kind === null || state === null ? says : `${says} · ${stateWords(kind, state)}` }
}

const IN_THE_HOUSE_FIRST = Prisma.sql`j.state IN ('gone', 'given-back', 'scrapped'), j.number DESC`

/** Everything that holds all the words as typed. */
function exactly({ words, number, role }: Asked): Prisma.Sql {
  const bench = role === 'bench'
  const like = words.map((word) => `%${word}%`)
  const [first = ''] = like
  const isTag = Prisma.sql`(j.number = ${number}::int) IS TRUE`
  const holders = bench ? Prisma.sql`b.find_text, d.find_text` : Prisma.sql`b.find_text, d.find_text, o.find_text`
  // The longest word narrows by the indexes; only what it leaves is compared with all the words.
  const candidates = Prisma.sql`
    SELECT a.id FROM job a JOIN crank b ON b.id = a.crank_id WHERE b.find_text LIKE ${first}
    UNION SELECT a.id FROM job a JOIN crank b ON b.id = a.crank_id JOIN engine d ON d.id = b.engine_id WHERE d.find_text LIKE ${first}
    ${bench ? Prisma.empty : Prisma.sql`UNION SELECT a.id FROM job a JOIN customer o ON o.id = a.customer_id WHERE o.find_text LIKE ${first}`}`
  const all =
    like.length === 1
      ? Prisma.sql`true`
      : Prisma.sql`(SELECT concat_ws(' ', ${holders}) FROM crank b JOIN engine d ON d.id = b.engine_id JOIN customer o ON o.id = j.customer_id
          WHERE b.id = j.crank_id) LIKE ALL (${like}::text[])`
  return hits(role, {
    jobs: jobHits(
      role,
      Prisma.sql`${candidates} UNION SELECT a.id FROM job a WHERE a.number = ${number}::int`,
      Prisma.sql`${isTag} OR ${all}`,
      Prisma.sql`${isTag} DESC, ${IN_THE_HOUSE_FIRST}`,
    ),
    customers: customerHits(Prisma.sql`c.find_text LIKE ${first} AND c.find_text LIKE ALL (${like}::text[])`, Prisma.sql`c.find_text`),
    engines: engineHits(Prisma.sql`e.find_text LIKE ALL (${like}::text[])`, Prisma.sql`e.maker, e.code`),
  })
}

/** Where nothing holds it as typed: what comes near it, for a slip of the keys or a name heard on the phone. */
async function alike(db: Db, { words, role }: Asked): Promise<Hit[]> {
  const bench = role === 'bench'
  const whole = words.join(' ')
  if (whole.length < ALIKE_FROM) return []
  const candidates = Prisma.sql`SELECT a.id FROM job a JOIN crank b ON b.id = a.crank_id WHERE ${whole} <% b.find_text
    ${bench ? Prisma.empty : Prisma.sql`UNION SELECT a.id FROM job a JOIN customer o ON o.id = a.customer_id WHERE ${whole} <% o.find_text`}`
  const number = Prisma.sql`(SELECT word_similarity(${whole}, b.find_text) FROM crank b WHERE b.id = j.crank_id)`
  const name = Prisma.sql`(SELECT word_similarity(${whole}, o.find_text) FROM customer o WHERE o.id = j.customer_id)`
  const statement = hits(role, {
    jobs: jobHits(
      role,
      candidates,
      Prisma.sql`true`,
      Prisma.sql`${bench ? number : Prisma.sql`greatest(${number}, ${name})`} DESC, ${IN_THE_HOUSE_FIRST}`,
    ),
    customers: customerHits(Prisma.sql`${whole} <% c.find_text`, Prisma.sql`word_similarity(${whole}, c.find_text) DESC`),
    engines: engineHits(Prisma.sql`${whole} <% e.find_text`, Prisma.sql`word_similarity(${whole}, e.find_text) DESC`),
  })
  const [, rows] = await db.prisma.$transaction([
    // The index works with the threshold of the session, which is set for this transaction alone.
    db.prisma.$executeRaw`SELECT set_config('pg_trgm.word_similarity_threshold', ${String(LIKENESS)}, true)`,
    db.prisma.$queryRaw<Hit[]>(statement),
  ])
  return rows
}

function hits(role: Role, of: { jobs: Prisma.Sql; customers: Prisma.Sql; engines: Prisma.Sql }): Prisma.Sql {
  const customers = role === 'bench' ? Prisma.empty : Prisma.sql`UNION ALL (${of.customers})`
  return Prisma.sql`(${of.jobs}) ${customers} UNION ALL (${of.engines})`
}

/**
 * Of the jobs that a statement names, those of which something holds. Each is looked up by its id, however many there could
 * be; and the few are picked before their names are fetched.
 */
function jobHits(role: Role, candidates: Prisma.Sql, where: Prisma.Sql, order: Prisma.Sql): Prisma.Sql {
  const whose = role === 'bench' ? Prisma.sql`NULL` : Prisma.sql`c.name`
  return Prisma.sql`SELECT 'job' AS what, j.id, j.tag AS title, concat_ws(' · ', ${whose}, e.maker || ' ' || e.code, k.engine_number) AS says, j.kind, j.state
    FROM (SELECT j.id, j.tag, j.kind, j.state, j.crank_id, j.customer_id, row_number() OVER (ORDER BY ${order}) AS nth
      FROM (${candidates}) candidate CROSS JOIN LATERAL (SELECT * FROM job WHERE job.id = candidate.id OFFSET 0) j
      WHERE ${where} ORDER BY nth LIMIT ${JOBS_MOST}) j
    JOIN crank k ON k.id = j.crank_id JOIN engine e ON e.id = k.engine_id JOIN customer c ON c.id = j.customer_id ORDER BY j.nth`
}

function customerHits(where: Prisma.Sql, order: Prisma.Sql): Prisma.Sql {
  return Prisma.sql`SELECT 'customer', c.id, c.name, concat_ws(' · ', c.phone, c.mail), NULL, NULL
    FROM customer c WHERE c.merged_into_id IS NULL AND (${where}) ORDER BY ${order}, c.id LIMIT ${OTHERS_MOST}`
}

function engineHits(where: Prisma.Sql, order: Prisma.Sql): Prisma.Sql {
  return Prisma.sql`SELECT 'engine', e.id, e.maker || ' ' || e.code, CASE e.cycle WHEN '2T' THEN 'two-stroke' ELSE 'four-stroke' END, NULL, NULL
    FROM engine e WHERE ${where} ORDER BY ${order}, e.id LIMIT ${OTHERS_MOST}`
}
