import '#web/pages/bench-frame.css'
import { useQuery } from '@tanstack/react-query'
import { type ReactNode, useState } from 'react'
import { Link } from 'react-router'
import { clockQuery, useClockStop } from '#web/features/hours/queries.ts'
import { BenchFind } from '#web/features/jobs/bench-find.tsx'
import { WaitingLine } from '#web/features/waiting/waiting-line.tsx'
import { placesOf } from '#web/lib/places.ts'
import { inWords } from '#web/lib/problem.ts'
import { BenchHands } from '#web/pages/bench-hands.tsx'
import { OutboxAtWork } from '#web/pages/outbox-at-work.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { WithShop } from '#web/pages/with-shop.tsx'
import { Bar } from '#web/ui/bar.tsx'
import { Button } from '#web/ui/button.tsx'
import { SkipLink } from '#web/ui/page.tsx'

/** The bench without a crank on it: the list, the instruments. The running clock and the find box stay in sight. */
export function BenchPlace({ children }: { children: ReactNode }) {
  const me = useMe()
  const clock = useQuery(clockQuery)
  const stop = useClockStop()
  const [said, setSaid] = useState<string | undefined>(undefined)
  const running = clock.data?.running ?? null
  return (
    <>
      <SkipLink />
      <Bar
        places={placesOf(me.role)}
        find={<BenchFind />}
        me={
          <BenchHands>
            <p>
              <Link className="stand-alone" to="/pin">
                Your PIN for the bench tablets
              </Link>
            </p>
            <p>
              <Link className="stand-alone" to="/my-sign-in">
                Your password and sessions
              </Link>
            </p>
          </BenchHands>
        }
        action={
          running !== null && (
            <Button
              busy={stop.isPending}
              onClick={() => stop.mutate(null, { onSuccess: () => setSaid(undefined), onError: (error) => setSaid(inWords(error)) })}
            >
              Stop
            </Button>
          )
        }
      />
      {me.demo && (
        <aside className="demo-line" aria-label="Demo book">
          Demo book. Nothing in it is real.
        </aside>
      )}
      <OutboxAtWork me={me} />
      <WaitingLine personId={me.id} />
      <p className="bench-said" role="status">
        {said}
      </p>
      <WithShop>{children}</WithShop>
    </>
  )
}
