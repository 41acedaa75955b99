import '#web/features/money/money.css'
import { useQueryClient } from '@tanstack/react-query'
import { useState } from 'react'
import type { Job } from '#contract/jobs.ts'
import { type BoxFaults, type BoxForm, boxFormOf, readBox } from '#web/features/money/box-form.ts'
import { useBox } from '#web/features/money/queries.ts'
import { dayAndTime } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { inWords, Problem } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { AreaField, TextField } from '#web/ui/field.tsx'
import { Form } from '#web/ui/form.tsx'
import { QuantityField } from '#web/ui/measure-field.tsx'
import { NoticeLine, ProblemSummary } from '#web/ui/notice.tsx'

/** Everything that came in, ticked off as it goes into the box, and how it goes. */
export function BoxList({ job }: { job: Job }) {
  const here = useHere()
  const client = useQueryClient()
  const boxing = useBox(job.id)
  const [form, setForm] = useState<BoxForm>(() => boxFormOf(job))
  const [faults, setFaults] = useState<BoxFaults>({ lines: {} })
  const [attempt, setAttempt] = useState(0)
  const [isChanged, setChanged] = useState(false)
  const put = (change: Partial<BoxForm>) => {
    setForm({ ...form, ...change })
    setChanged(true)
  }
  const putLine = (place: number, change: Partial<BoxForm['lines'][number]>) =>
    put({ lines: form.lines.map((line, at) => (at === place ? { ...line, ...change } : line)) })
  const send = () => {
    if (boxing.isPending) return
    setAttempt(attempt + 1)
    const read = readBox(form, job.cameWith)
    setFaults(read.ok ? { lines: {} } : read.faults)
    if (!read.ok) {
      boxing.reset()
      return
    }
    boxing.mutate(
      { list: read.list, version: job.box?.version ?? 0 },
      {
        onSuccess: () => setChanged(false),
        onError: (error) => {
          if (isStale(error)) void client.invalidateQueries({ queryKey: ['jobs', 'one', job.id] })
        },
      },
    )
  }
  const listed = [
    ...Object.entries(faults.lines).map(([place, text]) => ({ name: `back-${place}`, text })),
    ...(faults.weight === undefined ? [] : [{ name: 'weight', text: faults.weight }]),
  ]
  return (
    <Form enter="next" onSend={send} aria-label="Box list">
      {(listed.length > 0 || boxing.isError) && (
        <ProblemSummary title="The box is not checked yet." faults={listed} attempt={attempt}>
          {boxing.isError && <p>{isStale(boxing.error) ? checkedElsewhere(job) : inWords(boxing.error)}</p>}
        </ProblemSummary>
      )}
      <table className="plain-table box-table">
        <caption className="spoken">What came in and what goes back</caption>
        <thead>
          <tr>
            <th scope="col">What came in</th>
            <th scope="col" className="n">
              Came
            </th>
            <th scope="col">Goes back</th>
            <th scope="col">Why fewer</th>
          </tr>
        </thead>
        <tbody>
          {form.lines.map((line, place) => (
            <tr key={line.what}>
              <th scope="row">{line.what}</th>
              <td className="n fig">{line.came}</td>
              <td>
                <div className="box-back">
                  <label>
                    <input
                      type="checkbox"
                      aria-label={`All of it goes back: ${line.what}`}
                      checked={line.back === String(line.came)}
                      onChange={(event) => putLine(place, { back: event.target.checked ? String(line.came) : '' })}
                    />
                    <span aria-hidden="true">all</span>
                  </label>
                  <input
                    className="figures"
                    type="text"
                    inputMode="numeric"
                    name={`back-${place}`}
                    aria-label={`How many go back: ${line.what}`}
                    aria-invalid={faults.lines[place] === undefined ? undefined : true}
                    value={line.back}
                    onChange={(event) => putLine(place, { back: event.target.value })}
                  />
                </div>
                {faults.lines[place] !== undefined && <p className="wrong">{faults.lines[place]}</p>}
              </td>
              <td>
                {line.back.trim() !== '' && Number(line.back) < line.came ? (
                  <input
                    type="text"
                    aria-label={`Why fewer: ${line.what}`}
                    maxLength={200}
                    value={line.why}
                    onChange={(event) => putLine(place, { why: event.target.value })}
                  />
                ) : null}
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      <div className="fields">
        <TextField
          label="Carrier"
          hint="empty when fetched here"
          maxLength={60}
          value={form.carrier}
          onChange={(event) => put({ carrier: event.target.value })}
        />
        <TextField
          label="Number of the parcel"
          maxLength={80}
          value={form.carrierNo}
          onChange={(event) => put({ carrierNo: event.target.value })}
        />
        <QuantityField
          label="Weight"
          unit="kg"
          name="weight"
          value={form.weight}
          error={faults.weight}
          onChange={(weight) => put({ weight })}
        />
      </div>
      {here.role === 'owner' && (job.owes ?? 0) > 0 && (
        <AreaField
          label="The owner’s word that it may go though not paid"
          hint="why it may; empty: it may not"
          rows={2}
          maxLength={400}
          value={form.ownersWord}
          onChange={(event) => put({ ownersWord: event.target.value })}
        />
      )}
      {here.role !== 'owner' && form.ownersWord !== '' && <p>The owner’s word: {form.ownersWord}</p>}
      <Buttons>
        <Button type="submit" kind={job.box === undefined || isChanged ? 'go' : 'quiet'} busy={boxing.isPending}>
          Box is checked
        </Button>
      </Buttons>
      <NoticeLine>{boxWords(job, isChanged, here.zone)}</NoticeLine>
    </Form>
  )
}

function boxWords(job: Job, isChanged: boolean, zone: string): string {
  if (isChanged) return 'Changed and not checked yet.'
  if (job.box === undefined) return ''
  return `Checked by ${job.box.checkedBy}, ${dayAndTime(job.box.checkedAt, zone, Date.now())}.`
}

function isStale(error: unknown): boolean {
  return error instanceof Problem && error.type === 'stale-version'
}

/** What somebody else found meanwhile; the list typed here stays as it is. */
function checkedElsewhere(job: Job): string {
  const found = (job.box?.items ?? []).map((one) => `${one.what} ${one.back} of ${one.came}${one.why === undefined ? '' : ` (${one.why})`}`)
  return `Somebody else checked this box meanwhile and found: ${found.join(', ')}. Your list is still here; look it over and press again.`
}
