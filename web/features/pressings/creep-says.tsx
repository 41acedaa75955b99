import type { ReactNode } from 'react'
import { warmPart } from '#core/bench/warm-part.ts'
import { foretellTaps, nextTap, stopAt, tapsInWords } from '#web/features/pressings/creep.ts'
import { type WidthNow, whereItIs } from '#web/features/pressings/width-now.ts'
import { mm } from '#web/lib/format.ts'
import { Over } from '#web/ui/notice.tsx'
import { Say } from '#web/ui/say.tsx'

const STEP_MM = 0.01

export interface CreepSaysProps {
  stands: WidthNow
  moves: readonly number[]
  temperatureC: number | undefined
  onward: ReactNode
}

/** What the hand does next at the press. */
export function CreepSays({ stands, moves, temperatureC, onward }: CreepSaysProps) {
  const { both, nowMm, toGoMm, clearanceNowMm, aimMm } = stands
  const warm = warmWords(nowMm, temperatureC)
  if (both === null)
    return (
      <p>
        <Over>No width meets both windows: kit or washer is wrong. Stop, and measure them again.</Over>
      </p>
    )
  if (nowMm === undefined || toGoMm === undefined || aimMm === undefined) {
    return (
      <Say
        act="Measure it at the pin, and key it."
        after={aimMm === undefined ? undefined : `Aim at ${mm(aimMm, STEP_MM)}, stop 0.05 before it, then creep.`}
      />
    )
  }
  const floor = floorWords(stands)
  const felt = clearanceNowMm === undefined ? '' : `The rod has ${mm(clearanceNowMm, STEP_MM)} by the stack. `
  const where = whereItIs(stands)
  if (where === 'past')
    return (
      <div className="say">
        <p>
          <Over>{mm(both.minMm - nowMm, STEP_MM)} past the least that is right.</Over> {warm}
          {felt}
        </p>
        <p className="say-act">Part the joint a little, and come back to it.</p>
        <p>That costs fit: count it as a pressing of this web.</p>
      </div>
    )
  if (where === 'in' && toGoMm <= STEP_MM + 1e-9)
    return (
      <Say
        before={`${warm}${felt}`}
        act="It is at the aim. Ram off."
        after={<>Let it rest, then read the width at all four places and the side clearance. {onward}</>}
      />
    )
  const stopMm = stopAt({ aimMm, toGoMm })
  if (stopMm !== undefined)
    return (
      <Say
        before={warm === '' ? undefined : warm}
        act={`${mm(toGoMm, STEP_MM)} to go: press to ${mm(stopMm, STEP_MM)} and stop.`}
        after={`That is 0.05 before the aim. Release, measure, key it; then creep by taps. ${floor}`}
      />
    )
  const lands = nextTap({ nowMm, moves })
  const next = foretellTaps({ toGoMm, roomMm: nowMm - both.minMm, moves })
  const said =
    moves.length === 0
      ? ''
      : `The last ${moves.length === 1 ? 'one' : moves.length === 2 ? 'two' : 'three'} moved ${moves.map((one) => mm(one, STEP_MM)).join(', ')}. ${landsWords(lands)}`
  const toGo = `${mm(toGoMm, STEP_MM)} to go`
  const act =
    next.kind === 'taps'
      ? `${toGo}: ${tapsInWords(next.count)}.`
      : next.kind === 'one-too-far'
        ? `${toGo}: less than one tap like the last.`
        : next.kind === 'stuck'
          ? `${toGo}. The last taps moved nothing.`
          : `${toGo}.`
  const how =
    next.kind === 'stuck'
      ? 'Look before the next one: pin square, gauge, what it bears on. '
      : next.kind === 'one-too-far'
        ? 'Lighter than the last, or more force under the same tap and half of it. '
        : 'Ram just under the force that moves it, then tap. '
  return <Say before={warm === '' ? undefined : warm} act={act} after={`${said}${how}${floor}`} />
}

/** `The next one like them leaves it at 64.03, between 64.03 and 64.04. ` */
function landsWords(lands: ReturnType<typeof nextTap>): string {
  if (lands === undefined) return ''
  const [at, least, most] = [lands.mm, lands.minMm, lands.maxMm].map((one) => mm(one, STEP_MM))
  return `The next one like ${least === most ? `it leaves it at ${at}` : `them leaves it at ${at}, between ${least} and ${most}`}. `
}

/** `10 K warm, it reads 0.007 wide: at 20 °C that is 64.053. Never measure it warm. ` */
function warmWords(nowMm: number | undefined, temperatureC: number | undefined): string {
  if (nowMm === undefined || temperatureC === undefined) return ''
  const warm = warmPart(nowMm, temperatureC)
  if (warm === null) return ''
  const how = `${Math.abs(Number(warm.awayK.toFixed(1)))} K ${warm.awayK > 0 ? 'warm' : 'cold'}`
  const reads = `${mm(Math.abs(warm.wideMm), STEP_MM / 10)} ${warm.wideMm > 0 ? 'wide' : 'narrow'}`
  return `${how}, it reads ${reads}: at 20 °C that is ${mm(nowMm, STEP_MM / 10)}. Never measure it warm. `
}

/** `Under 63.97 the rod has less than its 0.25.` */
function floorWords({ both, rod, clearance, cases }: WidthNow): string {
  if (both === null) return ''
  const isOfRod = rod !== undefined && clearance !== undefined && rod.minMm >= cases.minMm
  return isOfRod
    ? `Under ${mm(both.minMm, STEP_MM)} the rod has less than its ${mm(clearance.minMm, STEP_MM)}.`
    : `Under ${mm(both.minMm, STEP_MM)} it is narrower than the cases want.`
}
