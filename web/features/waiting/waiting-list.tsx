import '#web/features/waiting/waiting.css'
import { useState } from 'react'
import { Link } from 'react-router'
import { figuresOf, MendSet } from '#web/features/waiting/mend-set.tsx'
import { saveFile } from '#web/features/waiting/save-file.ts'
import { dayAndTime } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { outbox } from '#web/lib/outbox/outbox.ts'
import type { OutboxRecord } from '#web/lib/outbox/record.ts'
import { useOutbox } from '#web/lib/outbox/use-outbox.ts'
import { Button, Buttons } from '#web/ui/button.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Empty } from '#web/ui/states.tsx'

/** Everything of this hand that lies on the tablet: what waits for the network, and what the book did not take, with why. */
export function WaitingList({ personId, tagOf }: { personId: string; tagOf(jobId: string): string | undefined }) {
  const records = useOutbox()
  const mine = records.filter((record) => record.personId === personId)
  const parked = mine.filter((record) => record.state === 'parked')
  const waiting = mine.filter((record) => record.state === 'waiting')
  const others = records.length - mine.length
  return (
    <>
      {mine.length > 0 && (
        <Buttons>
          <Button kind={waiting.length > 0 ? 'go' : 'quiet'} onClick={() => void outbox()?.sendNow()}>
            Send now
          </Button>
          <Button onClick={() => void saveFile(mine)}>Save all as a file</Button>
        </Buttons>
      )}
      {parked.length > 0 && (
        <section aria-label="The book did not take these">
          <h2>The book did not take these</h2>
          <p>They stay here until you mend them, send them again or drop them.</p>
          <ul className="waiting-rows">
            {parked.map((record) => (
              <li key={record.seq}>
                <What record={record} tag={tagOf(record.jobId ?? '')} />
                <Parked record={record} />
              </li>
            ))}
          </ul>
        </section>
      )}
      <section aria-label="Waiting for the book">
        <h2>Waiting for the book</h2>
        {waiting.length === 0 ? (
          <Empty>Nothing waits: everything you took is in the book.</Empty>
        ) : (
          <ol className="waiting-rows">
            {waiting.map((record) => (
              <li key={record.seq}>
                <What record={record} tag={tagOf(record.jobId ?? '')} />
                {record.lastError !== undefined && <p className="soft">{record.lastError.says}</p>}
              </li>
            ))}
          </ol>
        )}
      </section>
      {others > 0 && <p>{others} more on this tablet belong to other hands; they go out when those sign in here.</p>}
    </>
  )
}

function What({ record, tag }: { record: OutboxRecord; tag: string | undefined }) {
  const { zone } = useHere()
  return (
    <p>
      {record.jobId !== undefined && (
        <>
          <Link to={`/bench/${record.jobId}`} className="bench-way">
            <span className="fig">{tag ?? 'the crank'}</span>
          </Link>{' '}
        </>
      )}
      <b>{record.what}</b> <span className="soft">{dayAndTime(record.occurredAt, zone, Date.now())}</span>
    </p>
  )
}

function Parked({ record }: { record: OutboxRecord }) {
  const [busy, setBusy] = useState(false)
  const set = figuresOf(record.body)
  const missing = record.lastError?.missing ?? []
  const again = (body?: unknown) => {
    setBusy(true)
    const done = () => setBusy(false)
    outbox()?.sendAgain(record, body).then(done, done)
  }
  return (
    <>
      <p className="wrong">{record.lastError?.says ?? 'It was not taken.'}</p>
      {missing.length > 0 && (
        <ul>
          {missing.map((one) => (
            <li key={one}>{one}</li>
          ))}
        </ul>
      )}
      <Buttons>
        <Button busy={busy} onClick={() => again()}>
          Send it again
        </Button>
        <Button onClick={() => void saveFile([record])}>Save as a file</Button>
      </Buttons>
      {set !== undefined && <Fold open="Put the figures right">{() => <MendSet set={set} busy={busy} onMended={again} />}</Fold>}
      <Fold open="Drop it">
        {(shut) => (
          <>
            <p>It is then nowhere but in a file that you saved.</p>
            <Buttons>
              <Button onClick={() => void outbox()?.drop(record)}>Drop it for good</Button>
              <Button onClick={shut}>Leave it</Button>
            </Buttons>
          </>
        )}
      </Fold>
    </>
  )
}
