/** The table of the README. */
import { cpus } from 'node:os'
import type { Measured } from './measure.ts'
import type { SumSpeed } from './sums.ts'

export const AIMS = { read: 0.7, write: 0.6, p95Ms: 50, growth: 1.3 } as const

export interface SizedBook {
  jobs: number
  measured: readonly Measured[]
}

const whole = (value: number) => Math.round(value).toLocaleString('en')
const one = (value: number) => value.toFixed(value < 10 ? 1 : 0)
const marked = (value: string, held: boolean) => (held ? value : `**${value}**`)

export function tableOf(small: SizedBook, large: SizedBook): string {
  const rows = small.measured.map((before, n) => {
    const after = large.measured[n]!
    const ratio = (of: Measured) => marked(of.ratio.toFixed(2), of.ratio >= AIMS[of.kind])
    const p95 = (of: Measured) => marked(one(of.p95), of.p95 <= AIMS.p95Ms)
    const growth = after.p95 / before.p95
    return [
      before.name,
      whole(before.perSecond.service),
      whole(before.perSecond.twin),
      ratio(before),
      p95(before),
      one(before.twinP95),
      whole(after.perSecond.service),
      whole(after.perSecond.twin),
      ratio(after),
      p95(after),
      one(after.twinP95),
      marked(growth.toFixed(2), growth <= AIMS.growth),
    ]
  })
  const head = ['', '/s', 'twin /s', 'ratio', 'p95 ms', 'twin’s', '/s', 'twin /s', 'ratio', 'p95 ms', 'twin’s', 'p95 to p95']
  const books = ['', `${whole(small.jobs)} jobs`, '', '', '', '', `${whole(large.jobs)} jobs`, '', '', '', '', '']
  return lines([books, head.map((_, column) => (column === 0 ? ':--' : '--:')), head, ...rows])
}

function lines(rows: readonly (readonly string[])[]): string {
  return rows.map((row) => `| ${row.join(' | ')} |`).join('\n')
}

export function sumsTable(sums: readonly SumSpeed[]): string {
  return lines([
    ['sum, one core', 'measured', 'aim'],
    [':--', '--:', '--:'],
    ...sums.map(({ name, measured, aim, held }) => [name, marked(measured, held), aim]),
  ])
}

export function madeOn(version: string, effort: string): string {
  const cores = cpus()
  const day = new Date().toISOString().slice(0, 10)
  return `${day}; ${cores.length} × ${cores[0]?.model.trim() ?? 'unknown'}, shared by load, server and database; Node ${process.versions.node}, PostgreSQL ${version}; ${effort}.`
}
