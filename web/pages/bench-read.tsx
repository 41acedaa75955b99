import { useParams } from 'react-router'
import type { Bench } from '#contract/measurements.ts'
import { isReadKind, KINDS, type Phase, type ReadKind } from '#web/features/measurements/kinds.ts'
import { MeasureScreen } from '#web/features/measurements/measure-screen.tsx'
import { sheetFigures } from '#web/features/measurements/sheet-figures.ts'
import { Fit } from '#web/pages/bench-fit.tsx'
import { CrankAtBench, type CrankFacts } from '#web/pages/crank-at-bench.tsx'
import { NotFoundPage } from '#web/pages/not-found.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { WithMeasured } from '#web/pages/with-measured.tsx'
import { GoLink } from '#web/ui/button.tsx'

/** One kind of reading on one crank: width, side clearance, play, rod, pin, bores, stack. */
export function BenchReadPage() {
  const { kind = 'width' } = useParams()
  if (!isReadKind(kind)) return <NotFoundPage />
  return (
    <CrankAtBench work="measuring" name={KINDS[kind].title.toLowerCase()}>
      {(facts) => (
        <WithMeasured jobId={facts.job.id}>{(bench) => <Reading key={kind} kind={kind} bench={bench} {...facts} />}</WithMeasured>
      )}
    </CrankAtBench>
  )
}

interface ReadingProps extends CrankFacts {
  kind: ReadKind
  bench: Bench
}

function Reading({ kind, bench, job, sheet, instruments, settings }: ReadingProps) {
  const me = useMe()
  const figures = sheetFigures(sheet)
  const beneath = (taken: Readonly<Record<string, number>>, phase: Phase) => {
    if (kind !== 'pin' && kind !== 'bore') return null
    const other = kind === 'pin' ? 'bore' : 'pin'
    return (
      <>
        <Fit
          job={job}
          bench={bench}
          figures={figures}
          scrapShare={settings.scrapFloorFactor}
          now={{ kind, ofKit: phase === 'kit', taken }}
        />
        <GoLink to={`/bench/${job.id}/read/${other}`}>{other === 'pin' ? 'Measure the pin' : 'Measure the bores'}</GoLink>
      </>
    )
  }
  return (
    <MeasureScreen
      // Another hand has figures of its own.
      key={me.id}
      jobId={job.id}
      personId={me.id}
      kind={kind}
      jobKind={job.kind}
      state={job.state}
      figures={figures}
      instruments={instruments}
      sets={bench.measurements.filter((set) => set.kind === kind)}
      ours={bench.ours}
      beneath={beneath}
      onward={
        <GoLink kind="go" to={`/bench/${job.id}`}>
          What it still needs
        </GoLink>
      }
    />
  )
}
