import type { ReactNode } from 'react'
import type { PersonLearning } from '#contract/learning.ts'
import { figure, hours } from '#web/lib/format.ts'

type Line = NonNullable<PersonLearning['line']>

/** Where the fitted line stands at the last crank that it is fitted to. */
function lastFitted(learning: PersonLearning): number | undefined {
  const fitted = learning.points.flatMap((point) => (point.hollow === undefined && point.n !== undefined ? [point.n] : []))
  return fitted.length === 0 ? undefined : Math.max(...fitted)
}

function perCent(share: number): string {
  return figure(100 * share, 0)
}

/** What may be said of a line: the rate only where the way is long enough, else the level with its interval, and why. */
export function LineSays({ learning }: { learning: PersonLearning }) {
  const { line, mayFitRate, noRateBecause, level, targetHours } = learning
  return (
    <section aria-labelledby="line-says">
      <h2 id="line-says">What the line says</h2>
      {mayFitRate && line !== undefined ? (
        <RateSays learning={learning} line={line} />
      ) : (
        <>
          {noRateBecause !== undefined && <p>{noRateBecause}</p>}
          <dl className="says">
            {level !== undefined && (
              <Said name={`Level, ${level.of} cranks`}>
                {hours(level.hours, 2)}{' '}
                <small>
                  {figure(level.low, 2)} to {figure(level.high, 2)}
                </small>
              </Said>
            )}
            <Said name="Shop’s target">{hours(targetHours)}</Said>
          </dl>
          {level !== undefined && <p className="soft">Geometric mean of the hours a crank, and where it lies 19 times in 20.</p>}
        </>
      )}
    </section>
  )
}

function Said({ name, children }: { name: string; children: ReactNode }) {
  return (
    <>
      <dt>{name}</dt>
      <dd>{children}</dd>
    </>
  )
}

function RateSays({ learning, line }: { learning: PersonLearning; line: Line }) {
  const { power, predictions, reachesTarget } = line
  const last = lastFitted(learning)
  const now = predictions.find((one) => one.n === last)
  return (
    <dl className="says">
      <Said name="First crank">{hours(power.firstHours)}</Said>
      <Said name="Each doubling">
        {perCent(power.rate)} %{' '}
        <small>
          {perCent(2 ** power.exponentInterval.low)} to {perCent(2 ** power.exponentInterval.high)}
        </small>
      </Said>
      {now !== undefined && <Said name={`Now, crank ${now.n}`}>{hours(now.hours)}</Said>}
      <Said name="Shop’s target">{hours(learning.targetHours)}</Said>
      <Said name="Gets there at crank">{crossingWords(reachesTarget, last ?? 0)}</Said>
    </dl>
  )
}

/** Where the line meets the target; not said where the hours cannot be told from a level. */
function crossingWords(reached: Line['reachesTarget'], last: number): string {
  if (reached === undefined) return 'not asked'
  if (reached === null) return 'cannot be said: it may as well be level'
  const at = Math.ceil(reached.n)
  if (at > 100_000) return 'beyond 100,000'
  return at <= last ? `${at}, behind already` : String(at)
}
