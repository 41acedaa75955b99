import type { FitVerdict } from '#core/fit.ts'
import type { Side } from '#core/runout-verdict.ts'

/** The ways out where a pin is too loose in a web, in the order in which they are thought of. Common practice, no source. */
export const FIT_STOP_CHOICES = ['matched-half', 'oversize-pin', 'bore-and-sleeve', 'weld', 'give-back'] as const
export type FitStopChoice = (typeof FIT_STOP_CHOICES)[number]

/** What each means, as the history and the screens say it. */
export const FIT_STOP_WORDS: Readonly<Record<FitStopChoice, string>> = {
  'matched-half': 'a matched used half, or a new web',
  'oversize-pin': 'an oversize pin, made to order',
  'bore-and-sleeve': 'bore the web out and sleeve it',
  weld: 'weld it, as the last resort',
  'give-back': 'give it back unbuilt',
}

/** After these the bore of that web is another one, and its life begins anew. */
export const RENEWS_THE_WEB: readonly FitStopChoice[] = ['matched-half', 'bore-and-sleeve']

export type FitStopDecision = { ok: true; says: string } | { ok: false; detail: string }

/**
 * Whether there is anything to decide on a web: its fit has to be known and under one of the floors. A weld is no way past
 * the scrap floor: it hides a bad fit, and the gate stays shut.
 *
 * @example decideFitStop({ side: 'left', verdict: 'stop', choice: 'matched-half' }).says // 'The left web, too loose for its pin: a matched used half, or a new web.'
 * @example decideFitStop({ side: 'left', verdict: 'go', choice: 'weld' }).ok // false
 *
 * Source: common practice, no source.
 */
export function decideFitStop({
  side,
  verdict,
  choice,
}: {
  side: Side
  verdict: FitVerdict | null
  choice: FitStopChoice
}): FitStopDecision {
  if (verdict === null) return { ok: false, detail: `The fit of the ${side} web is not known yet: measure its bore and the pin first.` }
  if (verdict === 'go') return { ok: false, detail: `The fit of the ${side} web is good: there is nothing to decide on it.` }
  return { ok: true, says: `The ${side} web, too loose for its pin: ${FIT_STOP_WORDS[choice]}.` }
}
