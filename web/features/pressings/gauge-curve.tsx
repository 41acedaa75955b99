import type { GaugeBand } from '#core/bench/gauge-and-fit.ts'
import { figure, mm } from '#web/lib/format.ts'
import { useRoom } from '#web/lib/use-room.ts'
import { ChartFigure } from '#web/ui/chart-figure.tsx'
import { linearScale } from '#web/ui/linear-scale.ts'

export interface GaugeCurveProps {
  /** Peaks as they were typed, in the order of the taps. */
  points: readonly { widthMm: number; peakTonnes: number }[]
  /** What the fit foretells once the pin is home, t. */
  band: GaugeBand | undefined
  stepMm: number
}

/** The gauge over the way in: wide at the left, home at the right. The scale begins at nothing and holds every point and the band. */
export function GaugeCurve({ points, band, stepMm }: GaugeCurveProps) {
  const [box, { width, letter }] = useRoom<HTMLDivElement>({ width: 640, letter: 15 })
  const height = letter * 12
  const widths = points.map((point) => point.widthMm)
  const [most, least] = [Math.max(...widths), Math.min(...widths)]
  const [from, to] = [letter * 4, width - letter * 3]
  const top = Math.max(...points.map((point) => point.peakTonnes), band?.highTonnes ?? 0)
  const x = linearScale(most === least ? [most + stepMm, least - stepMm] : [most, least], [from, to])
  const y = linearScale([0, top], [height - letter * 2, letter * 1.2])
  const foretold = band === undefined ? '' : `; foretold ${figure(band.lowTonnes, 1)} to ${figure(band.highTonnes, 1)} t`
  const said = points.map((point) => `${figure(point.peakTonnes, 1)} t at ${mm(point.widthMm, stepMm)}`).join(', ')
  return (
    <ChartFigure
      boxRef={box}
      tableIs="spoken"
      table={{
        caption: 'Peak of the gauge at every tap',
        heads: ['width, mm', 'peak, t'],
        rows: points.map((point, place) => ({ key: `${place}`, cells: [mm(point.widthMm, stepMm), figure(point.peakTonnes, 1)] })),
      }}
    >
      <svg
        className="gauge-curve"
        role="img"
        aria-label={`Gauge: ${said}${foretold}.`}
        viewBox={`0 0 ${width} ${height}`}
        width={width}
        height={height}
      >
        {band !== undefined && (
          <>
            <rect
              className="gauge-band"
              x={from}
              width={to - from}
              y={y(band.highTonnes)}
              height={y(band.lowTonnes) - y(band.highTonnes)}
            />
            <text x={from - letter * 0.4} y={y(band.highTonnes) + letter * 0.35} textAnchor="end">
              {figure(band.highTonnes, 1)}
            </text>
            <text x={from - letter * 0.4} y={y(band.lowTonnes) + letter * 0.35} textAnchor="end">
              {figure(band.lowTonnes, 1)}
            </text>
          </>
        )}
        <line className="gauge-floor" x1={from} x2={to} y1={y(0)} y2={y(0)} />
        <text x={from - letter * 0.4} y={y(0)} textAnchor="end">
          0 t
        </text>
        <polyline className="gauge-line" points={points.map((point) => `${x(point.widthMm)},${y(point.peakTonnes)}`).join(' ')} />
        {points.map((point, place) => (
          // biome-ignore lint/suspicious/noArrayIndexKey: taps are never put in another order
          <circle key={place} className="gauge-point" cx={x(point.widthMm)} cy={y(point.peakTonnes)} r={letter * 0.3} />
        ))}
        <text x={from} y={height - letter * 0.5}>
          {mm(most, stepMm)}
        </text>
        <text x={to} y={height - letter * 0.5} textAnchor="end">
          {mm(least, stepMm)} mm
        </text>
      </svg>
    </ChartFigure>
  )
}
