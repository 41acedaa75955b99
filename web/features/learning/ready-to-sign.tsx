import type { PersonLearning } from '#contract/learning.ts'
import { figure } from '#web/lib/format.ts'

type Ready = PersonLearning['ready']
type Share = Ready['firstCheck']

/** `26 of 43`, or that there is none yet. */
function shareWords(share: Share): string {
  return share.of === 0 ? 'none checked yet' : `${share.count} of ${share.of}`
}

function lastTenWords(share: Share): string {
  return share.of === 0 ? '' : `, last ${share.of === 10 ? 'ten' : share.of} ${share.count} of ${share.of}`
}

function perCent(share: number | undefined): string {
  return share === undefined ? '–' : `${figure(100 * share, 0)} %`
}

const NONE_SIGNED = 'none signed yet'

/** What tells whether a hand is ready to sign; counts rather than bare per cents. */
export function ReadyToSign({ ready }: { ready: Ready }) {
  const { firstCheck, firstCheckLastTen, secondDiffered, movesFirstTen, movesLastTen, truingShareFirstTen, truingShareLastTen } = ready
  return (
    <section aria-labelledby="ready-to-sign">
      <h2 id="ready-to-sign">Ready to sign?</h2>
      <dl className="says">
        <dt>Inside the house limit at first check</dt>
        <dd>
          {shareWords(firstCheck)}
          {lastTenWords(firstCheckLastTen)}
        </dd>
        <dt>Second reader differed by more than the doubt</dt>
        <dd>{shareWords(secondDiffered)}</dd>
        <dt>Moves a crank, first ten and last ten</dt>
        <dd>
          {movesFirstTen === undefined && movesLastTen === undefined
            ? NONE_SIGNED
            : `${movesFirstTen === undefined ? '–' : figure(movesFirstTen, 0)}, ${movesLastTen === undefined ? '–' : figure(movesLastTen, 0)}`}
        </dd>
        <dt>Share of the time spent truing, first ten and last ten</dt>
        <dd>
          {truingShareFirstTen === undefined && truingShareLastTen === undefined
            ? NONE_SIGNED
            : `${perCent(truingShareFirstTen)}, now ${perCent(truingShareLastTen)}`}
        </dd>
      </dl>
      <p className="soft">
        Of rebuilds signed. First check: the second person’s first set within our limit at both ends. Moves: geometric mean.
      </p>
    </section>
  )
}
