import type { Bench } from '#contract/bench.ts'
import { isThrow, type Joint } from '#core/crank-build.ts'
import { BenchNext } from '#web/features/jobs/bench-next.tsx'
import { fitsOf, tonnesForetold } from '#web/features/measurements/fit-now.tsx'
import type { SheetFigures } from '#web/features/measurements/kinds.ts'
import { sheetFigures } from '#web/features/measurements/sheet-figures.ts'
import { PressDesk } from '#web/features/pressings/press-desk.tsx'
import { PressFrame } from '#web/features/pressings/press-frame.tsx'
import { PressList } from '#web/features/pressings/press-list.tsx'
import { isPressed } from '#web/features/pressings/press-words.ts'
import { atAddress } from '#web/lib/joint-here.ts'
import { AtPressedJoint } from '#web/pages/at-pressed-joint.tsx'
import { Fit } from '#web/pages/bench-fit.tsx'
import { Cautions } from '#web/pages/cautions.tsx'
import { CrankAtBench, type CrankFacts } from '#web/pages/crank-at-bench.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { WithMeasured } from '#web/pages/with-measured.tsx'
import { GoLink } from '#web/ui/button.tsx'
import { Fold } from '#web/ui/fold.tsx'

export function BenchPartPage() {
  return (
    <CrankAtBench work="parting" name="pressing apart">
      {(facts) => (
        <WithMeasured jobId={facts.job.id}>
          {(bench) => (
            <AtPressedJoint
              sheet={facts.sheet}
              bench={bench}
              direction="apart"
              order="Measure all gaps between the webs first; then from the centre out."
            >
              {(joint, here) => <Parting joint={joint} {...facts} bench={here} />}
            </AtPressedJoint>
          )}
        </WithMeasured>
      )}
    </CrankAtBench>
  )
}

/** What a pin by the sheet lets go at: the whole band from its loosest to its tightest. */
function bySheet({ pinDiameterMm, fitMinMm, fitMaxMm, engagementMm }: SheetFigures): string | undefined {
  if (pinDiameterMm === undefined || fitMinMm === undefined || fitMaxMm === undefined || engagementMm === undefined) return undefined
  const figures = { pinDiameterMm, engagementMm }
  const webs = {
    left: { pinMm: [pinDiameterMm + fitMinMm], boreMm: [pinDiameterMm] },
    right: { pinMm: [pinDiameterMm + fitMaxMm], boreMm: [pinDiameterMm] },
  }
  const { left, right } = fitsOf({ webs, figures, scrapShare: 0 })
  if (left === undefined || right === undefined) return undefined
  const force = { low: left.pressForceKN.low, high: right.pressForceKN.high }
  return `a fit by the sheet: ${tonnesForetold({ pressForceKN: force })}`
}

function Parting({ joint, job, sheet, settings, bench }: CrankFacts & { joint: Joint | undefined; bench: Bench }) {
  const me = useMe()
  const figures = sheetFigures(sheet)
  // The sheet gives the pin of the throws; the shaft between them is another.
  const isOfPin = joint === undefined || isThrow(joint)
  const foretold = isOfPin ? bySheet(figures) : undefined
  const isApart = isPressed(bench, joint, 'apart')
  const desk = (
    <PressFrame desk="gauge" head={<Cautions of={['press', 'drop']} />}>
      <PressDesk
        key={me.id}
        jobId={job.id}
        personId={me.id}
        direction="apart"
        pressings={bench.pressings}
        foretold={foretold === undefined ? {} : { left: foretold, right: foretold }}
      >
        <p>Web held close to the bore on a flat plate, ram on the pin alone. Mark both webs before they come off.</p>
      </PressDesk>
    </PressFrame>
  )
  return (
    <>
      {isApart ? (
        <>
          <BenchNext job={job} />
          <Fold open="A web was pressed again">{() => desk}</Fold>
        </>
      ) : (
        <>
          {desk}
          <BenchNext job={job} here="apart" />
        </>
      )}
      <div className="bench-panels">
        <section aria-label="Fit of what came apart">
          {isOfPin && <Fit job={job} bench={bench} figures={figures} scrapShare={settings.scrapFloorFactor} />}
          <p className="bench-links">
            <GoLink to={atAddress(`/bench/${job.id}/read/bore`, joint)}>Measure the bores</GoLink>
            <GoLink to={atAddress(`/bench/${job.id}/read/pin`, joint)}>Measure the pin</GoLink>
          </p>
        </section>
        <section aria-label="Pressed so far">
          <h2>Pressed so far</h2>
          <PressList jobId={job.id} pressings={bench.pressings} />
        </section>
      </div>
    </>
  )
}
