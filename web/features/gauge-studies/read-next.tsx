import { useState } from 'react'
import type { GaugeStudy } from '#contract/gauge-studies.ts'
import { readLength } from '#core/units.ts'
import { useReadPart, useStrikeReading } from '#web/features/gauge-studies/queries.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { Form } from '#web/ui/form.tsx'
import { lengthReadBack, MeasureField } from '#web/ui/measure-field.tsx'
import { Reason } from '#web/ui/reason.tsx'

const MOST_MM = 1000

/** The part that comes next and its figure, large; the last one can be struck out where it was mistyped. */
export function ReadNext({ study, next }: { study: GaugeStudy; next: NonNullable<GaugeStudy['next']> | null }) {
  return (
    <section className="read-next" aria-labelledby="read-next">
      <h2 id="read-next">{next === null ? 'Your readings are all in.' : 'Read next'}</h2>
      {next === null ? (
        <p>It opens when the others have read too.</p>
      ) : (
        <Turn key={`${next.round} ${next.part}`} study={study} next={next} />
      )}
      {study.last !== undefined && <LastOne key={study.last.id} study={study} last={study.last} />}
    </section>
  )
}

function Turn({ study, next }: { study: GaugeStudy; next: NonNullable<GaugeStudy['next']> }) {
  const take = useReadPart(study.id)
  const [typed, setTyped] = useState('')
  const [fault, setFault] = useState<string | undefined>(undefined)
  const part = study.parts[next.part - 1] ?? ''
  const send = () => {
    const read = readLength(typed, 'mm')
    const wrong = !read.ok ? read.detail : Math.abs(read.value.mm) > MOST_MM ? `At most ${MOST_MM} mm.` : undefined
    setFault(wrong)
    if (read.ok && wrong === undefined) take.mutate({ ...next, mm: read.value.mm })
  }
  return (
    <Form enter="sends" onSend={send} aria-label={`Reading of ${part}`}>
      <p className="read-part" role="status">
        <b>{part}</b>{' '}
        <span className="soft">
          round {next.round} of {study.rounds}
        </span>
      </p>
      <MeasureField label={study.what} name="mm" unit="mm" value={typed} error={fault} autoFocus onChange={setTyped} />
      {take.isError && <p className="wrong">{inWords(take.error)}</p>}
      <Buttons>
        <Button type="submit" kind="go" busy={take.isPending}>
          It reads that
        </Button>
      </Buttons>
    </Form>
  )
}

function LastOne({ study, last }: { study: GaugeStudy; last: NonNullable<GaugeStudy['last']> }) {
  const strike = useStrikeReading()
  return (
    <Reason
      open={`Mistyped: ${study.parts[last.part - 1] ?? ''} at ${lengthReadBack(last.mm, 'mm')}`}
      label="What was wrong with it?"
      confirm="Strike it out"
      most={200}
      busy={strike.isPending}
      error={strike.isError ? inWords(strike.error) : undefined}
      onConfirm={(because) => strike.mutate({ id: last.id, because })}
    >
      <p>You read that part again.</p>
    </Reason>
  )
}
