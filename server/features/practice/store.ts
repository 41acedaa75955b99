import type { PracticeLine, PracticeLines, PracticeMoveNew, PracticeScoreOut } from '#contract/practice.ts'
import type { PracticeCall, PracticeStep } from '#core/practice.ts'
import type { PracticeLevel } from '#core/practice-crank.ts'
import type { PracticeMove } from '#core/practice-move.ts'
import type { Act } from '#server/plugins/act.ts'
import { idCursor, pageFrom, pageLength } from '#server/plugins/cursor.ts'
import type { Db, Tx } from '#server/plugins/database.ts'

type Reader = Tx | Db['prisma']

/** A run as it is kept. The seed stays in the server: whoever has it has the faults. */
export interface KeptRun {
  id: string
  personId: string
  by: string
  seed: number
  level: PracticeLevel
  startedAt: string
  endedAt: string | null
  called: PracticeCall | null
  steps: (PracticeStep & { n: number; at: string })[]
}

const RUN = {
  id: true,
  personId: true,
  seed: true,
  level: true,
  startedAt: true,
  endedAt: true,
  called: true,
  moves: {
    select: { n: true, action: true, half: true, atDeg: true, how: true, saidLeftMm: true, saidRightMm: true, recordedAt: true },
    orderBy: { n: 'asc' },
  },
} as const

export async function readRun(db: Reader, id: string): Promise<KeptRun | null> {
  const row = await db.practiceRun.findUnique({ where: { id }, select: RUN })
  if (row === null) return null
  const person = await db.person.findUnique({ where: { id: row.personId }, select: { name: true } })
  return {
    id: row.id,
    personId: row.personId,
    by: person?.name ?? '',
    seed: Number(row.seed),
    level: row.level as PracticeLevel,
    startedAt: row.startedAt.toISOString(),
    endedAt: row.endedAt?.toISOString() ?? null,
    called: row.called as PracticeCall | null,
    steps: row.moves.map((move) => ({
      n: move.n,
      move: asMove(move),
      said: { leftTirMm: Number(move.saidLeftMm), rightTirMm: Number(move.saidRightMm) },
      at: move.recordedAt.toISOString(),
    })),
  }
}

/** The checks of the table hold that a blow has its web and its mark, and a squeeze or wedge neither. */
function asMove({ action, half, atDeg, how }: { action: string; half: string | null; atDeg: number | null; how: string }): PracticeMove {
  return (action === 'strike' ? { action, half, atDeg, how } : { action, how }) as PracticeMove
}

/** The run that a person has not put down. */
export async function openRunOf(db: Reader, personId: string): Promise<string | null> {
  const row = await db.practiceRun.findFirst({ where: { personId, endedAt: null }, select: { id: true } })
  return row?.id ?? null
}

export async function addRun(act: Act, run: { id: string; seed: number; level: PracticeLevel }): Promise<void> {
  const { id, seed, level } = run
  await act.tx.practiceRun.create({
    data: { id, personId: act.by.id, seed: BigInt(seed), level, startedAt: act.now },
    select: { id: true },
  })
}

export async function addMove(act: Act, runId: string, { n, move, said }: PracticeMoveNew): Promise<void> {
  const { action, how } = move
  const blow = move.action === 'strike' ? { half: move.half, atDeg: move.atDeg } : {}
  await act.tx.practiceMove.create({
    data: { runId, n, action, how, ...blow, saidLeftMm: said.leftTirMm, saidRightMm: said.rightTirMm, recordedAt: act.now },
    select: { n: true },
  })
}

/** Holds the run until the end of the act, so that two tablets do not put a move into it at once. */
export async function holdRun(act: Act, id: string): Promise<void> {
  await act.tx.$queryRaw`SELECT 1 AS held FROM practice_run WHERE id = ${id}::uuid FOR NO KEY UPDATE`
}

export async function endRun(act: Act, id: string, called: PracticeCall, score: PracticeScoreOut): Promise<void> {
  await act.tx.practiceRun.update({ where: { id }, data: { endedAt: act.now, called, score: { ...score } }, select: { id: true } })
}

/** Runs of one person, the last first. */
export async function listRuns(
  db: Reader,
  personId: string,
  asked: { after?: string | undefined; limit?: number | undefined },
): Promise<PracticeLines> {
  const after = idCursor(asked.after)
  const rows = await db.practiceRun.findMany({
    where: { personId, ...(after === null ? {} : { id: { lt: after } }) },
    select: { id: true, level: true, startedAt: true, endedAt: true, called: true, score: true },
    orderBy: { id: 'desc' },
    take: pageLength(asked.limit) + 1,
  })
  const lines = rows.map(
    (row): PracticeLine => ({
      id: row.id,
      level: row.level as PracticeLevel,
      startedAt: row.startedAt.toISOString(),
      ...(row.endedAt === null ? {} : { endedAt: row.endedAt.toISOString() }),
      ...(row.called === null ? {} : { called: row.called as PracticeCall }),
      ...(row.score === null ? {} : { score: row.score as PracticeScoreOut }),
    }),
  )
  return pageFrom(lines, asked.limit, (line) => line.id)
}
