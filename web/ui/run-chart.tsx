import type { ReactNode } from 'react'
import { mm } from '#web/lib/format.ts'
import { useRoom } from '#web/lib/use-room.ts'
import { ChartFigure } from '#web/ui/chart-figure.tsx'
import { type End, EndShape, endDash } from '#web/ui/end-mark.tsx'
import { linearScale } from '#web/ui/linear-scale.ts'

export interface RunSet {
  key: string
  /** Which set: `as received`, `set 2`, `Tue 2 Dec, 14:10`. */
  name: string
  /** Full swing of each end, mm; absent where that end was not read. */
  leftMm?: number | undefined
  rightMm?: number | undefined
}

export interface RunChartProps {
  /** In the order they were read, the oldest first. */
  sets: readonly RunSet[]
  /** What is allowed, mm; two where the ends differ. */
  limitMm?: number | { leftMm: number; rightMm: number } | undefined
  /** Step of the dial, for the digits. */
  stepMm: number
  caption?: ReactNode
  tableIs?: 'folded' | 'spoken'
}

const ENDS: readonly End[] = ['left', 'right']

function swing(set: RunSet, end: End): number | undefined {
  return end === 'left' ? set.leftMm : set.rightMm
}

interface LimitLine {
  mm: number
  words: string
}

function limitLines(limit: RunChartProps['limitMm']): LimitLine[] {
  if (limit === undefined) return []
  if (typeof limit === 'number') return [{ mm: limit, words: 'allowed' }]
  if (limit.leftMm === limit.rightMm) return [{ mm: limit.leftMm, words: 'allowed' }]
  return [
    { mm: limit.leftMm, words: 'allowed, L' },
    { mm: limit.rightMm, words: 'allowed, R' },
  ]
}

/** The sets of a crank one after another, both ends, down to what is allowed. The scale holds every point, 0 and the limit. */
export function RunChart({ sets, limitMm, stepMm, caption, tableIs = 'folded' }: RunChartProps) {
  const [box, { width, letter }] = useRoom<HTMLDivElement>({ width: 640, letter: 15 })
  const limits = limitLines(limitMm)
  const values = sets.flatMap((set) => ENDS.map((end) => swing(set, end)).filter((value) => value !== undefined))
  const top = letter
  const height = Math.round(letter * 9)
  const left = letter * 2.6
  const right = width - letter * (limits.length > 1 ? 5 : 4.2)
  const bottom = height - letter * 2
  const y = linearScale([0, Math.max(...values, ...limits.map((line) => line.mm), stepMm * 2)], [bottom, top], 3)
  const x = linearScale([0, Math.max(1, sets.length - 1)], [left + letter, right - letter * 0.5])
  const last = sets.at(-1)
  const label =
    last === undefined
      ? 'No set yet.'
      : `${sets.length} ${sets.length === 1 ? 'set' : 'sets'}. ${ofSet(last, stepMm)}${limits.map((line) => ` ${line.words} ${mm(line.mm, stepMm)} mm.`).join('')}`
  // Names beneath the points only where they have room, and the last always.
  const every = Math.max(1, Math.ceil((sets.length * letter * 4.5) / Math.max(1, right - left)))

  return (
    <ChartFigure
      boxRef={box}
      tableIs={tableIs}
      {...(caption === undefined ? {} : { caption })}
      table={{
        caption: 'Full swing of each end by set, mm',
        heads: ['set', 'left, mm', 'right, mm'],
        rows: sets.map((set) => ({ key: set.key, cells: [set.name, ...ENDS.map((end) => written(swing(set, end), stepMm))] })),
      }}
    >
      <svg
        className="marks"
        role="img"
        aria-label={label}
        viewBox={`0 0 ${width} ${height}`}
        width={width}
        height={height}
        fontSize={letter}
      >
        {y.ticks(3).map((tick) => (
          <g key={tick}>
            <path d={`M${left} ${y(tick)}H${right}`} stroke="var(--hair)" />
            <text x={left - 6} y={y(tick) + letter * 0.35} textAnchor="end" style={{ fill: 'var(--soft)' }}>
              {y.tickFormat(3)(tick)}
            </text>
          </g>
        ))}
        {clearOfEachOther(limits, y, letter).map(({ line, at }) => (
          <g key={line.words}>
            <path d={`M${left} ${y(line.mm)}H${right}`} stroke="var(--ink)" strokeWidth={2} />
            <text className="halo" x={right + 6} y={at + letter * 0.35}>
              {line.words}
            </text>
          </g>
        ))}
        {ENDS.map((end) => (
          <Run
            key={end}
            end={end}
            points={sets.map((set, place) => ({ key: set.key, x: x(place), mm: swing(set, end) }))}
            y={y}
            r={letter * 0.42}
          />
        ))}
        {sets.map((set, place) =>
          (sets.length - 1 - place) % every === 0 ? (
            <text
              key={set.key}
              x={x(place)}
              y={height - letter * 0.3}
              textAnchor={place === sets.length - 1 && sets.length > 1 ? 'end' : 'middle'}
              style={{ fill: 'var(--soft)' }}
            >
              {set.name}
            </text>
          ) : null,
        )}
      </svg>
    </ChartFigure>
  )
}

function written(value: number | undefined, stepMm: number): string {
  return value === undefined ? 'not read' : mm(value, stepMm)
}

function ofSet(set: RunSet, stepMm: number): string {
  return `Last, ${set.name}: left ${written(set.leftMm, stepMm)}, right ${written(set.rightMm, stepMm)} mm.`
}

function clearOfEachOther(limits: LimitLine[], y: (mm: number) => number, letter: number): { line: LimitLine; at: number }[] {
  const [first, second] = [...limits].sort((a, b) => b.mm - a.mm)
  if (first === undefined) return []
  if (second === undefined) return [{ line: first, at: y(first.mm) }]
  const lack = Math.max(0, letter * 1.2 - (y(second.mm) - y(first.mm)))
  return [
    { line: first, at: y(first.mm) - lack / 2 },
    { line: second, at: y(second.mm) + lack / 2 },
  ]
}

interface RunPoint {
  key: string
  x: number
  mm: number | undefined
}

/** The line of one end; a set in which it was not read leaves a gap. */
function Run({ end, points, y, r }: { end: End; points: RunPoint[]; y: (mm: number) => number; r: number }) {
  const path = points
    .map((point, place) => (point.mm === undefined ? '' : `${points[place - 1]?.mm === undefined ? 'M' : 'L'}${point.x} ${y(point.mm)}`))
    .join('')
  return (
    <g>
      <path d={path} fill="none" stroke="var(--ink)" strokeWidth={2} strokeDasharray={endDash(end)} />
      {points.map((point) => (point.mm === undefined ? null : <EndShape key={point.key} end={end} x={point.x} y={y(point.mm)} r={r} />))}
    </g>
  )
}
