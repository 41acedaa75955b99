import { useState } from 'react'
import { FIT_STOP_CHOICES, FIT_STOP_WORDS, type FitStopChoice } from '#core/fit-stop.ts'
import type { Side } from '#core/runout-verdict.ts'
import { useDecideFit } from '#web/features/pressings/fit-decision-queries.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button } from '#web/ui/button.tsx'
import { AreaField } from '#web/ui/field.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

/** What the owner decides on a web that is too loose for its pin; one form a web. */
export function DecideFit({ jobId, sides }: { jobId: string; sides: readonly Side[] }) {
  return (
    <>
      {sides.map((side) => (
        <Fold key={side} open={`Decide on the ${side} web`}>
          {(shut) => <DecideForm jobId={jobId} side={side} onDone={shut} />}
        </Fold>
      ))}
    </>
  )
}

const OPTIONS = FIT_STOP_CHOICES.map((value) => ({ value, label: FIT_STOP_WORDS[value] }))

function DecideForm({ jobId, side, onDone }: { jobId: string; side: Side; onDone(): void }) {
  const [choice, setChoice] = useState<FitStopChoice | undefined>(undefined)
  const [because, setBecause] = useState('')
  const [attempt, setAttempt] = useState(0)
  const decide = useDecideFit(jobId)
  const noChoice = attempt > 0 && choice === undefined ? 'Say which way out.' : undefined
  const noReason = attempt > 0 && because.trim() === '' ? 'Write the reason in a few words.' : undefined
  const faults = [
    ...(noChoice === undefined ? [] : [{ name: 'choice', text: noChoice }]),
    ...(noReason === undefined ? [] : [{ name: 'because', text: noReason }]),
  ]
  const send = () => {
    setAttempt(attempt + 1)
    if (choice === undefined || because.trim() === '') return
    decide.mutateAsync({ side, choice, because: because.trim() }).then(onDone, () => undefined)
  }
  return (
    <Form enter="next" onSend={send} aria-label={`The ${side} web`}>
      {(faults.length > 0 || decide.isError) && (
        <ProblemSummary title="It is not decided yet." attempt={attempt} faults={faults}>
          {decide.isError && <p>{inWords(decide.error)}</p>}
        </ProblemSummary>
      )}
      <Pick label="The way out" name="choice" error={noChoice} options={OPTIONS} value={choice} onChange={setChoice} />
      {choice === 'weld' && <p>A weld hides a bad fit: under the scrap floor the gate stays shut all the same.</p>}
      {choice === 'give-back' && <p>It is given back on the page of the job, under “The owner’s word”.</p>}
      <AreaField
        label="Why this way?"
        name="because"
        hint="the whole shop reads it: no name, no price"
        maxLength={300}
        error={noReason}
        value={because}
        onChange={(event) => setBecause(event.target.value)}
      />
      <Button type="submit" busy={decide.isPending}>
        Decide it
      </Button>
    </Form>
  )
}
