import { type ReactNode, useState } from 'react'
import type { Job } from '#contract/jobs.ts'
import { useMoveJob } from '#web/features/jobs/queries.ts'
import { inWords, Problem } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { AreaField } from '#web/ui/field.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Pick } from '#web/ui/pick.tsx'

/** What finds a customer while their name is typed. */
export interface PickWhose {
  id: string
  name: string
  error?: string | undefined
  onName(typed: string): void
  onKnown(id: string, name: string): void
  onForget(): void
}

export interface JobWhoseProps {
  job: Job
  picker(given: PickWhose): ReactNode
}

/** Whose the job is; a slip of the counter is put right with a reason that stays in the history. */
export function JobWhose({ job, picker }: JobWhoseProps) {
  return (
    <section aria-label="Whose it is">
      <h2>Whose it is</h2>
      <p>{job.customer?.name}</p>
      <Fold open="It is somebody else’s">{(shut) => <MoveForm job={job} picker={picker} onShut={shut} />}</Fold>
    </section>
  )
}

type WithCrank = 'with' | 'without'

function MoveForm({ job, picker, onShut }: JobWhoseProps & { onShut(): void }) {
  const moving = useMoveJob(job.id)
  const [to, setTo] = useState({ id: '', name: '' })
  const [crank, setCrank] = useState<WithCrank>('with')
  const [reason, setReason] = useState('')
  const [tried, setTried] = useState(0)
  const noReason = reason.trim() === ''
  const whoFault = to.id === '' ? 'Find whose it is. Somebody new is written down under Customers first.' : undefined
  const send = () => {
    if (moving.isPending) return
    setTried(tried + 1)
    if (whoFault !== undefined || noReason) return
    const move = { customerId: to.id, withCrank: crank === 'with', reason: reason.trim() }
    moving.mutate({ move, version: job.version }, { onSuccess: onShut })
  }
  const isStale = moving.error instanceof Problem && moving.error.type === 'stale-version'
  return (
    <Form enter="next" onSend={send} aria-label="It is somebody else’s">
      {moving.isError && (
        <ProblemSummary title="It stays with whom it was." attempt={tried}>
          <p>
            {isStale
              ? 'Somebody changed this job meanwhile. It stands here as it is now: look at it, then press again.'
              : inWords(moving.error)}
          </p>
        </ProblemSummary>
      )}
      {picker({
        ...to,
        error: tried > 0 ? whoFault : undefined,
        onName: (name) => setTo({ id: '', name }),
        onKnown: (id, name) => setTo({ id, name }),
        onForget: () => setTo({ id: '', name: '' }),
      })}
      <Pick
        label="The crank itself"
        options={[
          { value: 'with', label: 'is theirs too' },
          { value: 'without', label: 'stays where it is' },
        ]}
        value={crank}
        onChange={setCrank}
      />
      <AreaField
        label="How did it come to the wrong one?"
        rows={2}
        maxLength={400}
        value={reason}
        error={tried > 0 && noReason ? 'Write the reason in a few words.' : undefined}
        onChange={(event) => setReason(event.target.value)}
      />
      <p className="soft">The secret address made for {job.customer?.name ?? 'them'} opens no more; make a new one for whom it is.</p>
      <Buttons>
        <Button type="submit" busy={moving.isPending}>
          Move it
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
