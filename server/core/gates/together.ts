import type { JobFacts, Taken, WidthPlaces, Window } from '#core/gates/facts.ts'
import { isTaken, type Missing, missing, mm, notTaken, placesLeft } from '#core/gates/missing.ts'
import { isLater, latestOf } from '#core/instants.ts'
import { isWithin, SIDES, type Side } from '#core/runout-verdict.ts'

/** Together: the pin of the kit measured in both webs and tight enough, its lot named, the oil hole clear, width and side clearance in their windows. */
export function missingForTogether(facts: JobFacts): Missing[] {
  const list: Missing[] = []
  if ((facts.kitLot ?? '').trim() === '') list.push(missing('kit-lot', 'The lot of the rod kit is not named.'))
  for (const side of SIDES) list.push(...missingInFit(facts, side))
  list.push(...looseFits(facts))
  if (facts.oilHole === null) list.push(missing('oil-hole', 'Nobody has looked yet whether the oil hole of the pin is clear.'))
  list.push(...maskedOilHole(facts))
  const pressedAt = latestOf([facts.parting?.at ?? null, facts.lastPressingAt])
  list.push(...missingInWidth(facts, pressedAt), ...missingInSideClearance(facts, pressedAt))
  return list
}

function missingInFit(facts: JobFacts, side: Side): Missing[] {
  const fit = facts.fit[side]
  const partedAt = facts.parting?.at ?? null
  if (!isTaken(fit)) return [notTaken(`fit-${side}`, { name: `The fit of the pin in the ${side} web`, figure: fit, since: partedAt })]
  const { interferenceMm, verdict, pinIsOfKit } = fit.value
  const list: Missing[] = []
  if (!isLater(fit.takenAt, partedAt)) {
    list.push(
      missing(`fit-${side}-older-than-parting`, `The ${side} bore was measured before it was last parted. Measure it again.`, partedAt),
    )
  }
  if (!pinIsOfKit) {
    list.push(
      missing(`fit-${side}-not-of-the-kit-pin`, `The ${side} web was measured with the old pin. Measure the pin of the kit.`, fit.takenAt),
    )
  }
  if (verdict === 'below-shop-floor') {
    const detail = `The ${side} web holds the pin at ${mm(interferenceMm)}, below our floor of ${mm(facts.fitFloors.shopMm)}.`
    list.push(missing(`fit-${side}-below-shop-floor`, detail, fit.takenAt))
  }
  return list
}

/** A fit under the scrap floor stops the job at every gate from together on. */
export function looseFits(facts: JobFacts): Missing[] {
  const list: Missing[] = []
  for (const side of SIDES) {
    const fit = facts.fit[side]
    if (!isTaken(fit) || fit.value.verdict !== 'stop') continue
    const { interferenceMm, pinIsOfKit } = fit.value
    const held = `The ${side} web holds the pin at ${mm(interferenceMm)}, under the scrap floor of ${mm(facts.fitFloors.scrapMm)}`
    const wayOut = pinIsOfKit ? 'another half, or scrap it' : 'measure the pin of the kit in it'
    list.push(missing(`fit-${side}-under-scrap-floor`, `${held}: ${wayOut}. Nobody can let this pass.`, fit.takenAt))
  }
  return list
}

/** A masked oil hole stops the job at every gate from together on. */
export function maskedOilHole(facts: JobFacts): Missing[] {
  if (facts.oilHole !== 'masked') return []
  return [
    missing('oil-hole-masked', 'The oil hole of the pin is masked and would starve the big end. Press it again: nobody can let this pass.'),
  ]
}

/** The width over webs at four places, newer than stirredAt, its mean in the window. */
export function missingInWidth(facts: JobFacts, stirredAt: string | null): Missing[] {
  const { width } = facts.asItStands
  if (!isTaken(width)) return [notTaken('width', { name: 'The width over webs', figure: width, since: stirredAt })]
  const left = placesLeft(width.value)
  if (left.length > 0) return [missing('width', `The width over webs is not read at ${left.join(', ')}°.`, width.takenAt)]
  const figure = { ...width, value: meanWidth(width.value) }
  return staleOrOutside('width', { name: 'The width over webs', figure, window: facts.windows.width, stirredAt })
}

/** The side clearance of the rod, newer than stirredAt, in its window. */
export function missingInSideClearance(facts: JobFacts, stirredAt: string | null): Missing[] {
  const { sideClearance } = facts.asItStands
  if (!isTaken(sideClearance))
    return [notTaken('side-clearance', { name: 'The side clearance of the rod', figure: sideClearance, since: stirredAt })]
  const window = facts.windows.sideClearance
  return staleOrOutside('side-clearance', { name: 'The side clearance of the rod', figure: sideClearance, window, stirredAt })
}

/** The width of a crank whose webs lean a little: opposite places err by as much up as down, so the mean of the four is it. */
function meanWidth(width: WidthPlaces): number {
  const readings = Object.values(width)
  return readings.reduce((sum, reading) => sum + reading, 0) / readings.length
}

function staleOrOutside(
  code: 'width' | 'side-clearance',
  what: { name: string; figure: Taken<number>; window: Window | null; stirredAt: string | null },
): Missing[] {
  const { name, figure, window, stirredAt } = what
  const list: Missing[] = []
  if (!isLater(figure.takenAt, stirredAt)) {
    list.push(missing(`${code}-older-than-last-move`, `${name} was read before the last move. Read it again.`, stirredAt))
  }
  if (window === null)
    list.push(missing(`${code}-window`, `Our sheet for this engine has no window for this: ${name.toLowerCase()} cannot be judged.`))
  else if (!(isWithin(window.minMm, figure.value) && isWithin(figure.value, window.maxMm))) {
    const detail = `${name} is ${mm(figure.value)}, allowed ${mm(window.minMm)} to ${mm(window.maxMm)}.`
    list.push(missing(`${code}-out-of-window`, detail, figure.takenAt))
  }
  return list
}
