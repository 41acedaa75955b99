import type { ReactNode } from 'react'
import { Link } from 'react-router'
import { useRoom } from '#web/lib/use-room.ts'
import { ChartFigure } from '#web/ui/chart-figure.tsx'
import { type PartOf, partBarsLayout } from '#web/ui/part-bars-layout.ts'

export interface PartBar extends PartOf {
  /** As a table names it: `November 2026`. */
  name: string
  /** The cranks behind it. */
  href?: string | undefined
}

export interface PartBarsChartProps {
  /** What is counted: `True at first check, by month`. */
  title: string
  /** Heads of the columns: what each bar is, the part, the whole. */
  heads: readonly [string, string, string]
  parts: readonly PartBar[]
  caption: ReactNode
}

function summary(title: string, parts: readonly PartBar[]): string {
  const last = parts.at(-1)
  if (last === undefined) return `${title}: none yet.`
  const sum = (pick: (part: PartBar) => number) => parts.reduce((total, part) => total + pick(part), 0)
  return `${title}: ${sum((part) => part.count)} of ${sum((part) => part.of)}; last, ${last.name}: ${last.count} of ${last.of}.`
}

function wholeOf({ of, href }: PartBar): ReactNode {
  return href === undefined || of === 0 ? of : <Link to={href}>{of}</Link>
}

/** So many of so many, one bar after another: the whole in outline, the part filled. */
export function PartBarsChart({ title, heads, parts, caption }: PartBarsChartProps) {
  const [box, room] = useRoom<HTMLDivElement>({ width: 520, letter: 15 })
  const drawn = partBarsLayout(parts, room)
  const soft = { fill: 'var(--soft)' }
  return (
    <ChartFigure
      boxRef={box}
      caption={caption}
      table={{
        caption: title,
        heads,
        rows: parts.map((part) => ({
          key: part.key,
          cells: [part.name, part.count, wholeOf(part)],
        })),
      }}
    >
      <svg
        role="img"
        aria-label={summary(title, parts)}
        viewBox={`0 0 ${drawn.width} ${drawn.height}`}
        width={drawn.width}
        height={drawn.height}
        fontSize={room.letter}
      >
        {drawn.rules.map((rule) => (
          <g key={rule.count}>
            <path d={`M${drawn.left} ${rule.y}H${drawn.right}`} stroke="var(--hair)" />
            <text x={drawn.left - 6} y={rule.y + room.letter * 0.35} textAnchor="end" style={soft}>
              {rule.count}
            </text>
          </g>
        ))}
        {drawn.bars.map(({ key, whole, part, words }) => (
          <g key={key} data-part={key}>
            {part.height > 0 && <rect {...part} fill="var(--blue)" />}
            {whole.height > 0 && <rect {...whole} fill="none" stroke="var(--ink)" strokeWidth={Math.min(1.5, whole.width / 3)} />}
            {words !== undefined && (
              <text className="halo" x={words.x} y={words.y} textAnchor="middle">
                {words.text}
              </text>
            )}
          </g>
        ))}
        <path d={`M${drawn.left} ${drawn.bottom}H${drawn.right}`} stroke="var(--ink)" />
        {drawn.labels.map((label) => (
          <text key={label.key} x={label.x} y={drawn.labelY} textAnchor="middle" style={soft}>
            {label.text}
          </text>
        ))}
      </svg>
    </ChartFigure>
  )
}
