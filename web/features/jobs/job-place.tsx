import { useState } from 'react'
import type { Job } from '#contract/jobs.ts'
import type { Person } from '#contract/people.ts'
import { usePlace } from '#web/features/jobs/queries.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { SelectField, TextField } from '#web/ui/field.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'

type Hand = Pick<Person, 'id' | 'name' | 'barred'>

/** Where it lies and who has it. */
export function JobPlace({ job, hands }: { job: Job; hands: readonly Hand[] }) {
  return (
    <section aria-label="Where it is">
      <h2>Where it is</h2>
      <p>
        {job.place === undefined ? <span className="soft">No place is said.</span> : job.place}
        {job.holder === undefined ? '' : ` · ${job.holder} has it`}
      </p>
      <Fold open="It moved">{(shut) => <PlaceForm job={job} hands={hands} onShut={shut} />}</Fold>
    </section>
  )
}

function PlaceForm({ job, hands, onShut }: { job: Job; hands: readonly Hand[]; onShut(): void }) {
  const move = usePlace(job.id)
  const had = hands.find((hand) => hand.name === job.holder)?.id ?? ''
  const [place, setPlace] = useState(job.place ?? '')
  const [holder, setHolder] = useState(had)
  const send = () => {
    const change = {
      ...(place.trim() === (job.place ?? '') ? {} : { place: place.trim() === '' ? null : place.trim() }),
      ...(holder === had ? {} : { holderId: holder === '' ? null : holder }),
    }
    if (Object.keys(change).length === 0) onShut()
    else move.mutate(change, { onSuccess: onShut })
  }
  return (
    <Form enter="next" onSend={send} aria-label="It moved">
      {move.isError && (
        <ProblemSummary title="It is not written down.">
          <p>{inWords(move.error)}</p>
        </ProblemSummary>
      )}
      <TextField
        label="Where it lies now"
        hint="rack, shelf, bench"
        maxLength={60}
        value={place}
        onChange={(event) => setPlace(event.target.value)}
      />
      <SelectField
        label="Who has it"
        nothing="nobody"
        choices={hands.filter((hand) => !hand.barred || hand.id === had).map((hand) => ({ value: hand.id, label: hand.name }))}
        value={holder}
        onChange={(event) => setHolder(event.target.value)}
      />
      <Buttons>
        <Button type="submit" busy={move.isPending}>
          Put it there
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
