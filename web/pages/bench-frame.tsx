import '#web/pages/bench-frame.css'
import { useQuery } from '@tanstack/react-query'
import { type ReactNode, useState } from 'react'
import { Link } from 'react-router'
import { ClockButtons } from '#web/features/hours/clock-buttons.tsx'
import type { Work } from '#web/features/hours/clock-words.ts'
import { clockQuery } from '#web/features/hours/queries.ts'
import { WaitingLine } from '#web/features/waiting/waiting-line.tsx'
import { BenchHands } from '#web/pages/bench-hands.tsx'
import { OutboxAtWork } from '#web/pages/outbox-at-work.tsx'
import { PlainHttpLine } from '#web/pages/plain-http-line.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { useStayAwake } from '#web/pages/stay-awake.ts'
import { WithShop } from '#web/pages/with-shop.tsx'
import { BenchBar } from '#web/ui/bar.tsx'
import { GoLink } from '#web/ui/button.tsx'
import { SkipLink } from '#web/ui/page.tsx'

export interface BenchFrameProps {
  jobId: string
  tag: string
  /** Maker and code. */
  engine: string
  /** The act word of the job: `to true`. */
  act: string
  /** What the clock is started for on this screen. */
  work: Work
  /** A Page. */
  children: ReactNode
}

/** Every screen with a crank on it: which crank, what comes next, whose clock runs; below it the page. */
export function BenchFrame({ jobId, tag, engine, act, work, children }: BenchFrameProps) {
  const me = useMe()
  const clock = useQuery(clockQuery)
  const [said, setSaid] = useState<string | undefined>(undefined)
  useStayAwake()
  return (
    <>
      <SkipLink />
      <BenchBar
        tag={tag}
        what={
          <>
            <Link to={`/bench/${jobId}`}>{engine}</Link> · {act}
          </>
        }
        action={
          <>
            <BenchHands jobId={jobId}>
              <GoLink to={`/bench/${jobId}/hours`} wide>
                Hours of {tag}
              </GoLink>
            </BenchHands>
            {clock.data !== undefined && <ClockButtons clock={clock.data} jobId={jobId} work={work} onSaid={setSaid} />}
            <GoLink to="/bench">Bench</GoLink>
          </>
        }
      />
      {me.demo && (
        <aside className="demo-line" aria-label="Demo book">
          Demo book. Nothing in it is real.
        </aside>
      )}
      <PlainHttpLine />
      <OutboxAtWork me={me} />
      <WaitingLine personId={me.id} />
      <p className="bench-said" role="status">
        {said}
      </p>
      <WithShop>{children}</WithShop>
    </>
  )
}
