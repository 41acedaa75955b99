import type { z } from 'zod'
import type { MoveNew, move } from '#contract/truing.ts'
import { momentOf } from '#server/features/events/store.ts'
import type { Act } from '#server/plugins/act.ts'
import type { Db, JsonColumn, Tx } from '#server/plugins/database.ts'
import { doneAt } from '#server/plugins/moments.ts'

type MoveShown = Omit<z.infer<typeof move>, 'came'>
export type EndSwings = { leftTirMm: number; rightTirMm: number }

export interface KeptMove {
  doneAt: string
  recordedAt: string
  shown: MoveShown
}

interface Row {
  id: string
  beforeId: string
  action: MoveShown['action']
  half: 'left' | 'right' | null
  atDeg: number | null
  force: 'light' | 'firm' | 'hard' | null
  asAdvised: boolean
  foretold: EndSwings | Record<string, never>
  by: string
  occurredAt: Date
  recordedAt: Date
}

/** All moves of a job in the order in which they were written down. */
export async function readMoves(db: Tx | Db['prisma'], jobId: string): Promise<KeptMove[]> {
  const rows = await db.$queryRaw<Row[]>`
    SELECT t.id, t.before_id AS "beforeId", t.action, t.half, t.at_deg::float8 AS "atDeg", t.force, t.as_advised AS "asAdvised",
      t.foretold, p.name AS by, t.occurred_at AS "occurredAt", t.recorded_at AS "recordedAt"
    FROM truing_move t JOIN person p ON p.id = t.person_id WHERE t.job_id = ${jobId}::uuid ORDER BY t.recorded_at, t.id`
  return rows.map(asKept)
}

function asKept({ half, atDeg, force, foretold, occurredAt, recordedAt, ...row }: Row): KeptMove {
  return {
    doneAt: doneAt({ occurredAt, recordedAt }),
    recordedAt: recordedAt.toISOString(),
    shown: {
      ...row,
      ...(half === null ? {} : { half }),
      ...(atDeg === null ? {} : { atDeg }),
      ...(force === null ? {} : { force }),
      ...('leftTirMm' in foretold ? { foretold: foretold as EndSwings } : {}),
      occurredAt: occurredAt.toISOString(),
    },
  }
}

export async function addMove(act: Act, jobId: string, made: MoveNew, foretold: EndSwings | null): Promise<string> {
  const { id, occurredAt, beforeId, action, half, atDeg, force, asAdvised } = made
  const row = await act.tx.truingMove.create({
    data: {
      jobId,
      beforeId,
      action,
      half: half ?? null,
      atDeg: atDeg ?? null,
      force: force ?? null,
      foretold: (foretold ?? {}) as JsonColumn,
      asAdvised,
      personId: act.by.id,
      occurredAt: momentOf(act, occurredAt),
      recordedAt: act.now,
      ...(id === undefined ? {} : { id }),
    },
    select: { id: true },
  })
  return row.id
}
