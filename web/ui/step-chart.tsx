import type { ReactNode } from 'react'
import { figure } from '#web/lib/format.ts'
import { useRoom } from '#web/lib/use-room.ts'
import { ChartFigure, type ChartRow } from '#web/ui/chart-figure.tsx'
import { lastHours, type StepCurve, type StepFall, shareAt, stepLayout } from '#web/ui/step-layout.ts'

export interface StepChartProps {
  curves: readonly StepCurve[]
  /** How many, and by what rule they are counted. */
  caption: ReactNode
}

const perHundred = (share: number) => figure(100 * share, 1)

function summary(curves: readonly StepCurve[]): string {
  if (curves.length === 0) return 'Still running, by hours ridden: no crank yet.'
  const ends = curves.map((curve) => {
    const last = lastHours(curve)
    return `${curve.name} ${perHundred(shareAt(curve, last))} at ${figure(last, 0)} h`
  })
  return `Of a hundred, still running, by hours ridden: ${ends.join('; ')}.`
}

function heardWords(heard: StepCurve['heard']): string {
  if (heard.length === 0) return 'none'
  return heard.map(({ hours, count }) => (count === 1 ? figure(hours, 0) : `${figure(hours, 0)} (${count})`)).join(', ')
}

/** One row a fall, with those last heard of before the next one. */
function rowsOf(curve: StepCurve): ChartRow[] {
  const first = { hours: 0, share: 1 }
  const from: readonly (typeof first & Partial<StepFall>)[] = [first, ...curve.falls]
  return from.map((fall, place) => {
    const next = from[place + 1]?.hours ?? Number.POSITIVE_INFINITY
    const { low, high, atRisk, back } = fall
    return {
      key: `${curve.key} ${place}`,
      cells: [
        curve.name,
        figure(fall.hours, 0),
        perHundred(fall.share),
        low === undefined || high === undefined ? '' : `${perHundred(low)} to ${perHundred(high)}`,
        back === undefined ? '' : `${back} of ${atRisk}`,
        heardWords(curve.heard.filter(({ hours }) => hours >= fall.hours && hours < next)),
      ],
    }
  })
}

/** What is still running against hours ridden. A tick is a crank that was last heard of there, running. */
export function StepChart({ curves, caption }: StepChartProps) {
  const [box, room] = useRoom<HTMLDivElement>({ width: 520, letter: 15 })
  const drawn = stepLayout(curves, room)
  const { plot } = drawn
  const { letter } = room
  const soft = { fill: 'var(--soft)' }
  return (
    <ChartFigure
      boxRef={box}
      caption={caption}
      table={{
        caption: 'Still running, by hours ridden',
        heads: ['which', 'from, h', 'still running, of a hundred', '19 in 20 between', 'came back then', 'last heard of, h'],
        rows: curves.flatMap(rowsOf),
      }}
    >
      <svg
        role="img"
        aria-label={summary(curves)}
        viewBox={`0 0 ${drawn.width} ${drawn.height}`}
        width={drawn.width}
        height={drawn.height}
        fontSize={letter}
      >
        {drawn.upTicks.map((tick) => (
          <g key={tick.value}>
            <path d={`M${plot.left} ${tick.y}H${plot.right}`} stroke="var(--hair)" />
            <text x={plot.left - 6} y={tick.y + letter * 0.35} textAnchor="end" style={soft}>
              {tick.value}
            </text>
          </g>
        ))}
        <path d={`M${plot.left} ${plot.bottom}H${plot.right}`} stroke="var(--ink)" />
        {drawn.acrossTicks.map((tick) => (
          <g key={tick.value}>
            <path d={`M${tick.x} ${plot.bottom}v5`} stroke="var(--ink)" />
            <text x={tick.x} y={plot.bottom + letter * 1.35} textAnchor="middle" style={soft}>
              {tick.value}
            </text>
          </g>
        ))}
        <text x={plot.left} y={letter} style={soft}>
          of a hundred, still running
        </text>
        <text x={(plot.left + plot.right) / 2} y={drawn.height - letter * 0.3} textAnchor="middle" style={soft}>
          hours ridden
        </text>
        {drawn.curves.map((curve) => (
          <g key={curve.key} data-curve={curve.key}>
            <path d={curve.path} fill="none" stroke="var(--ink)" strokeWidth={2.4} {...(curve.dashed ? { strokeDasharray: '7 5' } : {})} />
            <path d={curve.heard.map((spot) => `M${spot.x} ${spot.y - 5}v10`).join('')} stroke="var(--ink)" />
            <text className="halo">
              {curve.label.lines.map((line, place) => (
                <tspan key={line} x={curve.label.x} y={curve.label.y + place * letter * 1.2}>
                  {line}
                </tspan>
              ))}
            </text>
          </g>
        ))}
      </svg>
    </ChartFigure>
  )
}
