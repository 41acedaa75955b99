import { useQuery } from '@tanstack/react-query'
import type { ReactNode } from 'react'
import { Link } from 'react-router'
import type { Bench } from '#contract/bench.ts'
import type { Job } from '#contract/jobs.ts'
import { type GaugeBand, gaugeBand } from '#core/bench/gauge-and-fit.ts'
import { isThrow, type Joint } from '#core/crank-build.ts'
import { BenchNext } from '#web/features/jobs/bench-next.tsx'
import { gateQuery } from '#web/features/jobs/queries.ts'
import { fitsOf, tonnesForetold } from '#web/features/measurements/fit-now.tsx'
import { sheetFigures } from '#web/features/measurements/sheet-figures.ts'
import { pinAndBores, stackOf } from '#web/features/measurements/standing.ts'
import { tapsOf } from '#web/features/pressings/creep.ts'
import { CreepDesk } from '#web/features/pressings/creep-desk.tsx'
import { OilHole } from '#web/features/pressings/oil-hole.tsx'
import { PressDesk } from '#web/features/pressings/press-desk.tsx'
import { PressFrame } from '#web/features/pressings/press-frame.tsx'
import { PressList } from '#web/features/pressings/press-list.tsx'
import { isAllIn, TrappedParts } from '#web/features/pressings/trapped-parts.tsx'
import { useChoice } from '#web/lib/choice.ts'
import { atAddress } from '#web/lib/joint-here.ts'
import { AtPressedJoint } from '#web/pages/at-pressed-joint.tsx'
import { Fit } from '#web/pages/bench-fit.tsx'
import { Cautions } from '#web/pages/cautions.tsx'
import { CrankAtBench, type CrankFacts } from '#web/pages/crank-at-bench.tsx'
import { useMe } from '#web/pages/signed-in.tsx'
import { WithMeasured } from '#web/pages/with-measured.tsx'
import { GoLink } from '#web/ui/button.tsx'
import { Fold } from '#web/ui/fold.tsx'
import { Pick } from '#web/ui/pick.tsx'

/** One keypad at a time: the width under the ram, or the gauge of the press. */
const KEYPADS = ['width', 'gauge'] as const

export function BenchPressPage() {
  return (
    <CrankAtBench work="pressing" name="pressing together">
      {(facts) => (
        <WithMeasured jobId={facts.job.id}>
          {(bench) => (
            <BetweenTheWebs job={facts.job} bench={bench}>
              <AtPressedJoint
                sheet={facts.sheet}
                bench={bench}
                direction="together"
                order="Each throw first, and true on its own shafts; then the middle."
              >
                {(joint, here) => <Pressing joint={joint} {...facts} bench={here} />}
              </AtPressedJoint>
            </BetweenTheWebs>
          )}
        </WithMeasured>
      )}
    </CrankAtBench>
  )
}

type PressingProps = CrankFacts & { bench: Bench; joint: Joint | undefined }

/** The parts that sit between the webs come before the press: one forgotten, and it comes apart again. */
function BetweenTheWebs({ job, bench, children }: { job: Job; bench: Bench; children: ReactNode }) {
  const listed = bench.build?.trapped ?? []
  if (listed.length === 0) return children
  const isIn = isAllIn(bench)
  return (
    <>
      <TrappedParts jobId={job.id} listed={listed} seen={bench.trapped} isIn={isIn} />
      {isIn ? children : <Fold open="Press all the same">{() => children}</Fold>}
    </>
  )
}

function Pressing(props: PressingProps) {
  const { job, sheet, settings, bench, joint } = props
  // The shaft between two throws has no width over its webs, and another fit than the pins.
  const isOfPin = joint === undefined || isThrow(joint)
  const [chosen, change] = useChoice('at', KEYPADS)
  const at = isOfPin ? chosen : 'gauge'
  const gate = useQuery(gateQuery(job.id))
  const figures = sheetFigures(sheet)
  const isSet = gate.data?.next === 'together' && gate.data.missing.length === 0
  const head = (
    <>
      <Cautions of={['press']} />
      {isOfPin && (
        <Pick
          label="Keyed now"
          options={[
            { value: 'width', label: 'the width under the ram' },
            { value: 'gauge', label: 'the peak of the gauge' },
          ]}
          value={at}
          onChange={change}
        />
      )}
    </>
  )
  return (
    <>
      {isSet && <BenchNext job={job} here="together" />}
      <KeysAway isSet={isSet}>
        <PressFrame desk={at} head={head}>
          {at === 'gauge' ? <Gauge {...props} /> : <UnderTheRam {...props} />}
        </PressFrame>
      </KeysAway>
      {isOfPin && <Fit job={job} bench={bench} figures={figures} scrapShare={settings.scrapFloorFactor} />}
      {!isSet && <BenchNext job={job} here="together" />}
      <div className="bench-panels">
        <OilHole jobId={job.id} seen={job.oilHole} cycle={sheet.cycle} />
        <section aria-label="Pressed so far">
          <h2>Pressed so far</h2>
          <PressList jobId={job.id} pressings={bench.pressings} />
        </section>
      </div>
    </>
  )
}

/** Once everything is read the step is what comes next, and the keys are put away. */
function KeysAway({ isSet, children }: { isSet: boolean; children: ReactNode }) {
  return isSet ? <Fold open="It goes under the ram again">{() => children}</Fold> : children
}

function UnderTheRam({ job, sheet, instruments, bench, joint }: PressingProps) {
  const me = useMe()
  const { widthMinMm, widthMaxMm, clearanceMinMm, clearanceMaxMm } = sheetFigures(sheet)
  if (widthMinMm === undefined || widthMaxMm === undefined)
    return (
      <p className="press-webs">
        The sheet of this engine has no width over webs, so there is nothing to press to.{' '}
        <Link to={`/engines/${job.crank.engineId}`}>Open the engine sheet</Link>
      </p>
    )
  return (
    <CreepDesk
      key={me.id}
      jobId={job.id}
      cases={{ minMm: widthMinMm, maxMm: widthMaxMm }}
      clearance={
        clearanceMinMm === undefined || clearanceMaxMm === undefined ? undefined : { minMm: clearanceMinMm, maxMm: clearanceMaxMm }
      }
      stack={stackOf(bench)}
      taps={tapsOf(bench.measurements, bench.pressings)}
      band={bandOf(bench)}
      sheet={sheetFigures(sheet)}
      instruments={instruments}
      lastMike={bench.measurements.findLast((set) => set.kind === 'width' && set.instrument !== undefined)?.instrument?.id}
      stackAt={<GoLink to={atAddress(`/bench/${job.id}/read/stack`, joint)}>Measure them</GoLink>}
      onward={
        <span className="bench-links">
          <GoLink to={atAddress(`/bench/${job.id}/read/width`, joint)}>Width at four places</GoLink>
          <GoLink to={atAddress(`/bench/${job.id}/read/clearance`, joint)}>Side clearance</GoLink>
        </span>
      }
    />
  )
}

/** What the gauge may show going together: from the looser web to the tighter, by the fit that the book works out. */
function bandOf({ fit }: Bench): GaugeBand | undefined {
  if (fit === undefined || fit.ofOldPin) return undefined
  const bands = [fit.left, fit.right].flatMap((web) => (web === undefined || web.interferenceMm <= 0 ? [] : [gaugeBand(web.pressForceKN)]))
  if (bands.length === 0) return undefined
  return { lowTonnes: Math.min(...bands.map((one) => one.lowTonnes)), highTonnes: Math.max(...bands.map((one) => one.highTonnes)) }
}

function Gauge({ job, sheet, settings, bench, joint }: PressingProps) {
  const me = useMe()
  const figures = sheetFigures(sheet)
  const { left, right } = fitsOf({ webs: pinAndBores(bench).webs, figures, scrapShare: settings.scrapFloorFactor })
  const isKnown = figures.engagementMm !== undefined && (joint === undefined || isThrow(joint))
  return (
    <PressDesk
      key={me.id}
      jobId={job.id}
      personId={me.id}
      direction="together"
      pressings={bench.pressings}
      foretold={{
        ...(left === undefined || !isKnown ? {} : { left: `${tonnesForetold(left)} foretold` }),
        ...(right === undefined || !isKnown ? {} : { right: `${tonnesForetold(right)} foretold` }),
      }}
    >
      <p>After the first 3 mm take it out and look for hairs or curl in the bore; if it carves, stop.</p>
    </PressDesk>
  )
}
