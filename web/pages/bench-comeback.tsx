import '#web/features/comebacks/comebacks.css'
import { useQuery } from '@tanstack/react-query'
import { useParams } from 'react-router'
import { Found } from '#web/features/comebacks/found.tsx'
import { OurSheet } from '#web/features/comebacks/our-sheet.tsx'
import { oneComebackQuery, sinceHomeQuery } from '#web/features/comebacks/queries.ts'
import { Thought } from '#web/features/comebacks/thought.tsx'
import { cameWords } from '#web/features/comebacks/words.ts'
import { jobQuery } from '#web/features/jobs/queries.ts'
import { dateIn } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { CrankAtBench } from '#web/pages/crank-at-bench.tsx'
import { workOf } from '#web/pages/work-of.ts'
import { Failed, Loading } from '#web/ui/states.tsx'

/** At the bench: why this crank is here again, what is found on it, and our sheet of then. */
export function BenchComebackPage() {
  const { jobId = '' } = useParams()
  const job = useQuery(jobQuery(jobId))
  return (
    <CrankAtBench work={workOf(job.data)} name="came back">
      {(facts) => <ComebackAtBench jobId={facts.job.id} />}
    </CrankAtBench>
  )
}

function ComebackAtBench({ jobId }: { jobId: string }) {
  const here = useHere()
  const since = useQuery(sinceHomeQuery(jobId))
  const id = since.data?.hereFor?.id
  const report = useQuery({ ...oneComebackQuery(id ?? ''), enabled: id !== undefined })
  const failed = [since, report].find((one) => one.isError)
  if (failed !== undefined) return <Failed what="The report" error={failed.error} onAgain={() => void failed.refetch()} />
  if (since.isSuccess && id === undefined) return <p>No report stands for which this crank is here.</p>
  if (report.data === undefined) return <Loading what="the report" />
  const today = dateIn(here.zone, Date.now())
  return (
    <>
      <h2>
        It was here as {report.data.job.tag} and came back, {cameWords(report.data, today)}
      </h2>
      {report.data.says !== undefined && <p>They say: “{report.data.says}”</p>}
      <div className="comeback-parts">
        <Found report={report.data} />
        <Thought report={report.data} />
      </div>
      <OurSheet report={report.data} today={today} />
    </>
  )
}
