import { useQuery } from '@tanstack/react-query'
import { useState } from 'react'
import type { Job } from '#contract/jobs.ts'
import { hasSeveralThrows, type Joint } from '#core/crank-build.ts'
import { actWord, doneWord, isEnd, nextStep } from '#core/steps.ts'
import { gateQuery, useStep } from '#web/features/jobs/queries.ts'
import { NowTrue } from '#web/features/truing/now-true.tsx'
import { TruingScreen } from '#web/features/truing/truing-screen.tsx'
import { sheetAt } from '#web/lib/bench-at-joint.ts'
import { newId } from '#web/lib/id.ts'
import { AtJoint } from '#web/pages/at-joint.tsx'
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
      notice={<Standing job={job} />}
      whenTrue={
        joint !== undefined ? (
          <Known>Good on its own shafts. Go on with the next throw, or press the middle.</Known>
        ) : hasSeveralThrows(build) ? (
          <BenchNext job={job} here="trued" />
        ) : (
          <CallTrue job={job} />
        )
      }
    />
  )
}

/** Where the job stands, where that is not before true. */
function Standing({ job }: { job: Job }) {
  if (isEnd(job.state)) return <Known>This crank is {doneWord(job.state)}.</Known>
  const next = nextStep(job.kind, job.state)
  if (next === 'trued') return null
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
