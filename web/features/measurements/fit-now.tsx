import '#web/features/measurements/measurements.css'
import { fitOfWeb, scrapFloorMm } from '#core/bench/fit-of-web.ts'
import { gaugeBand, gaugeRead } from '#core/bench/gauge-and-fit.ts'
import type { EngineSheet } from '#core/bench/limits-at-dial.ts'
import type { FitAnswer } from '#core/fit.ts'
import { SIDES, type Side } from '#core/runout-verdict.ts'
import type { SheetFigures } from '#web/features/measurements/kinds.ts'
import { figure, mm } from '#web/lib/format.ts'
import { FitMarks } from '#web/ui/fit-marks.tsx'
import { Over } from '#web/ui/notice.tsx'

const STEP_MM = 0.001

/** Diameters of one pin end and of the bore it sits in, mm; empty while not read. */
export interface PinAndBore {
  pinMm: readonly number[]
  boreMm: readonly number[]
}

export type WebFits = Readonly<Partial<Record<Side, FitAnswer>>>

export interface FitNowProps {
  webs: Readonly<Record<Side, PinAndBore>>
  figures: SheetFigures
  /** Share of the pin diameter under which a web is scrap. */
  scrapShare: number
  /** The pin measured is the one that came out. */
  ofOldPin: boolean
  /** Peaks of the gauge read so far, t. */
  peaks?: Readonly<Partial<Record<Side, number>>>
}

/** The fit of both webs by the sum that the book uses; a web without pin or bore has none. */
export function fitsOf({ webs, figures, scrapShare }: Pick<FitNowProps, 'webs' | 'figures' | 'scrapShare'>): WebFits {
  const sheet: EngineSheet = figures
  const found = SIDES.flatMap((side) => {
    const { pinMm, boreMm } = webs[side]
    if (pinMm.length === 0 || boreMm.length === 0) return []
    if ([...pinMm, ...boreMm].some((one) => one < 1 || one > 300)) return []
    const readings = { pinOf: 'kit' as const, pinMm: [...pinMm], boreMm: [...boreMm], pinAt: '', boreAt: '' }
    return [[side, fitOfWeb(readings, figures.engagementMm ?? 0, { scrapShare, sheet })] as const]
  })
  return Object.fromEntries(found)
}

/** Pin in the webs against scrap, shop floor and sheet, with the tonnage that goes with it. Worked at once, from what is keyed. */
export function FitNow(props: FitNowProps) {
  const { webs, figures, scrapShare, ofOldPin, peaks = {} } = props
  const fits = fitsOf(props)
  const scrapMm = scrapFloorMm(
    SIDES.flatMap((side) => webs[side].boreMm),
    { scrapShare, sheet: figures },
  )
  const { shopFloorMm, fitMinMm, fitMaxMm } = figures
  const known = SIDES.flatMap((side) => {
    const fit = fits[side]
    return fit === undefined ? [] : [{ side, fit }]
  })
  if (known.length === 0 || scrapMm === 0) return <p className="soft">The fit shows here once a pin end and its bore are in.</p>
  return (
    <section className="fit-now" aria-label="Fit of the pin">
      <h2>{ofOldPin ? 'The old pin in the webs' : 'Pin of the kit in the webs'}</h2>
      {shopFloorMm !== undefined && fitMinMm !== undefined && fitMaxMm !== undefined ? (
        <FitMarks
          leftMm={fits.left?.interferenceMm}
          rightMm={fits.right?.interferenceMm}
          scrapMm={scrapMm}
          shopMm={shopFloorMm}
          sheet={{ minMm: fitMinMm, maxMm: fitMaxMm }}
        />
      ) : (
        <p className="soft">
          Scrap floor {mm(scrapMm, STEP_MM)}. The sheet of this engine has no {shopFloorMm === undefined ? 'shop floor' : 'window'} for the
          fit.
        </p>
      )}
      <ul className="fit-words">
        {known.map(({ side, fit }) => (
          <li key={side}>
            <FitWords side={side} fit={fit} figures={figures} scrapMm={scrapMm} peak={peaks[side]} />
          </li>
        ))}
      </ul>
    </section>
  )
}

interface FitWordsProps {
  side: Side
  fit: FitAnswer
  figures: SheetFigures
  scrapMm: number
  peak: number | undefined
}

function FitWords({ side, fit, figures, scrapMm, peak }: FitWordsProps) {
  const at = mm(fit.interferenceMm, STEP_MM)
  const held = `${side} web ${fit.interferenceMm < 0 ? `loose by ${mm(-fit.interferenceMm, STEP_MM)}` : at}`
  return (
    <>
      {fit.verdict === 'stop' && <Over>{`${held}: under the scrap floor of ${mm(scrapMm, STEP_MM)}. Stop.`}</Over>}
      {fit.verdict === 'below-shop-floor' && (
        <>
          <Over>{`${held}: under our floor of ${mm(figures.shopFloorMm ?? 0, STEP_MM)}`}</Over>. Only the owner lets it pass.
        </>
      )}
      {fit.verdict === 'go' && <b>{held}</b>}
      {figures.engagementMm !== undefined && fit.interferenceMm > 0 && (
        <span className="foretold">
          {' '}
          {tonnesForetold(fit)} foretold{peak === undefined ? '' : `, ${figure(peak, 1)} t read${peakWord(peak, fit)}`}
        </span>
      )}
    </>
  )
}

export function tonnesForetold({ pressForceKN }: Pick<FitAnswer, 'pressForceKN'>): string {
  const { lowTonnes, highTonnes } = gaugeBand(pressForceKN)
  return `${figure(lowTonnes, 1)} to ${figure(highTonnes, 1)} t`
}

/** What a peak outside its band asks to be looked for; within it says nothing. */
function peakWord(peak: number, { pressForceKN }: FitAnswer): string {
  const { says } = gaugeRead(peak, gaugeBand(pressForceKN))
  return says === undefined ? '' : `. ${says}`
}
