import '#web/features/practice/practice.css'
import { useState } from 'react'
import type { PracticeRun } from '#contract/practice.ts'
import { MoveForm } from '#web/features/practice/move-form.tsx'
import { type MoveGiven, type PracticeDraft, readPracticeDraft, startReading } from '#web/features/practice/practice-draft.ts'
import { PracticeGrid } from '#web/features/practice/practice-grid.tsx'
import { useEndPractice, usePracticeMove } from '#web/features/practice/queries.ts'
import { SwingsRead } from '#web/features/practice/swings-read.tsx'
import { ToldAfter } from '#web/features/practice/told-after.tsx'
import { TurnItRound } from '#web/features/practice/turn-it-round.tsx'
import { HELD_WORDS } from '#web/features/practice/words.ts'
import { tabletDrafts, useDraft } from '#web/lib/draft.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'
import { CrankEnd } from '#web/ui/crank-end.tsx'
import { RunChart } from '#web/ui/run-chart.tsx'
import { Loading } from '#web/ui/states.tsx'

/** A practice crank under the dials, gone on with where it was left. */
export function PracticeScreen({ run }: { run: PracticeRun }) {
  const draft = useDraft(`practice:${run.personId}`, readPracticeDraft, tabletDrafts)
  const n = run.readings.length - 1
  if (draft.state === 'reading') return <Loading what="how far it was read" />
  const isOfThis = draft.found?.runId === run.id && draft.found.n === n
  return (
    // A move leads back to reading.
    <UnderTheDials
      key={n}
      run={run}
      found={isOfThis ? draft.found : undefined}
      onChange={draft.keep}
      onPutDown={() => void draft.clear()}
    />
  )
}

interface UnderTheDialsProps {
  run: PracticeRun
  found: PracticeDraft | undefined
  onChange(draft: PracticeDraft): void
  onPutDown(): void
}

/** Read, say what will come, hit, be told. No fault and no advice of the book here. */
function UnderTheDials({ run, found, onChange, onPutDown }: UnderTheDialsProps) {
  const n = run.readings.length - 1
  const [now, setNow] = useState(found ?? startReading(run.id, n))
  const go = (more: Partial<PracticeDraft>) => {
    const next = { ...now, ...more }
    setNow(next)
    onChange(next)
  }
  const reading = run.readings[n]
  if (reading === undefined) return null
  return (
    <div className="at-bench practice" data-state={now.isRead ? 'striking' : 'reading'}>
      <p className="practice-mark">
        <b>Practice, not in the book.</b> {HELD_WORDS[run.crank.held]}. {placesOf(run.crank)}
      </p>
      {now.isRead ? (
        <Striking run={run} given={now.given} onGiven={(given) => go({ given })} onPutDown={onPutDown} />
      ) : (
        <TurnItRound reading={reading} at={now.at} onTurn={(at) => go({ at })} onRead={() => go({ isRead: true })} />
      )}
    </div>
  )
}

/** `Supports 53 and 43 mm from the centre; dials 51 and 58 mm outboard of them.` Both dials stand on the same side of their supports. */
function placesOf({ supportLeftMm, supportRightMm, dialLeftMm, dialRightMm }: PracticeRun['crank']): string {
  const side = dialLeftMm > 0 ? 'outboard' : 'inboard'
  return `Supports ${supportLeftMm} and ${supportRightMm} mm from the centre; dials ${Math.abs(dialLeftMm)} and ${Math.abs(dialRightMm)} mm ${side} of them.`
}

interface StrikingProps extends Pick<UnderTheDialsProps, 'run' | 'onPutDown'> {
  given: MoveGiven
  onGiven(given: MoveGiven): void
}

function Striking({ run, given, onGiven, onPutDown }: StrikingProps) {
  const move = usePracticeMove(run.id)
  const reading = run.readings.at(-1)
  if (reading === undefined) return null
  const high = (end: { tirMm: number; highAtDeg: number }) => (end.tirMm <= run.worthMm ? undefined : end.highAtDeg)
  return (
    <div className="practice-striking">
      <section aria-label="What it reads">
        <SwingsRead run={run} />
        <ToldAfter run={run} />
        <PracticeGrid marks={reading.marks} />
        <CrankEnd leftHighAtDeg={high(reading.left)} rightHighAtDeg={high(reading.right)} size={320} />
      </section>
      <section aria-label="What to do">
        <MoveForm
          given={given}
          onGiven={onGiven}
          busy={move.isPending}
          error={move.error === null ? undefined : `Nothing was done. ${inWords(move.error)}`}
          onMove={(made, said) => move.mutate({ n: run.moves.length, move: made, said })}
        />
        <PutDown run={run} onPutDown={onPutDown} />
        {run.readings.length > 1 && (
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
        )}
      </section>
    </div>
  )
}

function PutDown({ run, onPutDown }: Pick<UnderTheDialsProps, 'run' | 'onPutDown'>) {
  const end = useEndPractice(run.id)
  const call = (called: 'true' | 'no-hand' | 'left') => end.mutateAsync({ called }).then(onPutDown, () => undefined)
  return (
    <section className="practice-put-down" aria-label="Put it down">
      <p>Or put it down; then you see what was wrong with it.</p>
      <div className="move-acts">
        <Button busy={end.isPending} onClick={() => call('true')}>
          It is true
        </Button>
        <Button busy={end.isPending} onClick={() => call('no-hand')}>
          No hand cures this
        </Button>
        <Button busy={end.isPending} onClick={() => call('left')}>
          Leave it
        </Button>
      </div>
      {end.error !== null && (
        <p role="alert" className="wrong">
          It is not put down. {inWords(end.error)}
        </p>
      )}
    </section>
  )
}
