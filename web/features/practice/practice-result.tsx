import '#web/features/practice/practice.css'
import type { PracticeRun } from '#contract/practice.ts'
import { CrankDrawn } from '#web/features/practice/crank-drawn.tsx'
import { dialText, HELD_WORDS, LEVEL_WORDS, moveDone } from '#web/features/practice/words.ts'
import { counted } from '#web/lib/format.ts'
import { GoLink } from '#web/ui/button.tsx'
import { RunChart } from '#web/ui/run-chart.tsx'

type Result = NonNullable<PracticeRun['result']>

/** A practice crank that was put down: was the call right, what was wrong with it, and each move in truth. */
export function PracticeResult({ run, result, own }: { run: PracticeRun; result: Result; own: boolean }) {
  const { score } = result
  return (
    <div className="at-bench practice">
      <p className="practice-mark">
        <b>Practice, not in the book.</b> It was dealt as: {LEVEL_WORDS[run.level]}. It lay: {HELD_WORDS[run.crank.held]}.
      </p>
      <h2>{callSays(result, run)}</h2>
      <div className="practice-figures">
        <section aria-labelledby="practice-score">
          <h2 id="practice-score">What came of it</h2>
          <dl className="faults">
            <Figure says="Worse end, in truth" value={dialText(score.worstMm)} />
            <Figure says="Best that a hand could reach" value={dialText(score.bestMm)} />
            <Figure says="Moves" value={String(score.moves)} />
            <Figure says="A good hand, same crank, same luck" value={goodSays(result)} />
            <Figure says="You said wrong by, mean" value={score.saidOffMm === undefined ? '–' : dialText(score.saidOffMm)} />
            <Figure
              says="Saying “nothing will move” would be wrong by"
              value={score.unchangedOffMm === undefined ? '–' : dialText(score.unchangedOffMm)}
            />
            <Figure says="Moves the wrong way" value={String(score.wrongWay)} />
          </dl>
        </section>
        <section aria-labelledby="practice-faults">
          <h2 id="practice-faults">What was wrong with it</h2>
          <table className="plain-table">
            <caption className="spoken">Faults, mm</caption>
            <thead>
              <tr>
                <td />
                <th scope="col" className="n">
                  as taken
                </th>
                <th scope="col" className="n">
                  put down
                </th>
              </tr>
            </thead>
            <tbody>
              {faultRows(run, result).map(([name, before, after]) => (
                <tr key={name}>
                  <th scope="row">{name}</th>
                  <td className="n">{before}</td>
                  <td className="n">{after}</td>
                </tr>
              ))}
            </tbody>
          </table>
          <p className="soft">
            Swing + is the right half towards mark 3; open + is wider opposite the pin, at the rims. Throw and cock no hand cures.
          </p>
        </section>
      </div>
      <CrankDrawn run={run} />
      <section aria-labelledby="practice-moves">
        <h2 id="practice-moves">Move by move</h2>
        {run.moves.length === 0 ? <p className="soft">No move was made.</p> : <MovesInTruth run={run} result={result} />}
        <RunChart
          sets={run.readings.map((one, place) => ({
            key: String(place),
            name: place === 0 ? 'as taken' : `after move ${place}`,
            leftMm: one.left.tirMm,
            rightMm: one.right.tirMm,
          }))}
          limitMm={run.limitMm}
          stepMm={run.stepMm}
        />
        <p>
          The good hand: {result.good.moves.length === 0 ? 'no move' : result.good.moves.map(moveDone).join('; ')}
          {result.good.called === undefined
            ? '.'
            : result.good.called === 'true'
              ? '; then called it true.'
              : '; then called it beyond a hand.'}
        </p>
      </section>
      {own && <GoLink to="/bench/practice">To the practice bench</GoLink>}
    </div>
  )
}

function Figure({ says, value }: { says: string; value: string }) {
  return (
    <div>
      <dt>{says}</dt>
      <dd className="fig">{value}</dd>
    </div>
  )
}

function callSays({ called, curable, score }: Result, run: PracticeRun): string {
  const truth = curable ? 'a hand could bring it in' : 'no hand cures it'
  if (called === 'left') return `Left without a call; ${truth}.`
  if (called === 'no-hand') return score.calledRight ? 'Rightly called: no hand cures it.' : `Called beyond a hand, and ${truth}.`
  if (score.calledRight) return 'Rightly called true.'
  return curable
    ? `Called true, and it swings ${dialText(score.worstMm)} where ${dialText(run.limitMm)} is allowed.`
    : 'Called true, and no hand can make it so.'
}

function goodSays({ good }: Result): string {
  return good.called === undefined ? `${good.moves.length}, not in` : String(good.moves.length)
}

function faultRows({ crank }: PracticeRun, { faultsAtStart, faultsAtEnd }: Result): [string, string, string][] {
  const rim = 2 * crank.rimRadiusMm
  const row = (name: string, of: (faults: Result['faultsAtStart']) => number): [string, string, string] => [
    name,
    signedText(of(faultsAtStart)),
    signedText(of(faultsAtEnd)),
  ]
  return [
    row('Swing', (faults) => faults.swingMm),
    row('Open at the rims', (faults) => faults.openRad * rim),
    row('Throw', (faults) => faults.throwMm),
    row('Cock over the rims', (faults) => faults.cockedRad * rim),
  ]
}

function signedText(mm: number): string {
  const written = dialText(mm)
  return mm > 0 && /[1-9]/.test(written) ? `+${written}` : written
}

function MovesInTruth({ run, result }: { run: PracticeRun; result: Result }) {
  return (
    <ol className="practice-moves">
      {run.moves.map(({ n, move, said }) => {
        const truth = result.moves[n]
        const came = run.readings[n + 1]
        if (truth === undefined || came === undefined) return null
        return (
          <li key={n}>
            {moveDone(move)}: {truth.rimMm === 0 ? 'the joint stuck' : `the rim went ${dialText(truth.rimMm)}`}
            {truth.wrongWay && (
              <>
                , <b>the wrong way</b>
              </>
            )}
            . Said {dialText(said.leftTirMm)} and {dialText(said.rightTirMm)}, came {dialText(came.left.tirMm)} and{' '}
            {dialText(came.right.tirMm)}.
          </li>
        )
      })}
      <li className="spoken">{counted(run.moves.length, 'move')} in all</li>
    </ol>
  )
}
