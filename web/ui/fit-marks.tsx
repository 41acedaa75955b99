import { BINARY_DUST_MM } from '#core/limits.ts'
import { mm } from '#web/lib/format.ts'
import { useRoom } from '#web/lib/use-room.ts'
import { ChartFigure } from '#web/ui/chart-figure.tsx'
import { type End, EndShape } from '#web/ui/end-mark.tsx'
import { linearScale } from '#web/ui/linear-scale.ts'

export interface FitMarksProps {
  /** Interference of the pin in each web, mm; absent while not measured. */
  leftMm?: number | undefined
  rightMm?: number | undefined
  /** Under this the pair is scrap. */
  scrapMm: number
  /** Under this the owner must let it pass. */
  shopMm: number
  /** What the sheet of this engine asks for. */
  sheet: { minMm: number; maxMm: number }
  stepMm?: number
}

/** Where a fit lies, in words for the picture; the core decides what follows from it. */
export function fitWord(fitMm: number, at: { scrapMm: number; shopMm: number; sheet: { minMm: number; maxMm: number } }): string {
  const under = (floorMm: number) => fitMm < floorMm - BINARY_DUST_MM
  if (under(at.scrapMm)) return 'scrap'
  if (under(at.shopMm)) return 'under the shop floor'
  if (under(at.sheet.minMm)) return 'under the sheet'
  return fitMm > at.sheet.maxMm + BINARY_DUST_MM ? 'over the sheet' : 'in the sheet'
}

const ENDS: readonly End[] = ['left', 'right']

/** The pin in both webs against scrap floor, shop floor and the band of the sheet. The scale holds all of them. */
export function FitMarks({ leftMm, rightMm, scrapMm, shopMm, sheet, stepMm = 0.001 }: FitMarksProps) {
  const [box, { width, letter }] = useRoom<HTMLDivElement>({ width: 640, letter: 15 })
  const said = (value: number) => mm(value, stepMm)
  const fits = ENDS.map((end) => ({ end, name: `${end} web`, fitMm: end === 'left' ? leftMm : rightMm }))
  const known = fits.flatMap((fit) => (fit.fitMm === undefined ? [] : [fit.fitMm]))
  const all = [scrapMm, shopMm, sheet.minMm, sheet.maxMm, ...known]
  const [least, most] = [Math.min(...all), Math.max(...all)]
  const from = letter * 6
  const to = width - letter * 5.2
  const x = linearScale([least - (most - least) * 0.08, most + (most - least) * 0.08], [from, to])
  const rowHeight = letter * 2.2
  const bottom = fits.length * rowHeight
  const height = Math.round(bottom + letter * 2.8)
  // Their words lean away from each other where the two floors lie close.
  const between = (x(scrapMm) + x(shopMm)) / 2
  const close = x(shopMm) - x(scrapMm) < letter * 6.5
  const words = (fitMm: number | undefined) =>
    fitMm === undefined ? 'not measured' : `${said(fitMm)} mm, ${fitWord(fitMm, { scrapMm, shopMm, sheet })}`
  const label = `Pin in the webs: ${fits.map((fit) => `${fit.name} ${words(fit.fitMm)}`).join('; ')}. Scrap under ${said(scrapMm)}, shop floor ${said(shopMm)}, sheet ${said(sheet.minMm)} to ${said(sheet.maxMm)}.`
  return (
    <ChartFigure
      boxRef={box}
      tableIs="spoken"
      table={{
        caption: 'Pin in the webs, mm of interference',
        heads: ['where', 'mm', 'lies'],
        rows: [
          ...fits.map((fit) => ({
            key: fit.name,
            cells: [
              fit.name,
              fit.fitMm === undefined ? 'not measured' : said(fit.fitMm),
              fit.fitMm === undefined ? '' : fitWord(fit.fitMm, { scrapMm, shopMm, sheet }),
            ],
          })),
          { key: 'scrap', cells: ['scrap under', said(scrapMm), ''] },
          { key: 'shop', cells: ['shop floor', said(shopMm), ''] },
          { key: 'sheet', cells: ['sheet', `${said(sheet.minMm)} to ${said(sheet.maxMm)}`, ''] },
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
        <rect
          x={x(sheet.minMm)}
          y={letter * 0.3}
          width={x(sheet.maxMm) - x(sheet.minMm)}
          height={bottom - letter * 0.4}
          fill="var(--blue-wash)"
          stroke="var(--blue)"
          strokeWidth={1.5}
        />
        {fits.map((fit, place) => {
          const y = place * rowHeight + rowHeight / 2
          const scrap = fit.fitMm !== undefined && fitWord(fit.fitMm, { scrapMm, shopMm, sheet }) === 'scrap'
          return (
            <g key={fit.name}>
              <text x={0} y={y + letter * 0.35}>
                {fit.name}
              </text>
              <path d={`M${from} ${y}H${to}`} stroke="var(--edge)" strokeWidth={1.5} />
              {fit.fitMm !== undefined && <EndShape end={fit.end} x={x(fit.fitMm)} y={y} r={letter * 0.5} />}
              <text
                className="fig"
                x={width}
                y={y + letter * 0.4}
                textAnchor="end"
                fontSize={letter * 1.1}
                fontWeight={scrap ? 700 : undefined}
                style={{ fill: scrap ? 'var(--over)' : 'var(--ink)' }}
              >
                {fit.fitMm === undefined ? '–' : `${scrap ? '▲ ' : ''}${said(fit.fitMm)}`}
              </text>
            </g>
          )
        })}
        <path d={`M${x(shopMm)} 0V${bottom}`} stroke="var(--ink)" strokeWidth={2} />
        <path d={`M${x(scrapMm)} 0V${bottom}`} stroke="var(--over)" strokeWidth={4} />
        <text
          className="halo"
          x={close ? Math.min(x(scrapMm) + letter * 0.4, between - letter * 0.25) : x(scrapMm)}
          y={bottom + letter * 1.1}
          textAnchor={close ? 'end' : 'middle'}
          style={{ fill: 'var(--over)' }}
        >
          ▲ scrap {said(scrapMm)}
        </text>
        <text
          className="halo"
          x={close ? Math.max(x(shopMm) - letter * 0.2, between + letter * 0.25) : x(shopMm)}
          y={bottom + letter * 1.1}
          textAnchor={close ? 'start' : 'middle'}
        >
          shop {said(shopMm)}
        </text>
        <text
          className="halo"
          x={Math.min(width, x(sheet.maxMm))}
          y={bottom + letter * 2.4}
          textAnchor="end"
          style={{ fill: 'var(--soft)' }}
        >
          sheet {said(sheet.minMm)} to {said(sheet.maxMm)}
        </text>
      </svg>
    </ChartFigure>
  )
}
