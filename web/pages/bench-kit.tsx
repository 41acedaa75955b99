import { useQuery } from '@tanstack/react-query'
import { useNavigate, useParams } from 'react-router'
import type { Joint } from '#core/crank-build.ts'
import { jobQuery } from '#web/features/jobs/queries.ts'
import { KitForm } from '#web/features/kits/kit-form.tsx'
import { benchAt } from '#web/lib/bench-at-joint.ts'
import { AtJoint } from '#web/pages/at-joint.tsx'
import { CrankAtBench, type CrankFacts } from '#web/pages/crank-at-bench.tsx'
import { WithMeasured } from '#web/pages/with-measured.tsx'
import { workOf } from '#web/pages/work-of.ts'
import { Known } from '#web/ui/notice.tsx'

export function BenchKitPage() {
  const { jobId = '' } = useParams()
  const job = useQuery(jobQuery(jobId))
  return (
    <CrankAtBench work={workOf(job.data)} name="kit">
      {(facts) => (
        <AtJoint
          sheet={facts.sheet}
          among="whole-or-throws"
          whole="All throws"
          order="One kit changed, all changed: name one throw alone only where its lot differs."
        >
          {(joint) => <Kit joint={joint} {...facts} />}
        </AtJoint>
      )}
    </CrankAtBench>
  )
}

function Kit({ job, joint }: CrankFacts & { joint: Joint | undefined }) {
  const navigate = useNavigate()
  return (
    <WithMeasured jobId={job.id}>
      {(bench) => {
        const { kit } = benchAt(bench, joint)
        return (
          <>
            {kit !== undefined && (
              <Known>
                Named: {kit.maker} {kit.part}, lot <b className="fig">{kit.lot}</b>, {kit.whose}. Name another only if another went in.
              </Known>
            )}
            <KitForm
              key={kit?.lot ?? 'none'}
              jobId={job.id}
              engineId={job.crank.engineId}
              kit={kit}
              whoseWanted={job.kitFrom}
              onNamed={() => void navigate(`/bench/${job.id}`)}
            />
          </>
        )
      }}
    </WithMeasured>
  )
}
