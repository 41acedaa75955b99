import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { Job } from '#contract/jobs.ts'
import { centresOf, hasSeveralThrows, type Joint } from '#core/crank-build.ts'
import { actWord, doneWord, isEnd, nextStep } from '#core/steps.ts'
import { gateQuery, useStep } from '#web/features/jobs/queries.ts'
import { NowTrue } from '#web/features/truing/now-true.tsx'
import { truingQuery } from '#web/features/truing/queries.ts'
import { TruingScreen } from '#web/features/truing/truing-screen.tsx'
import { sheetAt } from '#web/lib/bench-at-joint.ts'
import { newId } from '#web/lib/id.ts'
import { atAddress } from '#web/lib/joint-here.ts'
import { AtJoint, Done } from '#web/pages/at-joint.tsx'
import { CrankAtBench, type CrankFacts } from '#web/pages/crank-at-bench.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { GoLink } from '#web/ui/button.tsx'
import { later } from '#web/ui/later.tsx'
import { Known } from '#web/ui/notice.tsx'

/** For cranks with several throws alone. */
const BenchNext = later('next step', async () => (await import('#web/features/jobs/bench-next.tsx')).BenchNext)

export function BenchTruePage() {
  return (
    <CrankAtBench work="truing" name="truing">
      {(facts) => (
        <AtJoint
          sheet={facts.sheet}
          among="whole-or-throws"
          order="True each throw on its own shafts before it is joined; then the whole, and what was good once more after every blow."
          mark={(joint) => joint !== undefined && <GoodAlone jobId={facts.job.id} joint={joint} />}
        >
          {(joint) => <Truing joint={joint} {...facts} />}
        </AtJoint>
      )}
    </CrankAtBench>
  )
}

function Truing({ joint, job, sheet, instruments, settings }: CrankFacts & { joint: Joint | undefined }) {
  const me = useMe()
  const build = sheet.build ?? null
  return (
    <TruingScreen
      jobId={job.id}
      personId={me.id}
      sheet={sheetAt(sheet, joint)}
      instruments={instruments}
      shopLimitMm={settings.houseLimitMm}
      zone={settings.zone}
      notice={<Standing job={job} joint={joint} />}
      whenTrue={
        joint !== undefined ? (
          <Known>
            <p>
              Good on its own shafts.{' '}
              {centresOf(build).length > 0 ? 'Once every throw is, press the middle.' : 'Go on with the next throw, then the whole.'}
            </p>
            {centresOf(build)
              .slice(0, 1)
              .map((centre) => (
                <GoLink key={centre} to={atAddress(`/bench/${job.id}/press`, centre)}>
                  Press the middle
                </GoLink>
              ))}
          </Known>
        ) : hasSeveralThrows(build) ? (
          <BenchNext job={job} here="trued" />
        ) : (
          <CallTrue job={job} />
        )
      }
    />
  )
}

/** A throw that nothing more is to be done on: what it still swings is too small to say. */
function GoodAlone({ jobId, joint }: { jobId: string; joint: Joint }) {
  const { data } = useQuery(truingQuery(jobId, joint))
  return data?.stale === false && data.advice?.moves[0]?.action === 'leave' ? <Done says="good on its own shafts" /> : null
}

/** Where the job stands, where that is not before true. */
function Standing({ job, joint }: { job: Job; joint: Joint | undefined }) {
  if (isEnd(job.state)) return <Known>This crank is {doneWord(job.state)}.</Known>
  const next = nextStep(job.kind, job.state)
  // A half is trued before the whole is pressed together.
  if (next === 'trued' || (joint !== undefined && next === 'together')) return null
  if (next === 'signed')
    return (
      <Known>
        <p>It is called true. Next is the second check, by somebody else. A blow now takes that back.</p>
        <GoLink to={`/bench/${job.id}/check`}>Second check</GoLink>
      </Known>
    )
  return (
    <Known>
      It stands at {doneWord(job.state)}; next is {actWord(job.kind, job.state)}.
    </Known>
  )
}

function CallTrue({ job }: { job: Job }) {
  const me = useMe()
  const gate = useQuery(gateQuery(job.id))
  const step = useStep(job.id)
  const [id] = useState(newId)
  if (isEnd(job.state) || nextStep(job.kind, job.state) !== 'trued') return null
  return (
    <NowTrue
      missing={gate.data?.next === 'trued' ? gate.data.missing : undefined}
      widthTo={`/bench/${job.id}/width`}
      clearanceTo={`/bench/${job.id}/read/clearance`}
      passTo={me.role === 'owner' ? `/jobs/${job.id}` : undefined}
      busy={step.isPending}
      error={step.error}
      onTrue={() => step.mutate({ id, to: 'trued' })}
    />
  )
}
