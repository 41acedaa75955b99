import { useQuery } from '@tanstack/react-query'
import type { CertificateOfJob } from '#contract/certificates.ts'
import type { Job } from '#contract/jobs.ts'
import type { Measurement } from '#contract/measurements.ts'
import type { Check } from '#contract/truing.ts'
import { limitWords } from '#core/bench/limit-words.ts'
import { passLine } from '#core/certificate-words.ts'
import type { Side } from '#core/runout-verdict.ts'
import type { GateReadingProps, GateSet } from '#web/features/certificates/gate-reading.tsx'
import { certificateQuery } from '#web/features/certificates/queries.ts'
import { SignScreen } from '#web/features/certificates/sign-screen.tsx'
import { wayFor } from '#web/features/jobs/bench-ways.ts'
import { JobPasses } from '#web/features/jobs/job-passes.tsx'
import { checkQuery } from '#web/features/truing/queries.ts'
import { dateIn } from '#web/lib/format.ts'
import { CrankAtBench, type CrankFacts } from '#web/pages/crank-at-bench.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { GoLink } from '#web/ui/button.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'

export function BenchSignPage() {
  return (
    <CrankAtBench work="checking" name="certificate">
      {(facts) => <Sign {...facts} />}
    </CrankAtBench>
  )
}

function Sign({ job, settings }: CrankFacts) {
  const me = useMe()
  const certificate = useQuery(certificateQuery(job.id))
  const check = useQuery(checkQuery(job.id))
  if (certificate.data === undefined || check.data === undefined) {
    const failed = [certificate, check].find((one) => one.isError)
    if (failed !== undefined) return <Failed what="The certificate" error={failed.error} onAgain={() => void failed.refetch()} />
    return <Loading what="the certificate" />
  }
  const wayTo = ({ code, joint }: CertificateOfJob['missing'][number]) => {
    const way = wayFor(code, { id: job.id, engineId: job.crank.engineId }, joint)
    return way && <GoLink to={way.to}>{way.says}</GoLink>
  }
  const letPass = certificate.data.missing.filter((one) => !one.code.startsWith('certificate'))
  return (
    <SignScreen
      jobId={job.id}
      certificate={certificate.data}
      passes={passesOf(job, settings.zone)}
      gate={gateOf(job, check.data)}
      paperWord={job.kind === 'check-and-report' ? 'report' : 'certificate'}
      zone={settings.zone}
      paper={settings.paper}
      maySign={me.maySign || me.role === 'owner'}
      isOwner={me.role === 'owner'}
      letPass={me.role === 'owner' && letPass.length > 0 ? <JobPasses job={job} next="signed" missing={letPass} /> : undefined}
      wayTo={wayTo}
    />
  )
}

/** What the owner let pass, in the words of the paper. */
function passesOf(job: Job, zone: string): string[] {
  return job.passes.map(({ what, reason, at, customerToldAt }) =>
    passLine({
      onDay: dateIn(zone, at),
      what,
      reason,
      customerToldOn: customerToldAt === undefined ? null : dateIn(zone, customerToldAt),
    }),
  )
}

/** The readings that the gates go by: first, second, and the third where one was taken. */
function gateOf(job: Job, check: Check): GateReadingProps {
  const sets = (['first', 'second', 'third'] as const).flatMap((name): GateSet[] => {
    const set = check[name]
    return set?.runout === undefined ? [] : [gateSet(name, set, set.runout)]
  })
  return { sets, report: job.kind === 'check-and-report' }
}

function gateSet(name: string, set: Measurement, runout: NonNullable<Measurement['runout']>): GateSet {
  return {
    name,
    stepMm: set.instrument?.stepMm ?? 0.01,
    tirMm: { left: runout.left?.tirMm, right: runout.right?.tirMm },
    limitMm: { left: runout.limits.leftMm, right: runout.limits.rightMm },
    limitSays: { left: limitSays(set, runout, 'left'), right: limitSays(set, runout, 'right') },
  }
}

function limitSays({ setup }: Measurement, { limits }: NonNullable<Measurement['runout']>, side: Side): string | undefined {
  const limitMm = side === 'left' ? limits.leftMm : limits.rightMm
  if (limitMm === undefined || setup === undefined) return undefined
  const dialMm = side === 'left' ? setup.dialLeftMm : setup.dialRightMm
  return limitWords(limits.given?.[side], { limitMm, dialMm }, (mm) => String(Number(mm.toFixed(4)))).replace(/^here /, '')
}
