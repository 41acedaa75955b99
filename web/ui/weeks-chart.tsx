import type { ReactNode } from 'react'
import { Link } from 'react-router'
import { useRoom } from '#web/lib/use-room.ts'
import { ChartFigure } from '#web/ui/chart-figure.tsx'
import { type WeekCount, weeksLayout } from '#web/ui/weeks-layout.ts'

export interface ChartWeek extends WeekCount {
  /** The week as a table names it: `47, from Mon 16 Nov`. */
  name: string
  /** The cranks that came in, and those that went out: behind the counts of the table. */
  inHref?: string | undefined
  outHref?: string | undefined
}

export interface WeeksChartProps {
  /** In order, the oldest first. */
  weeks: readonly ChartWeek[]
  /** How they are counted, and how many. */
  caption: ReactNode
}

function summary(weeks: readonly ChartWeek[]): string {
  const last = weeks.at(-1)
  if (last === undefined) return 'In and out, by week: no week yet.'
  const sum = (pick: (week: ChartWeek) => number) => weeks.reduce((total, week) => total + pick(week), 0)
  const count = `${weeks.length} ${weeks.length === 1 ? 'week' : 'weeks'}`
  return `In and out, by week. ${count}: ${sum((week) => week.cameIn)} in, ${sum((week) => week.wentOut)} out; last, week ${last.name}: ${last.cameIn} in, ${last.wentOut} out.`
}

function counted(count: number, href: string | undefined): ReactNode {
  return href === undefined || count === 0 ? count : <Link to={href}>{count}</Link>
}

/** What came in stands above the line in outline, what went out hangs beneath it filled: told apart by place and form. */
export function WeeksChart({ weeks, caption }: WeeksChartProps) {
  const [box, room] = useRoom<HTMLDivElement>({ width: 520, letter: 15 })
  const drawn = weeksLayout(weeks, room)
  const soft = { fill: 'var(--soft)' }
  return (
    <ChartFigure
      boxRef={box}
      caption={caption}
      table={{
        caption: 'In and out, by week',
        heads: ['week', 'in', 'out'],
        rows: weeks.map((week) => ({
          key: week.key,
          cells: [week.name, counted(week.cameIn, week.inHref), counted(week.wentOut, week.outHref)],
        })),
      }}
    >
      <svg
        role="img"
        aria-label={summary(weeks)}
        viewBox={`0 0 ${drawn.width} ${drawn.height}`}
        width={drawn.width}
        height={drawn.height}
        fontSize={room.letter}
      >
        {drawn.rules.map((rule) => (
          <g key={rule.key}>
            <path d={`M${drawn.left} ${rule.y}H${drawn.right}`} stroke="var(--hair)" />
            <text x={drawn.left - 6} y={rule.y + room.letter * 0.35} textAnchor="end" style={soft}>
              {rule.count}
            </text>
          </g>
        ))}
        {drawn.weeks.map((week) => (
          <g key={week.key} data-week={week.key}>
            {week.cameIn.height > 0 && (
              <rect {...week.cameIn} fill="var(--paper)" stroke="var(--ink)" strokeWidth={Math.min(1.5, week.cameIn.width / 3)} />
            )}
            {week.wentOut.height > 0 && <rect {...week.wentOut} fill="var(--blue)" />}
          </g>
        ))}
        <path d={`M${drawn.left} ${drawn.axisY}H${drawn.right}`} stroke="var(--ink)" />
        <text x={drawn.right + 6} y={drawn.words.inY + room.letter * 0.35}>
          in
        </text>
        <text x={drawn.right + 6} y={drawn.words.outY + room.letter * 0.35}>
          out
        </text>
        <text x={0} y={drawn.labelY} style={soft}>
          wk
        </text>
        {drawn.labels.map((label) => (
          <text key={label.key} x={label.x} y={drawn.labelY} textAnchor="middle" style={soft}>
            {label.text}
          </text>
        ))}
      </svg>
    </ChartFigure>
  )
}
