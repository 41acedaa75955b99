import '#web/features/comebacks/comebacks.css'
import { useQuery } from '@tanstack/react-query'
import { Link, useParams } from 'react-router'
import type { Comeback } from '#contract/comebacks.ts'
import { Decided } from '#web/features/comebacks/decided.tsx'
import { Found } from '#web/features/comebacks/found.tsx'
import { OurSheet } from '#web/features/comebacks/our-sheet.tsx'
import { oneComebackQuery } from '#web/features/comebacks/queries.ts'
import { Said } from '#web/features/comebacks/said.tsx'
import { SameLotList } from '#web/features/comebacks/same-lot.tsx'
import { Thought } from '#web/features/comebacks/thought.tsx'
import { dateIn } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** One crank that came back: what was found apart from what is thought apart from what is decided, and our sheet beside it. */
export function ComebackPage() {
  const { id = '' } = useParams()
  const { role } = useMe()
  const report = useQuery(oneComebackQuery(id))
  return (
    <ShopFrame place={role === 'owner' ? 'office' : 'counter'}>
      {report.data === undefined ? (
        <Page title="A crank that came back">
          {report.isPending ? (
            <Loading what="the report" />
          ) : (
            <Failed what="The report" error={report.error} onAgain={() => void report.refetch()} />
          )}
        </Page>
      ) : (
        <OneComeback key={id} report={report.data} />
      )}
    </ShopFrame>
  )
}

function OneComeback({ report }: { report: Comeback }) {
  const here = useHere()
  const today = dateIn(here.zone, Date.now())
  return (
    <Page
      title={`${report.job.tag} came back`}
      heading={
        <>
          <span className="fig">{report.job.tag}</span> came back
        </>
      }
      lead={
        <>
          {report.engine}
          {report.engineNumber !== undefined && ` · ${report.engineNumber}`} · <Link to={`/jobs/${report.job.id}`}>the job then</Link> ·{' '}
          <Link to="/office/comebacks">all that came back</Link>
        </>
      }
    >
      <Said report={report} today={today} />
      <div className="comeback-parts">
        <Found report={report} />
        <Thought report={report} />
        <Decided report={report} />
      </div>
      <div className="comeback-more">
        <OurSheet report={report} today={today} />
        <SameLotList reportId={report.id} today={today} />
      </div>
    </Page>
  )
}
