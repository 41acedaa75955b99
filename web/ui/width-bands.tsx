import { mm } from '#web/lib/format.ts'
import { useRoom } from '#web/lib/use-room.ts'
import { ChartFigure } from '#web/ui/chart-figure.tsx'
import { linearScale } from '#web/ui/linear-scale.ts'

export interface Band {
  minMm: number
  maxMm: number
}

export interface WidthBandsProps {
  /** The width that fits the cases. */
  cases: Band
  /** The width that gives the rod its side clearance: the stack and the clearance window. */
  rod: Band
  /** The clearance window itself, for the words. */
  clearance: Band
  nowMm?: number | undefined
  aimMm?: number | undefined
  /** Step of what measures it; 0.01 unless said. */
  stepMm?: number
}

/** Which widths are right, for the cases and for the rod, where the width is now and where to aim. The scale holds all of them. */
export function WidthBands({ cases, rod, clearance, nowMm, aimMm, stepMm = 0.01 }: WidthBandsProps) {
  const [box, { width, letter }] = useRoom<HTMLDivElement>({ width: 640, letter: 15 })
  const said = (value: number) => mm(value, stepMm)
  const rows = [
    { name: 'width that fits the cases', band: cases },
    { name: `width that gives the rod ${said(clearance.minMm)} to ${said(clearance.maxMm)}`, band: rod },
  ]
  const all = [cases.minMm, cases.maxMm, rod.minMm, rod.maxMm, ...[nowMm, aimMm].filter((value) => value !== undefined)]
  const x = linearScale([Math.min(...all), Math.max(...all)], [letter * 3.4, width - letter * 3.4])
  const rowHeight = letter * 4.4
  const top = letter * 1.9
  const bar = letter * 1.4
  const end = top + rows.length * rowHeight
  const height = Math.round(end + letter * (aimMm === undefined ? 0.2 : 1.6))
  const label = `${rows.map((row) => `${row.name}: ${said(row.band.minMm)} to ${said(row.band.maxMm)}`).join('; ')}${nowMm === undefined ? '' : `; now ${said(nowMm)}`}${aimMm === undefined ? '' : `; aim ${said(aimMm)}`}.`

  return (
    <ChartFigure
      boxRef={box}
      tableIs="spoken"
      table={{
        caption: 'Widths over the webs, mm',
        heads: ['width', 'from, mm', 'to, mm'],
        rows: [
          ...rows.map((row) => ({ key: row.name, cells: [row.name, said(row.band.minMm), said(row.band.maxMm)] })),
          ...(nowMm === undefined ? [] : [{ key: 'now', cells: ['now', said(nowMm), said(nowMm)] }]),
          ...(aimMm === undefined ? [] : [{ key: 'aim', cells: ['aim', said(aimMm), said(aimMm)] }]),
        ],
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
        {rows.map((row, place) => (
          <rect
            key={row.name}
            x={x(row.band.minMm)}
            y={top + place * rowHeight + letter * 1.3}
            width={Math.max(1, x(row.band.maxMm) - x(row.band.minMm))}
            height={bar}
            fill="var(--blue-wash)"
            stroke="var(--blue)"
            strokeWidth={1.5}
          />
        ))}
        {aimMm !== undefined && (
          <path d={`M${x(aimMm)} ${top + letter * 1.2}V${end}`} stroke="var(--ink)" strokeWidth={2} strokeDasharray="2 5" />
        )}
        {nowMm !== undefined && <path d={`M${x(nowMm)} ${letter * 1.2}V${end}`} stroke="var(--copper)" strokeWidth={4} />}
        {rows.map((row, place) => (
          <BandWords
            key={row.name}
            name={row.name}
            from={x(row.band.minMm)}
            to={x(row.band.maxMm)}
            least={said(row.band.minMm)}
            most={said(row.band.maxMm)}
            y={top + place * rowHeight}
            letter={letter}
            width={width}
          />
        ))}
        {aimMm !== undefined && (
          <text className="halo" x={x(aimMm)} y={end + letter * 1.1} textAnchor="middle">
            aim {said(aimMm)}
          </text>
        )}
        {nowMm !== undefined && (
          <text
            className="halo"
            x={x(nowMm) + (x(nowMm) > width / 2 ? -letter * 0.5 : letter * 0.5)}
            y={letter}
            textAnchor={x(nowMm) > width / 2 ? 'end' : 'start'}
            style={{ fill: 'var(--copper)' }}
          >
            now {said(nowMm)}
          </text>
        )}
      </svg>
    </ChartFigure>
  )
}

interface BandWordsProps {
  name: string
  from: number
  to: number
  least: string
  most: string
  y: number
  letter: number
  width: number
}

/** Name above, the two figures beneath; where the band is narrow they step apart so that they do not run into each other. */
function BandWords({ name, from, to, least, most, y, letter, width }: BandWordsProps) {
  const middle = (from + to) / 2
  const narrow = to - from < letter * 7
  return (
    <>
      <text className="halo" x={Math.max(0, Math.min(from, width - name.length * letter * 0.47))} y={y + letter * 0.9}>
        {name}
      </text>
      <text
        className="fig halo"
        x={narrow ? middle - letter * 0.4 : from}
        y={y + letter * 3.8}
        textAnchor={narrow ? 'end' : 'start'}
        style={{ fill: 'var(--soft)' }}
      >
        {least}
      </text>
      <text
        className="fig halo"
        x={narrow ? middle + letter * 0.4 : to}
        y={y + letter * 3.8}
        textAnchor={narrow ? 'start' : 'end'}
        style={{ fill: 'var(--soft)' }}
      >
        {most}
      </text>
    </>
  )
}
