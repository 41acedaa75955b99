import { useInfiniteQuery } from '@tanstack/react-query'
import { useState } from 'react'
import { cameInLate } from '#core/late-arrival.ts'
import { eventsQuery, useNote } from '#web/features/jobs/queries.ts'
import { dayAndTime } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { lateWords } from '#web/lib/late-words.ts'
import { inWords } from '#web/lib/problem.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { AreaField } from '#web/ui/field.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Form } from '#web/ui/form.tsx'
import { More } from '#web/ui/more.tsx'
import { ProblemSummary } from '#web/ui/notice.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** Acts that a tablet keeps while the network is away; of others the time that they carry may be meant to lie back. */
const DONE_AT_BENCH: Readonly<Record<string, string>> = { read: 'read', moved: 'done', pressed: 'done', welded: 'done' }

/** Everything that happened to this crank here, newest first, a sentence each; and a way to write a line of one's own. */
export function JobHistory({ jobId }: { jobId: string }) {
  const { zone } = useHere()
  const history = useInfiniteQuery(eventsQuery(jobId))
  const lines = (history.data?.pages ?? []).flatMap((page) => page.rows)
  const now = Date.now()
  return (
    <section aria-label="What happened">
      <h2>What happened</h2>
      {history.isPending && <Loading what="the history" />}
      {history.isError && <Failed what="The history" error={history.error} onAgain={() => void history.refetch()} />}
      {history.isSuccess && (
        <>
          <ol className="job-log">
            {lines.map((line, place) => (
              <li key={line.seq}>
                <small>{dayAndTime(line.occurredAt, zone, now)}</small>
                <span>
                  {line.says}
                  {line.by !== undefined && <small> · {line.by}</small>}
                  {line.kind in DONE_AT_BENCH && cameInLate(line, lines.slice(place + 1)) && (
                    <small>
                      <b> · {lateWords(DONE_AT_BENCH[line.kind] ?? 'done', line, zone)}</b>
                    </small>
                  )}
                </span>
              </li>
            ))}
          </ol>
          <More
            shown={lines.length}
            more={history.hasNextPage}
            busy={history.isFetchingNextPage}
            onMore={() => void history.fetchNextPage()}
          />
        </>
      )}
      <Fold open="Write a line">{(shut) => <NoteForm jobId={jobId} onShut={shut} />}</Fold>
    </section>
  )
}

function NoteForm({ jobId, onShut }: { jobId: string; onShut(): void }) {
  const note = useNote(jobId)
  const [says, setSays] = useState('')
  const [tried, setTried] = useState(false)
  const send = () => {
    setTried(true)
    if (says.trim() !== '') note.mutate({ says: says.trim() }, { onSuccess: onShut })
  }
  return (
    <Form enter="next" onSend={send} aria-label="Write a line">
      {note.isError && (
        <ProblemSummary title="It is not written down.">
          <p>{inWords(note.error)}</p>
        </ProblemSummary>
      )}
      <AreaField
        label="What to write into the history"
        hint="It cannot be taken out again, and everybody in the shop reads it: no names of customers, no prices."
        rows={2}
        maxLength={1000}
        value={says}
        error={tried && says.trim() === '' ? 'Write something here.' : undefined}
        onChange={(event) => setSays(event.target.value)}
      />
      <Buttons>
        <Button type="submit" busy={note.isPending}>
          Write it down
        </Button>
        <Button onClick={onShut}>Leave it</Button>
      </Buttons>
    </Form>
  )
}
