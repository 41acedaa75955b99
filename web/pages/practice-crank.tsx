// The practice bench wears the dress of the real one.
import '#web/features/truing/truing.css'
import '#web/features/truing/reading.css'
import '#web/features/truing/striking.css'
import { useQuery } from '@tanstack/react-query'
import { useParams } from 'react-router'
import { PracticeResult } from '#web/features/practice/practice-result.tsx'
import { PracticeScreen } from '#web/features/practice/practice-screen.tsx'
import { practiceQuery } from '#web/features/practice/queries.ts'
import { BenchPlace } from '#web/pages/bench-place.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** One practice crank: under the dials, or put down with its faults told. */
export function PracticeCrankPage() {
  const { id = '' } = useParams()
  const me = useMe()
  const asked = useQuery(practiceQuery(id))
  const run = asked.data
  const own = run?.personId === me.id
  return (
    <BenchPlace>
      <Page title="Practice crank" heading={run === undefined || own ? 'Practice crank' : `Practice crank of ${run.by}`}>
        {asked.isPending && <Loading what="the practice crank" />}
        {asked.isError && run === undefined && (
          <Failed what="The practice crank" error={asked.error} onAgain={() => void asked.refetch()} />
        )}
        {run !== undefined &&
          (run.result !== undefined ? (
            <PracticeResult run={run} result={run.result} own={own} />
          ) : own ? (
            <PracticeScreen key={run.id} run={run} />
          ) : (
            <p>{run.by} has it under the dials; it shows here once it is put down.</p>
          ))}
      </Page>
    </BenchPlace>
  )
}
