import type { EngineBuild } from '#contract/crank-build.ts'
import type { Engine, EngineFigure, EngineFigureName, EngineRow, FigureNew } from '#contract/engines.ts'
import { findWords, foldForFind } from '#core/find-text.ts'
import { Prisma } from '#prisma/client/client.ts'
import { type Act, mustStandAt } from '#server/plugins/act.ts'
import { idCursor, pageFrom, pageLength } from '#server/plugins/cursor.ts'
import { ask, type Db, type Tx } from '#server/plugins/database.ts'

export interface EngineColumns {
  maker: string
  code: string
  cycle: '2T' | '4T'
  surfaceLeft: string
  surfaceRight: string
  note: string | null
  build: EngineBuild | null
}

function findTextOf(columns: { maker: string; code: string }): string {
  return `${foldForFind(columns.maker)} ${foldForFind(columns.code)}`
}

interface FigureOfSheet extends Omit<EngineFigure, 'by' | 'note' | 'at'> {
  by: string | null
  note: string | null
  at: string
}

interface SheetRow extends Omit<Engine, 'note' | 'build' | 'figures' | 'earlier' | 'copiedFrom'> {
  note: string | null
  build: EngineBuild | null
  copiedFrom: string | null
  /** Every version of every figure, newest first. */
  written: FigureOfSheet[] | null
}

/** One model sheet: the figures that stand, and the earlier versions of those that were corrected. */
export async function readEngine(db: Tx | Db['prisma'], id: string): Promise<Engine | null> {
  const [row] = await db.$queryRaw<SheetRow[]>`
    SELECT e.id, e.maker, e.code, e.cycle, e.surface_left AS "surfaceLeft", e.surface_right AS "surfaceRight", e.note, e.build, e.version,
      (SELECT other.maker || ' ' || other.code FROM engine other WHERE other.id = e.copied_from) AS "copiedFrom",
      (SELECT json_agg(json_build_object('name', f.name, 'value', f.value, 'source', f.source, 'note', f.note, 'version', f.version,
         'at', f.at, 'by', p.name) ORDER BY f.at DESC, f.version DESC)
       FROM engine_figure f LEFT JOIN person p ON p.id = f.person_id WHERE f.engine_id = e.id) AS written
    FROM engine e WHERE e.id = ${id}::uuid`
  if (!row) return null
  const { written, note, build, copiedFrom, ...rest } = row
  const figures: EngineFigure[] = []
  const earlier: EngineFigure[] = []
  const standing = new Map<string, number>()
  for (const figure of written ?? []) standing.set(figure.name, Math.max(figure.version, standing.get(figure.name) ?? 0))
  for (const figure of written ?? []) (figure.version === standing.get(figure.name) ? figures : earlier).push(asFigure(figure))
  return {
    ...rest,
    ...(note === null ? {} : { note }),
    ...(build === null ? {} : { build }),
    ...(copiedFrom === null ? {} : { copiedFrom }),
    figures: figures.sort((one, other) => one.name.localeCompare(other.name, 'en')),
    earlier,
  }
}

function asFigure({ by, note, at, ...figure }: FigureOfSheet): EngineFigure {
  return { ...figure, at: new Date(at).toISOString(), ...(by === null ? {} : { by }), ...(note === null ? {} : { note }) }
}

/** The figures that stand on a sheet, by name, in mm. */
export async function standingFigures(db: Tx | Db['prisma'], engineId: string): Promise<StandingFigures> {
  const [row] = await db.$queryRaw<
    { figures: StandingFigures | null }[]
  >`SELECT ${standingFiguresOf(Prisma.sql`${engineId}::uuid`)} AS figures`
  return row?.figures ?? {}
}

export type StandingFigures = Partial<Record<EngineFigureName, number>>

/** The same within a statement that reads them along with something else; null where a sheet has none. */
export function standingFiguresOf(engineId: Prisma.Sql): Prisma.Sql {
  return Prisma.sql`(SELECT json_object_agg(f.name, f.value) FROM (
    SELECT DISTINCT ON (name) name, value::float8 AS value FROM engine_figure WHERE engine_id = ${engineId} ORDER BY name, version DESC) f)`
}

function figureThatStands(name: EngineFigureName): Prisma.Sql {
  return Prisma.sql`(SELECT f.value FROM engine_figure f WHERE f.engine_id = e.id AND f.name = ${name} ORDER BY f.version DESC LIMIT 1)`
}

export async function listEngines(
  db: Db,
  asked: { q?: string | undefined; after?: string | undefined; limit?: number | undefined },
): Promise<{ rows: EngineRow[]; next: string | null }> {
  const after = idCursor(asked.after)
  const like = findWords(asked.q ?? '').map((word) => `%${word}%`)
  const rows = await db.prisma.$queryRaw<(Omit<EngineRow, 'strokeMm' | 'widthMm'> & { strokeMm: number | null; widthMm: number | null })[]>`
    SELECT e.id, e.maker, e.code, e.cycle, ${figureThatStands('strokeMm')}::float8 AS "strokeMm",
      ((${figureThatStands('widthMinMm')} + ${figureThatStands('widthMaxMm')}) / 2)::float8 AS "widthMm",
      coalesce(here.cranks, 0) AS "cranksHere"
    FROM engine e LEFT JOIN (
      SELECT k.engine_id, count(*)::int AS cranks FROM job j JOIN crank k ON k.id = j.crank_id GROUP BY k.engine_id) here ON here.engine_id = e.id
    WHERE e.find_text LIKE ALL (${like}::text[])
      AND (${after}::uuid IS NULL OR (e.maker, e.code) > (SELECT seen.maker, seen.code FROM engine seen WHERE seen.id = ${after}::uuid))
    ORDER BY e.maker, e.code LIMIT ${pageLength(asked.limit) + 1}`
  return pageFrom(
    rows.map(({ strokeMm, widthMm, ...row }) => ({
      ...row,
      ...(strokeMm === null ? {} : { strokeMm }),
      ...(widthMm === null ? {} : { widthMm }),
    })),
    asked.limit,
    (row) => row.id,
  )
}

/** The sheet's name and version, locked until the end of the act. */
export async function lockEngine(tx: Tx, id: string): Promise<(EngineColumns & { version: number }) | null> {
  const [row] = await tx.$queryRaw<(EngineColumns & { version: number })[]>`
    SELECT maker, code, cycle, surface_left AS "surfaceLeft", surface_right AS "surfaceRight", note, build, version
    FROM engine WHERE id = ${id}::uuid FOR UPDATE`
  return row ?? null
}

export async function engineName(tx: Tx, id: string): Promise<string | null> {
  const [found] = await ask<{ name: string }>(tx, Prisma.sql`SELECT maker || ' ' || code AS name FROM engine WHERE id = ${id}::uuid`)
  return found?.name ?? null
}

/** Whether another sheet has this maker and code. */
export async function nameTaken(tx: Tx, name: { maker: string; code: string }, butFor: string | null): Promise<boolean> {
  const found = await tx.engine.findUnique({ where: { maker_code: name }, select: { id: true } })
  return found !== null && found.id !== butFor
}

export async function addEngineRow(act: Act, engine: EngineColumns & { id?: string | undefined; copiedFrom?: string }): Promise<string> {
  const { id, copiedFrom, build, ...columns } = engine
  const made = await act.tx.engine.create({
    data: {
      ...columns,
      build: asJson(build),
      findText: findTextOf(columns),
      createdAt: act.now,
      copiedFrom: copiedFrom ?? null,
      ...(id === undefined ? {} : { id }),
    },
    select: { id: true },
  })
  return made.id
}

function asJson(build: EngineBuild | null) {
  return build === null ? Prisma.DbNull : (build as Prisma.InputJsonObject)
}

/** Whether anything was read or pressed on a crank of this engine. */
export async function isWorkedOn(tx: Tx, id: string): Promise<boolean> {
  const [row] = await ask<{ worked: boolean }>(
    tx,
    Prisma.sql`SELECT EXISTS (SELECT 1 FROM job j JOIN crank k ON k.id = j.crank_id WHERE k.engine_id = ${id}::uuid
      AND (EXISTS (SELECT 1 FROM measurement m WHERE m.job_id = j.id) OR EXISTS (SELECT 1 FROM pressing r WHERE r.job_id = j.id))) AS worked`,
  )
  return row?.worked ?? false
}

export async function changeEngineRow(act: Act, id: string, expected: number, columns: EngineColumns): Promise<void> {
  const { count } = await act.tx.engine.updateMany({
    where: { id, version: expected },
    data: { ...columns, build: asJson(columns.build), findText: findTextOf(columns), version: { increment: 1 } },
  })
  if (count === 1) return
  const now = await act.tx.engine.findUniqueOrThrow({ where: { id }, select: { version: true } })
  mustStandAt(now.version, expected)
}

export async function addFigures(act: Act, engineId: string, figures: (FigureNew & { version: number })[]): Promise<void> {
  await act.tx.engineFigure.createMany({
    data: figures.map(({ note, ...figure }) => ({ ...figure, engineId, note: note ?? null, personId: act.by.id, at: act.now })),
  })
}
