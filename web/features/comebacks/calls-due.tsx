import '#web/features/comebacks/comebacks.css'
import { useInfiniteQuery } from '@tanstack/react-query'
import { useEffect, useState } from 'react'
import { Link } from 'react-router'
import type { z } from 'zod'
import type { callDue } from '#contract/follow-ups.ts'
import { CallOrReport } from '#web/features/comebacks/call-or-report.tsx'
import { callsDueQuery } from '#web/features/comebacks/queries.ts'
import { counted, day } from '#web/lib/format.ts'
import { Fold } from '#web/ui/fold.tsx'
import { More } from '#web/ui/more.tsx'
import { NoticeLine } from '#web/ui/notice.tsx'
import { Empty, Failed, Loading } from '#web/ui/states.tsx'

type Due = z.infer<typeof callDue>

/** A crank leaves the list with its call; one that is still written about stays where it stood. */
function withInHand(rows: readonly Due[], inHand: readonly Due[]): Due[] {
  const missing = inHand.filter((one) => !rows.some((row) => row.id === one.id))
  const order = (one: Due) => `${one.goneOn} ${one.id}`
  return [...rows, ...missing].sort((one, other) => (order(one) < order(other) ? -1 : 1))
}

/** Cranks to be rung after going home; what they say is written down in its place, and the crank leaves the list. */
export function CallsDue() {
  const calls = useInfiniteQuery(callsDueQuery)
  const [inHand, setInHand] = useState<readonly Due[]>([])
  const [done, setDone] = useState('')
  const first = calls.data?.pages[0]
  const rows = withInHand(
    (calls.data?.pages ?? []).flatMap((page) => page.rows),
    inHand,
  )
  return (
    <>
      {calls.isPending && <Loading what="whom to ring" />}
      {calls.isError && <Failed what="The list" error={calls.error} onAgain={() => void calls.refetch()} />}
      {first !== undefined && (
        <>
          <p className="soft">{first.rule}</p>
          <NoticeLine>{done}</NoticeLine>
          {rows.length === 0 ? (
            <Empty>Nobody is to be rung today.</Empty>
          ) : (
            <>
              <ul className="plain-list calls-due">
                {rows.map((row) => (
                  <CallLine
                    key={row.id}
                    row={row}
                    today={first.today}
                    onTake={() => setInHand((now) => [...now.filter((one) => one.id !== row.id), row])}
                    onLeave={() => setInHand((now) => now.filter((one) => one.id !== row.id))}
                    onDone={() => setDone(`${row.tag} is done with.`)}
                  />
                ))}
              </ul>
              <More
                shown={rows.length}
                total={Math.max(first.due, rows.length)}
                more={calls.hasNextPage}
                busy={calls.isFetchingNextPage}
                onMore={() => void calls.fetchNextPage()}
              />
            </>
          )}
        </>
      )}
    </>
  )
}

interface CallLineProps {
  row: Due
  today: string
  onTake(): void
  onLeave(): void
  onDone(): void
}

function CallLine({ row, today, onTake, onLeave, onDone }: CallLineProps) {
  return (
    <li>
      <div className="call-who">
        <span className="tag">
          <Link to={`/jobs/${row.id}`}>{row.tag}</Link>
        </span>
        <span>
          {row.engine}
          {row.usedFor !== undefined && `, ${row.usedFor}`}{' '}
          <small>
            went home {day(row.goneOn, today)}, {counted(row.daysGone, 'day')} ago
          </small>
        </span>
        <span>
          {row.whose}
          {row.phone !== undefined && (
            <>
              {' · '}
              <a className="stand-alone" href={`tel:${row.phone.replace(/[^\d+]/g, '')}`}>
                {row.phone}
              </a>
            </>
          )}
          {row.mail !== undefined && (
            <>
              {' · '}
              <a className="stand-alone" href={`mailto:${row.mail}`}>
                {row.mail}
              </a>
            </>
          )}
          <small> · wants to hear by {row.hearBy}</small>
        </span>
      </div>
      <Fold open="They say how it runs" label={`They say how it runs: ${row.tag}`}>
        {(shut) => <InHand jobId={row.id} today={today} onTake={onTake} onLeave={onLeave} onShut={shut} onDone={onDone} />}
      </Fold>
    </li>
  )
}

interface InHandProps extends Omit<CallLineProps, 'row'> {
  jobId: string
  onShut(): void
}

function InHand({ jobId, today, onTake, onLeave, onShut, onDone }: InHandProps) {
  // biome-ignore lint/correctness/useExhaustiveDependencies: taken in hand once, when it opens, and left when it shuts
  useEffect(() => {
    onTake()
    return onLeave
  }, [])
  return (
    <CallOrReport
      jobId={jobId}
      today={today}
      reported={false}
      onShut={onShut}
      onDone={() => {
        onDone()
        onShut()
      }}
    />
  )
}
