import type { Bench } from '#contract/bench.ts'
import type { Engine } from '#contract/engines.ts'
import { isThrow } from '#core/crank-build.ts'
import { phaseError } from '#core/phase.ts'
import { isWithin } from '#core/runout-verdict.ts'
import {
  line,
  type MeasuredLine,
  newestOf,
  notThere,
  PHASE_WORDS,
  readingAt,
  runoutLine,
  stepOf,
  throwLines,
} from '#web/features/jobs/measured-places.ts'
import { benchAt, benchOfWhole } from '#web/lib/bench-at-joint.ts'
import { mm } from '#web/lib/format.ts'

const MIDDLE_STEP_MM = 0.01

/** Everything that was measured, in the order of the crank from left to right; with several throws joint by joint. */
export function measuredLines(bench: Bench, sheet: Engine): MeasuredLine[] {
  const whole = benchOfWhole(bench)
  const ends = [runoutLine(whole, 'left'), runoutLine(whole, 'right')]
  if (bench.joints === undefined) return [...ends, ...throwLines(bench, sheet)]
  const joints = bench.joints.flatMap(({ joint, says }) => {
    const lines = throwLines(benchAt(bench, joint), sheet)
    const own = isThrow(joint) ? lines : lines.filter((one) => one.id.startsWith('tonnes'))
    return own.map((one) => ({
      ...one,
      id: `${one.id} ${joint}`,
      what: `${says}: ${one.what.charAt(0).toLowerCase()}${one.what.slice(1)}`,
    }))
  })
  return [...ends, ...joints, ...middleLines(whole)]
}

/** Where the throws stand, and what the middle swings. */
function middleLines(bench: Bench): MeasuredLine[] {
  const { phaseDeg = [], phaseLimitDeg: limit, centreLimitMm } = bench.build ?? {}
  const [angles, middle] = [newestOf(bench, 'phase'), newestOf(bench, 'centre')]
  return phaseDeg.slice(1).flatMap((nominal, place) => {
    const deg = readingAt(angles, String(place + 2))
    const swing = readingAt(middle, String(place + 1))
    const isOut =
      deg !== undefined && limit !== undefined && phaseError({ measuredDeg: deg, nominalDeg: nominal, limitDeg: limit }).verdict === 'over'
    return [
      line({
        id: `phase ${place + 2}`,
        what: `Throw ${place + 2}: angle from throw 1`,
        figure: deg === undefined ? undefined : `${Number(deg.toFixed(2))}°`,
        how: deg === undefined || angles === undefined ? (notThere(angles) ?? 'not measured yet') : PHASE_WORDS[angles.phase],
        allowed: limit === undefined ? undefined : `${Number((nominal - limit).toFixed(2))}° to ${Number((nominal + limit).toFixed(2))}°`,
        past: isOut ? 'out' : undefined,
      }),
      line({
        id: `centre ${place + 1}`,
        what: `Centre ${place + 1}–${place + 2}: full swing`,
        figure: swing === undefined || middle === undefined ? undefined : mm(swing, stepOf(middle)),
        how: swing === undefined || middle === undefined ? (notThere(middle) ?? 'not measured yet') : PHASE_WORDS[middle.phase],
        allowed: centreLimitMm === undefined ? undefined : mm(centreLimitMm, MIDDLE_STEP_MM),
        past: swing !== undefined && centreLimitMm !== undefined && !isWithin(swing, centreLimitMm) ? 'over' : undefined,
      }),
    ]
  })
}
