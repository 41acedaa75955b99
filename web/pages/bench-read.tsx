import { useQuery } from '@tanstack/react-query'
import { useParams } from 'react-router'
import type { Bench } from '#contract/bench.ts'
import type { Job } from '#contract/jobs.ts'
import type { Gate } from '#contract/steps.ts'
import { hasSeveralThrows, isThrow, type Joint, jointWords, throwsOf } from '#core/crank-build.ts'
import { wayFor } from '#web/features/jobs/bench-ways.ts'
import { gateQuery } from '#web/features/jobs/queries.ts'
import { AngleDesk } from '#web/features/measurements/angle-desk.tsx'
import { isReadKind, KINDS, type Phase, type ReadKind } from '#web/features/measurements/kinds.ts'
import { MeasureScreen } from '#web/features/measurements/measure-screen.tsx'
import { sheetFigures } from '#web/features/measurements/sheet-figures.ts'
import { isReadAt } from '#web/features/measurements/standing.ts'
import { benchAt } from '#web/lib/bench-at-joint.ts'
import { atAddress } from '#web/lib/joint-here.ts'
import { AtJoint, Done } from '#web/pages/at-joint.tsx'
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
              <AtEachJoint kind={kind} bench={bench} facts={facts} />
            )
          }
        </WithMeasured>
      )}
    </CrankAtBench>
  )
}

/** The same kind joint by joint: those that are read are ticked, and after each the next one is offered. */
function AtEachJoint({ kind, bench, facts }: { kind: ReadKind; bench: Bench; facts: CrankFacts }) {
  const { job, sheet } = facts
  const gate = useQuery(gateQuery(job.id))
  const build = sheet.build ?? null
  const among = kind === 'pin' || kind === 'bore' ? 'joints' : 'throws'
  const isRead = (joint: Joint | undefined) => isReadAt(benchAt(bench, joint), kind, job) && !isAsked(gate.data?.missing, kind, job, joint)
  const next = throwsOf(build).find((joint) => !isRead(joint))
  return (
    <AtJoint sheet={sheet} among={among} mark={(joint) => isRead(joint) && <Done says="read" />}>
      {(joint) => (
        <Reading key={kind} kind={kind} joint={joint} bench={benchAt(bench, joint)} {...facts} next={next === joint ? undefined : next} />
      )}
    </AtJoint>
  )
}

/** Whether the next step still waits for this kind at this joint, as after a blow. */
function isAsked(missing: Gate['missing'] = [], kind: ReadKind, { id, crank }: Job, joint: Joint | undefined): boolean {
  const here = atAddress(`/bench/${id}/read/${kind}`, joint)
  return missing.some((one) => wayFor(one.code, { id, engineId: crank.engineId }, one.joint)?.to === here)
}

interface ReadingProps extends CrankFacts {
  kind: ReadKind
  joint?: Joint | undefined
  /** The first joint that this is not read at yet, where that is another one. */
  next?: Joint | undefined
  bench: Bench
}

function Reading({ kind, joint, next, bench, job, sheet, instruments, settings }: ReadingProps) {
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
        <>
          {next !== undefined && (
            <GoLink kind="go" to={atAddress(`/bench/${job.id}/read/${kind}`, next)}>
              On to {jointWords(next).toLowerCase()}
            </GoLink>
          )}
          <GoLink kind={next === undefined ? 'go' : 'quiet'} to={`/bench/${job.id}`}>
            What it still needs
          </GoLink>
        </>
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
