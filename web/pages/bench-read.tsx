import { useNavigate, useParams } from 'react-router'
import type { Bench, Measurement } from '#contract/measurements.ts'
import { AskCustomer } from '#web/features/jobs/ask-customer.tsx'
import { FitNow, fitsOf } from '#web/features/measurements/fit-now.tsx'
import { FitStop } from '#web/features/measurements/fit-stop.tsx'
import { isReadKind, KINDS, type Phase, type ReadKind, type SheetFigures } from '#web/features/measurements/kinds.ts'
import { MeasureScreen } from '#web/features/measurements/measure-screen.tsx'
import { SetList } from '#web/features/measurements/set-list.tsx'
import { sheetFigures } from '#web/features/measurements/sheet-figures.ts'
import { pinAndBores } from '#web/features/measurements/standing.ts'
import { ReadingScreen } from '#web/features/truing/reading-screen.tsx'
import { CrankAtBench, type CrankFacts } from '#web/pages/crank-at-bench.tsx'
import { NotFoundPage } from '#web/pages/not-found.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { WithMeasured } from '#web/pages/with-measured.tsx'
import { GoLink } from '#web/ui/button.tsx'
import { Known } from '#web/ui/notice.tsx'

/** One kind of reading on one crank: width, side clearance, play, rod, pin, bores, stack, or both ends as it came in. */
export function BenchReadPage() {
  const { kind = 'width' } = useParams()
  if (kind === 'runout')
    return (
      <CrankAtBench work="measuring" name="both ends as it came in">
        {(facts) => <BothEnds {...facts} />}
      </CrankAtBench>
    )
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
  const beneath = (taken: Readonly<Record<string, number>>, phase: Phase) =>
    kind === 'pin' || kind === 'bore' ? (
      <Fit job={job} bench={bench} figures={figures} scrapShare={settings.scrapFloorFactor} now={{ kind, ofKit: phase === 'kit', taken }} />
    ) : null
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
      beneath={beneath}
      onward={
        <GoLink kind="go" to={`/bench/${job.id}`}>
          What it still needs
        </GoLink>
      }
    />
  )
}

interface FitProps {
  job: CrankFacts['job']
  bench: Bench
  figures: SheetFigures
  scrapShare: number
  now?: Parameters<typeof pinAndBores>[1]
}

/** The fit as it stands or as it is being keyed, and what stop means where it is one. */
export function Fit({ job, bench, figures, scrapShare, now }: FitProps) {
  const { webs, ofOldPin } = pinAndBores(bench, now)
  const fits = fitsOf({ webs, figures, scrapShare })
  return (
    <>
      <FitNow webs={webs} figures={figures} scrapShare={scrapShare} ofOldPin={ofOldPin} />
      <FitStop
        fits={fits}
        ofOldPin={ofOldPin}
        ask={<AskCustomer job={job} about="The pin is too loose in a web: another half, a new web, or stop here." />}
      />
    </>
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
