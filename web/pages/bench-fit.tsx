import type { Bench } from '#contract/bench.ts'
import type { Job } from '#contract/jobs.ts'
import { WebLifeOf } from '#web/features/cranks/web-life.tsx'
import { AskCustomer } from '#web/features/jobs/ask-customer.tsx'
import { FitNow, fitsOf } from '#web/features/measurements/fit-now.tsx'
import { FitStop } from '#web/features/measurements/fit-stop.tsx'
import type { SheetFigures } from '#web/features/measurements/kinds.ts'
import { type KeyedNow, pinAndBores } from '#web/features/measurements/standing.ts'
import { DecideFit } from '#web/features/pressings/fit-decision.tsx'
import { useMe } from '#web/pages/signed-in.tsx'

interface FitProps {
  job: Job
  bench: Bench
  figures: SheetFigures
  scrapShare: number
  now?: KeyedNow
}

/** The fit as it stands or as it is being keyed, and what stop means where it is one. */
export function Fit({ job, bench, figures, scrapShare, now }: FitProps) {
  const me = useMe()
  const { webs, ofOldPin } = pinAndBores(bench, now)
  const fits = fitsOf({ webs, figures, scrapShare })
  return (
    <>
      <FitNow webs={webs} figures={figures} scrapShare={scrapShare} ofOldPin={ofOldPin} />
      <FitStop
        fits={fits}
        ofOldPin={ofOldPin}
        {...(bench.fitStops === undefined ? {} : { decided: bench.fitStops })}
        // What is being keyed is not in the book yet, and nothing is decided on it.
        {...(me.role === 'owner' && now === undefined ? { decide: (sides) => <DecideFit jobId={job.id} sides={sides} /> } : {})}
        ask={<AskCustomer job={job} about="The pin is too loose in a web: another half, a new web, or stop here." />}
      />
      <WebLifeOf crankId={job.crank.id} jobId={job.id} />
    </>
  )
}
