import type { ReactNode } from 'react'
import { SIDES } from '#core/runout-verdict.ts'
import type { WebFits } from '#web/features/measurements/fit-now.tsx'

export interface FitStopProps {
  fits: WebFits
  /** The pin measured is the one that came out: the kit's own may be tighter. */
  ofOldPin: boolean
  /** The way to have the customer asked. */
  ask?: ReactNode
}

/** What stop means where a fit is under a floor. Ways out: common practice, no source. */
export function FitStop({ fits, ofOldPin, ask }: FitStopProps) {
  const scrap = SIDES.filter((side) => fits[side]?.verdict === 'stop')
  const low = SIDES.filter((side) => fits[side]?.verdict === 'below-shop-floor')
  if (scrap.length + low.length === 0) return null
  const named = scrap.length > 0 ? scrap : low
  const webs = named.length === 2 ? 'both webs' : `the ${named[0]} web`
  return (
    <section className="fit-stop" aria-label="What stop means">
      <h2>Stop: {webs}</h2>
      <ul>
        <li>
          {ofOldPin ? 'Measure the pin of the kit in it before anything else.' : 'Measure pin and bore once more, both on one standard.'}
        </li>
        <li>Still loose: a matched half, or a new web.</li>
        <li>A weld is no cure for a bad fit; it hides it.</li>
        <li>The customer is asked before anything is bought.</li>
        <li>
          {scrap.length > 0
            ? 'Nobody can let a fit under the scrap floor pass.'
            : 'The owner may let it pass with a reason; that prints on the certificate.'}
        </li>
      </ul>
      {ask}
    </section>
  )
}
