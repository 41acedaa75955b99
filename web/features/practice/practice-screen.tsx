import '#web/features/practice/practice.css'
import { useState } from 'react'
import type { PracticeRun } from '#contract/practice.ts'
import { MoveForm } from '#web/features/practice/move-form.tsx'
import { PracticeGrid } from '#web/features/practice/practice-grid.tsx'
import { useEndPractice, usePracticeMove } from '#web/features/practice/queries.ts'
import { SwingsRead } from '#web/features/practice/swings-read.tsx'
import { ToldAfter } from '#web/features/practice/told-after.tsx'
import { TurnItRound } from '#web/features/practice/turn-it-round.tsx'
import { HELD_WORDS } from '#web/features/practice/words.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'
import { CrankEnd } from '#web/ui/crank-end.tsx'
import { RunChart } from '#web/ui/run-chart.tsx'

/** A practice crank under the dials: read, say what will come, hit, be told. No fault and no advice of the book here. */
export function PracticeScreen({ run }: { run: PracticeRun }) {
  const number = run.readings.length - 1
  // Which reading has been taken to its end; a move leads back to reading.
  const [readTo, setReadTo] = useState(-1)
  const reading = run.readings[number]
  if (reading === undefined) return null
  const isRead = readTo >= number
  return (
    <div className="at-bench practice" data-state={isRead ? 'striking' : 'reading'}>
      <p className="practice-mark">
        <b>Practice, not in the book.</b> {HELD_WORDS[run.crank.held]}. {placesOf(run.crank)}
      </p>
      {isRead ? <Striking key={number} run={run} /> : <TurnItRound key={number} reading={reading} onRead={() => setReadTo(number)} />}
    </div>
  )
}

/** `Supports 53 and 43 mm from the centre; dials 51 and 58 mm outboard of them.` Both dials stand on the same side of their supports. */
function placesOf({ supportLeftMm, supportRightMm, dialLeftMm, dialRightMm }: PracticeRun['crank']): string {
  const side = dialLeftMm > 0 ? 'outboard' : 'inboard'
  return `Supports ${supportLeftMm} and ${supportRightMm} mm from the centre; dials ${Math.abs(dialLeftMm)} and ${Math.abs(dialRightMm)} mm ${side} of them.`
}

function Striking({ run }: { run: PracticeRun }) {
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
          busy={move.isPending}
          error={move.error === null ? undefined : `Nothing was done. ${inWords(move.error)}`}
          onMove={(made, said) => move.mutate({ n: run.moves.length, move: made, said })}
        />
        <PutDown run={run} />
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

function PutDown({ run }: { run: PracticeRun }) {
  const end = useEndPractice(run.id)
  const call = (called: 'true' | 'no-hand' | 'left') => end.mutate({ called })
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
