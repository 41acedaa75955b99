import { useNavigate } from 'react-router'
import { isEnd, PATHS, placeOnPath } from '#core/steps.ts'
import { WeldForm, WeldList } from '#web/features/pressings/weld-form.tsx'
import { Cautions } from '#web/pages/cautions.tsx'
import { CrankAtBench, type CrankFacts } from '#web/pages/crank-at-bench.tsx'
import { WithMeasured } from '#web/pages/with-measured.tsx'

export function BenchWeldPage() {
  return (
    <CrankAtBench work="welding" name="welding">
      {(facts) => <Weld {...facts} />}
    </CrankAtBench>
  )
}

function Weld({ job }: CrankFacts) {
  const navigate = useNavigate()
  const { kind, state } = job
  const isTrue = !isEnd(state) && PATHS[kind].includes('trued') && placeOnPath(kind, state) >= placeOnPath(kind, 'trued')
  return (
    <>
      <Cautions of={['weld']} />
      <p>Only who is trained for it welds here. True first, then tack, let it cool in air, and read both ends again cold.</p>
      {isTrue && <p>Written down, the weld takes back that it is true: heat moves the joint, so both ends are read again.</p>}
      <div className="bench-panels">
        <WeldForm jobId={job.id} onWelded={() => void navigate(`/bench/${job.id}`)} />
        <section aria-label="Welds so far">
          <h2>Welds so far</h2>
          <WithMeasured jobId={job.id}>{({ welds }) => <WeldList welds={welds} />}</WithMeasured>
        </section>
      </div>
    </>
  )
}
