import { scaleLog } from 'd3-scale'
import { line } from 'd3-shape'
import type { ReactNode } from 'react'
import { Link } from 'react-router'
import { figure } from '#web/lib/format.ts'
import { useRoom } from '#web/lib/use-room.ts'
import { ChartFigure } from '#web/ui/chart-figure.tsx'

export interface LearningPoint {
  /** Own crank number. */
  n: number
  hours: number
  tag: string
  /** The crank's own page. */
  href: string
  /** Why it is drawn hollow and not fitted: practice, a comeback put right, another kind, somebody else's hours. */
  leftOut?: string | undefined
}

/** The line and the interval for one new crank at some counts, as the core predicts them, in rising n. */
export interface LearningLine {
  n: number
  hours: number
  low: number
  high: number
}

export interface LearningChartProps {
  points: readonly LearningPoint[]
  /** Empty where no line may be drawn yet. Give it some forty counts, to twice the last crank or so. */
  fitted: readonly LearningLine[]
  targetHours?: number | undefined
  /** What the band is: `19 of 20 single cranks fall inside`. */
  bandWords?: string
  /** How many, which are left out, and by what law. */
  caption: ReactNode
}

function powersOfTwo(from: number, to: number): number[] {
  const powers: number[] = []
  for (let power = Math.ceil(Math.log2(from) - 1e-9); 2 ** power <= to * (1 + 1e-9); power += 1) powers.push(2 ** power)
  return powers
}

/** Bench hours a crank against own count, both axes by doublings. Each point opens its crank. No point is ever cut off. */
export function LearningChart({
  points,
  fitted,
  targetHours,
  bandWords = '19 of 20 single cranks fall inside',
  caption,
}: LearningChartProps) {
  const [box, { width, letter }] = useRoom<HTMLDivElement>({ width: 820, letter: 15 })
  const heads = ['bench hours a crank', `band: ${bandWords}`]
  // Both heads on one line where they have room, else one beneath the other.
  const headLines = heads.join('').length * letter * 0.5 > width ? 2 : 1
  const height = Math.round(Math.max(Math.min(width * 0.56, 460), letter * 15) + letter * (2 + headLines))
  const plot = { left: letter * 2.8, right: width - letter * 0.8, top: letter * (1 + 1.25 * headLines), bottom: height - letter * 3 }
  const hoursSeen = [
    ...points.map((point) => point.hours),
    ...fitted.flatMap((at) => [at.low, at.high]),
    ...(targetHours === undefined ? [] : [targetHours]),
  ]
  const lastFitted = Math.max(1, ...points.filter((point) => point.leftOut === undefined).map((point) => point.n))
  const least = 2 ** Math.floor(Math.log2(Math.min(1, ...hoursSeen)))
  const most = 2 ** Math.ceil(Math.log2(Math.max(2, ...hoursSeen)))
  const lastN = 2 ** Math.ceil(Math.log2(Math.max(2, ...points.map((point) => point.n), ...fitted.map((at) => at.n))))
  const x = scaleLog([1, lastN], [plot.left, plot.right]).base(2)
  const y = scaleLog([least, most], [plot.bottom, plot.top]).base(2)
  const path = line<{ n: number; at: number }>(
    (each) => x(each.n),
    (each) => y(each.at),
  ).digits(1)
  const through = (pick: (at: LearningLine) => number, among: readonly LearningLine[] = fitted) =>
    path(among.map((at) => ({ n: at.n, at: pick(at) }))) ?? ''
  const known = fitted.filter((at) => at.n <= lastFitted)
  const beyond = [...known.slice(-1), ...fitted.filter((at) => at.n > lastFitted)]
  const band = fitted.length === 0 ? '' : `${through((at) => at.high)}L${through((at) => at.low, [...fitted].reverse()).slice(1)}Z`
  const counted = points.filter((point) => point.leftOut === undefined).length
  const label = `Bench hours a crank against own crank number, both by doublings: ${counted} fitted, ${points.length - counted} hollow.${targetHours === undefined ? '' : ` Target ${figure(targetHours, 1)} h.`}`

  return (
    <ChartFigure
      boxRef={box}
      caption={caption}
      table={{
        caption: 'Bench hours by own crank number',
        heads: ['own crank number', 'tag', 'hours', 'left out'],
        rows: points.map((point) => ({
          key: `${point.n}-${point.tag}-${point.leftOut ?? ''}`,
          cells: [
            point.n,
            <span key="tag" className="tag">
              <Link to={point.href}>{point.tag}</Link>
            </span>,
            figure(point.hours, 2),
            point.leftOut ?? '',
          ],
        })),
      }}
    >
      {/* biome-ignore lint/a11y/useSemanticElements: it holds links, so it is a group and no picture; a fieldset has no place in a drawing */}
      <svg
        className="marks"
        role="group"
        aria-label={label}
        viewBox={`0 0 ${width} ${height}`}
        width={width}
        height={height}
        fontSize={letter}
      >
        {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: lines and lettering, nothing in it takes the focus */}
        <g aria-hidden="true">
          {powersOfTwo(least, most).map((tick) => (
            <g key={tick}>
              <path d={`M${plot.left} ${y(tick)}H${plot.right}`} stroke="var(--hair)" />
              <text x={plot.left - 8} y={y(tick) + letter * 0.35} textAnchor="end" style={{ fill: 'var(--soft)' }}>
                {tick}
              </text>
            </g>
          ))}
          {powersOfTwo(1, lastN).map((tick) => (
            <g key={tick}>
              <path d={`M${x(tick)} ${plot.bottom}v6`} stroke="var(--ink)" />
              <text x={x(tick)} y={plot.bottom + letter * 1.4} textAnchor="middle" style={{ fill: 'var(--soft)' }}>
                {tick}
              </text>
            </g>
          ))}
          <path d={`M${plot.left} ${plot.bottom}H${plot.right}M${plot.left} ${plot.top}V${plot.bottom}`} stroke="var(--ink)" />
          <text x={plot.left} y={letter * 1.1} style={{ fill: 'var(--soft)' }}>
            {heads[0]}
          </text>
          <text x={(plot.left + plot.right) / 2} y={height - letter * 0.3} textAnchor="middle" style={{ fill: 'var(--soft)' }}>
            own crank number
          </text>
          {fitted.length > 0 && (
            <>
              <path d={band} fill="var(--blue-wash)" />
              <path d={through((at) => at.high)} fill="none" stroke="var(--blue)" strokeDasharray="5 4" />
              <path d={through((at) => at.low)} fill="none" stroke="var(--blue)" strokeDasharray="5 4" />
              <path d={through((at) => at.hours, known)} fill="none" stroke="var(--blue)" strokeWidth={3} />
              <path d={through((at) => at.hours, beyond)} fill="none" stroke="var(--blue)" strokeWidth={2} strokeDasharray="9 6" />
            </>
          )}
          {targetHours !== undefined && <path d={`M${plot.left} ${y(targetHours)}H${plot.right}`} stroke="var(--ink)" strokeWidth={2} />}
        </g>
        {points.map((point) => (
          <Point key={`${point.n}-${point.tag}-${point.leftOut ?? ''}`} point={point} x={x(point.n)} y={y(point.hours)} />
        ))}
        {/* biome-ignore lint/a11y/noAriaHiddenOnFocusable: lettering, nothing in it takes the focus */}
        <g aria-hidden="true">
          {fitted.length > 0 && (
            <text
              x={headLines === 2 ? plot.left : plot.right}
              y={letter * (1.1 + 1.25 * (headLines - 1))}
              textAnchor={headLines === 2 ? 'start' : 'end'}
              style={{ fill: 'var(--soft)' }}
            >
              {heads[1]}
            </text>
          )}
          {targetHours !== undefined && (
            <text className="halo" x={plot.left + 8} y={y(targetHours) + letter * 1.2}>
              target {figure(targetHours, 1)} h
            </text>
          )}
        </g>
      </svg>
    </ChartFigure>
  )
}

function Point({ point, x, y }: { point: LearningPoint; x: number; y: number }) {
  const words = `crank ${point.n}, ${point.tag}, ${figure(point.hours, 2)} h${point.leftOut === undefined ? '' : `, left out: ${point.leftOut}`}`
  return (
    <Link to={point.href} aria-label={words}>
      <title>{words}</title>
      {/* Room for a finger; the mark itself stays small. */}
      <circle cx={x} cy={y} r={12} fill="transparent" />
      <circle
        className="chart-point"
        cx={x}
        cy={y}
        r={5}
        fill={point.leftOut === undefined ? 'var(--ink)' : 'var(--paper)'}
        stroke="var(--ink)"
        strokeWidth={1.6}
      />
    </Link>
  )
}
