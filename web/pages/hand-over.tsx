import '#web/features/jobs/job.css'
import { useQuery } from '@tanstack/react-query'
import { Link, useNavigate, useParams } from 'react-router'
import type { Job } from '#contract/jobs.ts'
import { HandOver } from '#web/features/jobs/hand-over.tsx'
import { jobQuery } from '#web/features/jobs/queries.ts'
import { BoxList } from '#web/features/money/box-list.tsx'
import { owedWords, PaymentForm } from '#web/features/money/payments.tsx'
import { useHere } from '#web/lib/here.ts'
import { useSheets } from '#web/pages/sheets-of-job.ts'
import { ShopFrame } from '#web/pages/shop-frame.tsx'
import { Button, Buttons } from '#web/ui/button.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Page } from '#web/ui/page.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

/** Handing it over: the box against what came in, how it goes, the money, and then it is gone. */
export function HandOverPage() {
  const { id = '' } = useParams()
  const job = useQuery(jobQuery(id))
  return (
    <ShopFrame place="counter" roles={['counter', 'owner']} action={null}>
      {job.data === undefined ? (
        <Page title="Hand over">
          {job.isPending ? <Loading what="the job" /> : <Failed what="The job" error={job.error} onAgain={() => void job.refetch()} />}
        </Page>
      ) : (
        <HandOverSheet key={id} job={job.data} />
      )}
    </ShopFrame>
  )
}

function HandOverSheet({ job }: { job: Job }) {
  const here = useHere()
  const navigate = useNavigate()
  const sheets = useSheets(job)
  return (
    <Page
      title={`Hand over ${job.tag}`}
      heading={
        <>
          Hand over <Link to={`/jobs/${job.id}`}>{job.tag}</Link>
        </>
      }
      lead={`${job.engine}${job.customer === undefined ? '' : `, ${job.customer.name}`} · ${job.goesBy === 'carrier' ? 'goes by carrier' : 'fetched here'}${job.oldPartsBack ? ' · old parts with it' : ''}`}
      aside={
        <Buttons>
          {sheets[0] !== undefined && (
            <a className="quiet" href={sheets[0].href} target="_blank" rel="noopener">
              {sheets[0].says}
            </a>
          )}
          <Button onClick={() => window.print()}>Print this list</Button>
        </Buttons>
      }
    >
      <div className="hand-over">
        <section aria-label="The box">
          <h2 className="ruled">The box</h2>
          <p className="soft">Rod tied, threads and taper capped, oiled and bagged; keys in a bag of their own, taped.</p>
          <BoxList job={job} />
        </section>
        <section aria-label="The money">
          <h2 className="ruled">The money</h2>
          <p>
            <b>{owedWords(job, here.currency)}</b>
          </p>
          <Fold open="Take money">{(shut) => <PaymentForm job={job} onDone={shut} onShut={shut} />}</Fold>
          <HandOver job={job} onGone={() => void navigate(`/jobs/${job.id}`)} />
        </section>
      </div>
    </Page>
  )
}
