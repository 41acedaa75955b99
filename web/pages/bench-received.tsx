import { useNavigate } from 'react-router'
import type { Measurement } from '#contract/measurements.ts'
import { SetList } from '#web/features/measurements/set-list.tsx'
import { ReadingScreen } from '#web/features/truing/reading-screen.tsx'
import { CrankAtBench, type CrankFacts } from '#web/pages/crank-at-bench.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { WithMeasured } from '#web/pages/with-measured.tsx'
import { Known } from '#web/ui/notice.tsx'

export function BenchReceivedPage() {
  return (
    <CrankAtBench work="measuring" name="both ends as it came in">
      {(facts) => <BothEnds {...facts} />}
    </CrankAtBench>
  )
}

/** Both ends as they came in: without them nothing can be proved later. */
function BothEnds({ job, sheet, instruments, settings }: CrankFacts) {
  const me = useMe()
  const navigate = useNavigate()
  return (
    <WithMeasured jobId={job.id}>
      {(bench) => {
        const sets = bench.measurements.filter((set) => set.kind === 'runout' && set.phase === 'received')
        const last: Measurement | undefined = sets.filter((set) => set.struck === undefined).at(-1)
        return (
          <div className="at-bench">
            {last !== undefined && <Known>Both ends are in the book as it came in. Read again only after striking that set out.</Known>}
            <ReadingScreen
              key={`${me.id} ${sets.length}`}
              jobId={job.id}
              personId={me.id}
              sheet={sheet}
              instruments={instruments}
              shopLimitMm={settings.houseLimitMm}
              phase="received"
              since={last?.id ?? 'first'}
              last={last}
              onTaken={() => void navigate(`/bench/${job.id}`)}
            />
            <h2>Taken so far</h2>
            <SetList jobId={job.id} sets={sets} />
          </div>
        )
      }}
    </WithMeasured>
  )
}
