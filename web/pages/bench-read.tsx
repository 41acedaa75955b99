import { useParams } from 'react-router'
import type { Bench } from '#contract/measurements.ts'
import { hasSeveralThrows, isThrow, type Joint } from '#core/crank-build.ts'
import { AngleDesk } from '#web/features/measurements/angle-desk.tsx'
import { isReadKind, KINDS, type Phase, type ReadKind } from '#web/features/measurements/kinds.ts'
import { MeasureScreen } from '#web/features/measurements/measure-screen.tsx'
import { sheetFigures } from '#web/features/measurements/sheet-figures.ts'
import { benchAt } from '#web/lib/bench-at-joint.ts'
import { atAddress } from '#web/lib/joint-here.ts'
import { AtJoint } from '#web/pages/at-joint.tsx'
import { Fit } from '#web/pages/bench-fit.tsx'
import { CrankAtBench, type CrankFacts } from '#web/pages/crank-at-bench.tsx'
import { NotFoundPage } from '#web/pages/not-found.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { WithMeasured } from '#web/pages/with-measured.tsx'
import { GoLink } from '#web/ui/button.tsx'
import { Known } from '#web/ui/notice.tsx'

/** One kind of reading on one crank: width, side clearance, play, rod, pin, bores, stack. */
export function BenchReadPage() {
  const { kind = 'width' } = useParams()
  if (kind === 'phase') return <AnglesPage />
  if (!isReadKind(kind)) return <NotFoundPage />
  return (
    <CrankAtBench work="measuring" name={KINDS[kind].title.toLowerCase()}>
      {(facts) => (
        <WithMeasured jobId={facts.job.id}>
          {(bench) =>
            kind === 'centre' ? (
              <Reading key={kind} kind={kind} bench={bench} {...facts} />
            ) : (
              <AtJoint sheet={facts.sheet} among={kind === 'pin' || kind === 'bore' ? 'joints' : 'throws'}>
                {(joint) => <Reading key={kind} kind={kind} joint={joint} bench={benchAt(bench, joint)} {...facts} />}
              </AtJoint>
            )
          }
        </WithMeasured>
      )}
    </CrankAtBench>
  )
}

interface ReadingProps extends CrankFacts {
  kind: ReadKind
  joint?: Joint | undefined
  bench: Bench
}

function Reading({ kind, joint, bench, job, sheet, instruments, settings }: ReadingProps) {
  const me = useMe()
  const figures = sheetFigures(sheet)
  const beneath = (taken: Readonly<Record<string, number>>, phase: Phase) => {
    // The shaft between two throws is another one than the pin of the sheet.
    if ((kind !== 'pin' && kind !== 'bore') || (joint !== undefined && !isThrow(joint))) return null
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
        <GoLink to={atAddress(`/bench/${job.id}/read/${other}`, joint)}>{other === 'pin' ? 'Measure the pin' : 'Measure the bores'}</GoLink>
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
      build={sheet.build}
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

/** Where the throws of a crank with several stand from the first. */
function AnglesPage() {
  const me = useMe()
  return (
    <CrankAtBench work="measuring" name="angles of the throws">
      {({ job, sheet }) => (
        <WithMeasured jobId={job.id}>
          {(bench) =>
            hasSeveralThrows(sheet.build ?? null) ? (
              <AngleDesk
                key={me.id}
                jobId={job.id}
                personId={me.id}
                jobKind={job.kind}
                state={job.state}
                build={sheet.build!}
                sets={bench.measurements.filter((set) => set.kind === 'phase')}
                onward={
                  <GoLink kind="go" to={`/bench/${job.id}`}>
                    What it still needs
                  </GoLink>
                }
              />
            ) : (
              <Known>This crank has one throw, and no angle to read.</Known>
            )
          }
        </WithMeasured>
      )}
    </CrankAtBench>
  )
}
