import type { z } from 'zod'
import type { MoveNew, move } from '#contract/truing.ts'
import type { Joint } from '#core/crank-build.ts'
import { Prisma } from '#prisma/client/client.ts'
import { momentOf } from '#server/features/events/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { ask } from '#server/plugins/database.ts'
import { doneAt, type JsonRow } from '#server/plugins/moments.ts'

type MoveShown = Omit<z.infer<typeof move>, 'came'>
export type EndSwings = { leftTirMm: number; rightTirMm: number }

export interface KeptMove {
  personId: string
  doneAt: string
  recordedAt: string
  shown: MoveShown
}

interface Row {
  id: string
  joint: Joint | null
  beforeId: string
  action: MoveShown['action']
  half: 'left' | 'right' | null
  atDeg: number | null
  force: 'light' | 'firm' | 'hard' | null
  asAdvised: boolean
  foretold: EndSwings | Record<string, never>
  by: string
  personId: string
  occurredAt: Date
  recordedAt: Date
}

/** Moves out of a table or statement. */
const movesIn = (from: Prisma.Sql) => Prisma.sql`
  SELECT t.id, t.joint, t.before_id AS "beforeId", t.action, t.half, t.at_deg::float8 AS "atDeg", t.force, t.as_advised AS "asAdvised",
    t.foretold, p.name AS by, t.person_id AS "personId", t.occurred_at AS "occurredAt", t.recorded_at AS "recordedAt"
  FROM ${from} t JOIN person p ON p.id = t.person_id`

const MOVES = movesIn(Prisma.sql`truing_move`)

/** All moves of the job aliased j in the order in which they were written down, for movesFrom. */
export const MOVES_OF_JOB = Prisma.sql`(SELECT json_agg(x ORDER BY x."recordedAt", x.id) FROM (${MOVES} WHERE t.job_id = j.id) x)`

export type JsonMove = JsonRow<Row>

export function movesFrom(rows: readonly JsonMove[] | null): KeptMove[] {
  return (rows ?? []).map((row) => asKept({ ...row, occurredAt: new Date(row.occurredAt), recordedAt: new Date(row.recordedAt) }))
}

function asKept({ joint, half, atDeg, force, foretold, personId, occurredAt, recordedAt, ...row }: Row): KeptMove {
  return {
    personId,
    doneAt: doneAt({ occurredAt, recordedAt }),
    recordedAt: recordedAt.toISOString(),
    shown: {
      ...row,
      ...(joint === null ? {} : { joint }),
      ...(half === null ? {} : { half }),
      ...(atDeg === null ? {} : { atDeg }),
      ...(force === null ? {} : { force }),
      ...('leftTirMm' in foretold ? { foretold: foretold as EndSwings } : {}),
      occurredAt: occurredAt.toISOString(),
    },
  }
}

/** JSON of this kind is sent as text: on its way through Prisma a figure can lose its last digit. */
export async function addMove(act: Act, jobId: string, made: MoveNew, foretold: EndSwings | null): Promise<KeptMove> {
  const { id = act.newId(), occurredAt, beforeId, action, joint = null, half = null, atDeg = null, force = null, asAdvised } = made
  const [row] = await ask<Row>(
    act.tx,
    Prisma.sql`
    WITH t AS (INSERT INTO truing_move (id, job_id, joint, before_id, action, half, at_deg, force, foretold, as_advised, person_id, occurred_at, recorded_at)
      VALUES (${id}::uuid, ${jobId}::uuid, ${joint}, ${beforeId}::uuid, ${action}, ${half}, ${atDeg}::float8::numeric, ${force}, ${JSON.stringify(foretold ?? {})}::jsonb,
        ${asAdvised}, ${act.by.id}::uuid, ${momentOf(act, occurredAt)}, ${act.now}) RETURNING *)
    ${movesIn(Prisma.sql`t`)}`,
  )
  if (!row) throw new Error('a move that was just written is not there')
  return asKept(row)
}
