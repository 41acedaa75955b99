import { useQuery } from '@tanstack/react-query'
import { Link } from 'react-router'
import { ClosingQuestions } from '#web/features/hours/closing-question.tsx'
import { clockQuery } from '#web/features/hours/queries.ts'
import { ZeroedToday } from '#web/features/instruments/zeroed-today.tsx'
import { BenchList } from '#web/features/jobs/bench-list.tsx'
import { BenchPlace } from '#web/pages/bench-place.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { Page } from '#web/ui/page.tsx'

/** What the hand can do something on now. */
export function BenchPage() {
  const me = useMe()
  return (
    <BenchPlace>
      <Page
        title="On the bench"
        aside={
          <nav className="bench-ways" aria-label="At the bench">
            <Link className="stand-alone" to="/bench/instruments">
              Instruments
            </Link>
            <Link className="stand-alone" to="/bench/tablet">
              This tablet
            </Link>
            <Link className="stand-alone" to="/bench/practice">
              Practice crank
            </Link>
            {me.role === 'bench' && (
              <>
                <Link className="stand-alone" to="/engines">
                  Engines
                </Link>
                <Link className="stand-alone" to="/my-line">
                  My line
                </Link>
              </>
            )}
          </nav>
        }
      >
        <Unanswered />
        <ZeroedToday />
        <BenchList />
      </Page>
    </BenchPlace>
  )
}

function Unanswered() {
  const clock = useQuery(clockQuery)
  return <ClosingQuestions entries={clock.data?.unanswered ?? []} />
}
