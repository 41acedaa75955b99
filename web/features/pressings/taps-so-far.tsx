import { type GaugeBand, gaugeRead } from '#core/bench/gauge-and-fit.ts'
import type { Tap } from '#web/features/pressings/creep.ts'
import { GaugeCurve } from '#web/features/pressings/gauge-curve.tsx'
import { tonnes } from '#web/features/pressings/press-words.ts'
import { figure, mm } from '#web/lib/format.ts'
import { Over } from '#web/ui/notice.tsx'

export interface TapsSoFarProps {
  taps: readonly Tap[]
  band: GaugeBand | undefined
  stepMm: number
}

/** Every tap since the webs were last parted, newest first: where it left the width, how far it moved it, what the gauge showed. */
export function TapsSoFar({ taps, band, stepMm }: TapsSoFarProps) {
  if (taps.length === 0) return null
  const curve = taps.flatMap(({ mm: widthMm, peakTonnes }) => (peakTonnes === undefined ? [] : [{ widthMm, peakTonnes }]))
  return (
    <section className="taps" aria-label="Taps so far">
      <h2>Taps so far</h2>
      {band !== undefined && (
        <p className="soft">
          Fully home the fit lets expect {figure(band.lowTonnes, 1)} to {tonnes(band.highTonnes)}.
        </p>
      )}
      {curve.length > 1 && <GaugeCurve points={curve} band={band} stepMm={stepMm} />}
      <ol className="tap-list" aria-label="Taps, newest first">
        {taps
          .map((tap, place) => ({ ...tap, moved: place === 0 ? undefined : taps[place - 1]!.mm - tap.mm }))
          .reverse()
          .map((tap) => (
            <li key={tap.id}>
              <span className="fig">{mm(tap.mm, stepMm)}</span>
              {tap.moved !== undefined && <span>moved {mm(tap.moved, stepMm)}</span>}
              {tap.peakTonnes !== undefined && <span>{tonnes(tap.peakTonnes)} at the gauge</span>}
              {tap.peakTonnes !== undefined && band !== undefined && <AtTheGauge peak={tap.peakTonnes} band={band} />}
            </li>
          ))}
      </ol>
    </section>
  )
}

/** On its way a pin goes easier than home, so that only a peak above the band says something before the aim. */
function AtTheGauge({ peak, band }: { peak: number; band: GaugeBand }) {
  const { verdict, says } = gaugeRead(peak, band)
  return verdict === 'above' || verdict === 'far-above' ? <Over>{says}</Over> : null
}
