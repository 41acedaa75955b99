import { type StudyDots, studyLayout } from '#web/features/gauge-studies/study-layout.ts'
import { decimalsOf, figure } from '#web/lib/format.ts'
import { useRoom } from '#web/lib/use-room.ts'
import { ChartFigure } from '#web/ui/chart-figure.tsx'

export interface StudyChartProps extends StudyDots {
  stepMm: number
  what: string
}

/** The readings as they fell: dots by part and person, a line over the range of each. */
export function StudyChart({ stepMm, what, ...dots }: StudyChartProps) {
  const [box, room] = useRoom<HTMLDivElement>({ width: 560, letter: 15 })
  const drawn = studyLayout(dots, room)
  const { plot } = drawn
  const { letter } = room
  const said = (mm: number) => figure(mm, Math.max(3, decimalsOf(stepMm)))
  const rows = dots.parts.flatMap((part, index) =>
    dots.people.map((person) => {
      const own = dots.readings.filter((one) => one.part === index + 1 && one.personId === person.id).map((one) => one.mm)
      return {
        key: `${part} ${person.id}`,
        cells: [part, person.name, own.map(said).join(' · '), said(Math.max(...own) - Math.min(...own))],
      }
    }),
  )
  return (
    <ChartFigure
      boxRef={box}
      caption={
        <>
          {`${what}, mm. ${dots.readings.length} readings. Each line spans what one person read of one part: `}
          {dots.people.map((person, place) => (
            <span key={person.id} className="whole">
              <Mark place={place} letter={letter} /> {person.name}
              {place < dots.people.length - 1 ? ', ' : '.'}
            </span>
          ))}
        </>
      }
      table={{ caption: 'Readings by part and person', heads: ['part', 'person', 'readings, mm', 'range, mm'], rows }}
    >
      <svg
        role="img"
        aria-label={`${what}: readings by part and person, mm`}
        viewBox={`0 0 ${drawn.width} ${drawn.height}`}
        width={drawn.width}
        height={drawn.height}
        fontSize={letter}
      >
        {drawn.ticks.map((tick) => (
          <g key={tick.value}>
            <path d={`M${tick.x} ${plot.top}V${plot.bottom}`} stroke="var(--hair)" />
            <text x={tick.x} y={plot.bottom + letter * 1.3} textAnchor="middle" style={{ fill: 'var(--soft)' }}>
              {figure(tick.value, Math.max(2, decimalsOf(stepMm)))}
            </text>
          </g>
        ))}
        {drawn.rows.map((row) => (
          <g key={row.key}>
            <path d={`M${plot.left} ${row.bottom}H${plot.right}`} stroke="var(--hair)" />
            <text x={0} y={row.y}>
              {row.part}
            </text>
            {row.lines.map((line) => (
              <g key={line.key}>
                <path d={`M${line.from} ${line.y}H${line.to}`} stroke="var(--ink)" />
                {line.dots.map((dot) => (
                  <path
                    key={dot.key}
                    d={MARKS[line.person % MARKS.length]?.(dot.x, line.y) ?? ''}
                    stroke="var(--ink)"
                    fill={FILLS[line.person % FILLS.length]}
                  />
                ))}
              </g>
            ))}
          </g>
        ))}
        <path d={`M${plot.left} ${plot.bottom}H${plot.right}`} stroke="var(--ink)" />
        <text x={(plot.left + plot.right) / 2} y={drawn.height - letter * 0.3} textAnchor="middle" style={{ fill: 'var(--soft)' }}>
          mm
        </text>
      </svg>
    </ChartFigure>
  )
}

// People are told apart by form, so that grey print can tell them too.
const MARKS = [
  (x: number, y: number) => `M${x - 4} ${y}a4 4 0 1 0 8 0a4 4 0 1 0 -8 0Z`,
  (x: number, y: number) => `M${x - 4} ${y - 4}h8v8h-8Z`,
  (x: number, y: number) => `M${x} ${y - 5}l5 9h-10Z`,
] as const
const FILLS = ['var(--ink)', 'var(--sheet)', 'var(--sheet)'] as const

function Mark({ place, letter }: { place: number; letter: number }) {
  return (
    <svg width={letter} height={letter} viewBox="-7 -7 14 14" aria-hidden="true" className="study-mark">
      <path d={MARKS[place % MARKS.length]?.(0, 0) ?? ''} stroke="var(--ink)" fill={FILLS[place % FILLS.length]} />
    </svg>
  )
}
