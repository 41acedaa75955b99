/** What the demo book tells of the figures that its seed was given: read out of the stored rows alone. */
import type { RunoutFigures } from '#contract/runout-figures.ts'
import { type FAULT_MIX, gainsOf } from '#seed/faults.ts'
import { TAG_ON_THE_BENCH } from '#seed/lay-out.ts'
import { modelSheet } from '#seed/model-sheets.ts'
import type { TestApp } from '#tests/support/app.ts'

export async function rows<Row extends object>(app: TestApp, text: string): Promise<Row[]> {
  return (await app.db.pool.query<Row>(text)).rows
}

interface Sample {
  count: number
  mean: number
  /** Standard error of the mean. */
  error: number
}

export function sampleOf(values: readonly number[]): Sample {
  const mean = values.reduce((sum, value) => sum + value, 0) / values.length
  const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (values.length - 1)
  return { count: values.length, mean, error: Math.sqrt(variance / values.length) }
}

export function medianOf(values: readonly number[]): number {
  const inOrder = values.toSorted((one, other) => one - other)
  return inOrder[Math.floor(inOrder.length / 2)]!
}

/** The worse full swing of a set, mm, and as a share of its house limit. */
export const worstOf = ({ left, right }: RunoutFigures) => Math.max(left?.tirMm ?? 0, right?.tirMm ?? 0)
export const shareOf = ({ left, right, limits }: RunoutFigures) =>
  Math.max((left?.tirMm ?? 0) / (limits.leftMm ?? 0), (right?.tirMm ?? 0) / (limits.rightMm ?? 0))

interface Received {
  code: string
  why: string
  figures: RunoutFigures
}

/** As received, of rebuilds: what is only trued was drawn such that a hand can true it. */
export function received(app: TestApp): Promise<Received[]> {
  return rows(
    app,
    `SELECT e.code, j.why_now AS why, m.figures FROM measurement m JOIN job j ON j.id = m.job_id JOIN crank k ON k.id = j.crank_id
       JOIN engine e ON e.id = k.engine_id
     WHERE m.kind = 'runout' AND m.phase = 'received' AND m.struck_at IS NULL AND j.kind = 'rebuild' AND j.comeback_of_id IS NULL AND j.tag <> '${TAG_ON_THE_BENCH}'`,
  )
}

/** Under this the divisions of a hundredth dial would pass for faults. */
const SWINGS_CLEARLY_MM = 0.1

/** How the energy of the error of a crank is shared out, each fault by what it costs at the worse dial. */
export function faultShares(sets: readonly Received[]): Record<keyof typeof FAULT_MIX, number[]> {
  const shares: Record<keyof typeof FAULT_MIX, number[]> = { swing: [], open: [], throw: [], cocked: [] }
  for (const { code, figures } of sets) {
    const faults = figures.sum?.faults
    if (faults === undefined || !('throwMm' in faults) || worstOf(figures) < SWINGS_CLEARLY_MM) continue
    const gain = gainsOf(modelSheet(code))
    const energy = {
      swing: (faults.swingMm * gain.swing) ** 2,
      open: (faults.openRad * gain.open) ** 2,
      throw: (faults.throwMm * gain.swing) ** 2,
      cocked: (faults.cockedRad * gain.open) ** 2,
    }
    const whole = energy.swing + energy.open + energy.throw + energy.cocked
    for (const name of Object.keys(energy) as (keyof typeof energy)[]) shares[name].push(energy[name] / whole)
  }
  return shares
}

export interface Final {
  tag: string
  kind: string
  builder: string
  /** As it was called true, at the second reading, and at the third where one was needed. */
  first: RunoutFigures
  second: RunoutFigures
  third: RunoutFigures | null
}

/** Every crank that was called true and then signed. */
export function finals(app: TestApp): Promise<Final[]> {
  const newest = (
    phases: string,
  ) => `(SELECT m.figures FROM measurement m WHERE m.job_id = j.id AND m.kind = 'runout' AND m.phase IN (${phases})
    AND m.struck_at IS NULL ORDER BY m.recorded_at DESC LIMIT 1)`
  return rows(
    app,
    `SELECT j.tag, j.kind, p.name AS builder, ${newest("'building', 'built'")} AS first, ${newest("'second'")} AS second, ${newest("'third'")} AS third
     FROM job j JOIN job_step s ON s.job_id = j.id AND s.step = 'trued' AND s.undone_at IS NULL JOIN person p ON p.id = s.person_id
     WHERE j.state IN ('signed', 'gone')`,
  )
}

/** Fit of the kit pin in the right web less that in the left, mm, of every crank of one model that was pressed together once. */
export async function fitDifferences(app: TestApp, code: string): Promise<number[]> {
  const values = (kind: string, phase: string) => `(SELECT json_object_agg(v.place, v.mm) FROM measurement m
    JOIN measurement_value v ON v.measurement_id = m.id WHERE m.job_id = j.id AND m.kind = '${kind}' AND m.phase = '${phase}')`
  const found = await rows<{ pin: Record<string, number>; bore: Record<string, number> }>(
    app,
    `SELECT ${values('pin', 'kit')} AS pin, ${values('bore', 'building')} AS bore
     FROM job j JOIN crank k ON k.id = j.crank_id JOIN engine e ON e.id = k.engine_id
     WHERE e.code = '${code}' AND j.tag <> '${TAG_ON_THE_BENCH}'
       AND (SELECT count(*) FROM pressing p WHERE p.job_id = j.id AND p.direction = 'together') = 2`,
  )
  const of = (read: Record<string, number>, side: string) =>
    Object.entries(read).flatMap(([place, mm]) => (place.startsWith(side) ? [mm] : []))
  const interference = ({ pin, bore }: (typeof found)[number], side: string) => Math.min(...of(pin, side)) - Math.max(...of(bore, side))
  return found.map((one) => interference(one, 'right') - interference(one, 'left'))
}

export interface LotAtHome {
  lot: string
  gone: number
  back: number
}

/** Cranks of each lot that went home, and how many of them came back or were told of. */
export function lotsAtHome(app: TestApp): Promise<LotAtHome[]> {
  return rows(
    app,
    `SELECT l.lot, count(*)::int AS gone, count(b.id)::int AS back FROM kit_fitted f JOIN kit_lot l ON l.id = f.kit_lot_id
       JOIN job j ON j.id = f.job_id AND j.gone_at IS NOT NULL LEFT JOIN comeback b ON b.job_id = j.id AND b.struck_at IS NULL
     WHERE f.struck_at IS NULL GROUP BY l.lot`,
  )
}
