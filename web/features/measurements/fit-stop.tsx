import type { ReactNode } from 'react'
import type { FitStop as Decided } from '#contract/fit-stop.ts'
import { FIT_STOP_CHOICES, FIT_STOP_WORDS } from '#core/fit-stop.ts'
import { SIDES, type Side } from '#core/runout-verdict.ts'
import type { WebFits } from '#web/features/measurements/fit-now.tsx'

export interface FitStopProps {
  fits: WebFits
  /** The pin measured is the one that came out: the kit's own may be tighter. */
  ofOldPin: boolean
  /** What the owner decided on this job so far, oldest first. */
  decided?: readonly Decided[]
  /** The form to decide with, where somebody may. */
  decide?: (sides: readonly Side[]) => ReactNode
  /** The way to have the customer asked. */
  ask?: ReactNode
}

/** The ways out in one breath, in their order. */
const WAYS_OUT = FIT_STOP_CHOICES.map((choice) => FIT_STOP_WORDS[choice]).join('; ')

/** What stop means where a fit is under a floor. Ways out: common practice, no source. */
export function FitStop({ fits, ofOldPin, decided = [], decide, ask }: FitStopProps) {
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
        <li>Still loose: {WAYS_OUT}. The owner decides.</li>
        <li>A weld is no cure for a bad fit; it hides it.</li>
        <li>The customer is asked before anything is bought.</li>
        <li>
          {scrap.length > 0
            ? 'Nobody can let a fit under the scrap floor pass.'
            : 'The owner may let it pass with a reason; that prints on the certificate.'}
        </li>
      </ul>
      {decided
        .filter((one) => [...scrap, ...low].includes(one.side))
        .map((one) => (
          <p key={`${one.side} ${one.at}`}>
            <b>
              {one.side} web: {one.says}.
            </b>{' '}
            {one.because} <span className="soft">Decided by {one.by}.</span>
          </p>
        ))}
      {decide?.([...scrap, ...low])}
      {ask}
    </section>
  )
}
