import { isWithin, SIDES, type Side } from '#core/runout-verdict.ts'

/** One set of readings: the full swing of the dial at each end, mm; null where that end was not read. */
export type EndSet = Readonly<Record<Side, number | null>>

export type SetName = 'first' | 'second' | 'third'

export type ReadingsAgreement =
  | { agrees: true; between: readonly [SetName, SetName] }
  | {
      agrees: false
      /** Ends where the second reading passes the limit of the house. */
      overHouse: Side[]
      /** Ends where first and second differ by more than the give-or-take allows. */
      differing: Side[]
      /** A third set is wanted, or it has been taken and agrees with neither of the two. */
      thirdSet: 'wanted' | 'settles-nothing'
    }

/**
 * Whether the second check confirms the first reading. It does where the second set is within the limit of the house and
 * differs from the first, at each end, by no more than √2 × the give-or-take of one reading (two independent readings of
 * the same worth differ by that much 19 times in 20). Where it does not, a third set by either person decides: any two of
 * the three that agree by the same rule will do, and all three are kept. The limit binds the second and the third set;
 * the first met it, or was let pass, when the crank was called true.
 *
 * Ends that the first or the second set leaves out are not compared. Lengths in mm. houseLimit is null at an end without
 * a limit, and for a report, which has none to meet. Refuses (RangeError) figures that are not numbers of 0 or more, and
 * two sets with no end in common.
 * Source: difference of two independent readings, JCGM 100:2008 (GUM) 5.1; the rule of the third set: common practice, no source.
 *
 * @example secondReadingAgrees({ first: { left: 0.012, right: 0.014 }, second: { left: 0.011, right: 0.015 }, third: null, giveOrTake: { left: 0.008, right: 0.008 }, houseLimit: { left: 0.02, right: 0.02 } }) // { agrees: true, between: ['first', 'second'] }
 */
export function secondReadingAgrees(sets: {
  first: EndSet
  second: EndSet
  third: EndSet | null
  giveOrTake: Readonly<Record<Side, number>>
  houseLimit: EndSet
}): ReadingsAgreement {
  const { first, second, third, giveOrTake, houseLimit } = sets
  requireFigures([first, second, third ?? first, giveOrTake, houseLimit])
  const compared = SIDES.filter((side) => first[side] !== null && second[side] !== null)
  if (compared.length === 0) throw new RangeError('secondReadingAgrees needs one end that both sets have read')

  const differingEnds = (one: EndSet, other: EndSet) => compared.filter((side) => !closeTogether(one[side], other[side], giveOrTake[side]))
  const endsOverHouse = (set: EndSet) => compared.filter((side) => isOver(set[side], houseLimit[side]))

  const overHouse = endsOverHouse(second)
  const differing = differingEnds(first, second)
  if (overHouse.length === 0 && differing.length === 0) return { agrees: true, between: ['first', 'second'] }
  if (third === null) return { agrees: false, overHouse, differing, thirdSet: 'wanted' }

  const thirdIsIn = endsOverHouse(third).length === 0
  if (thirdIsIn && overHouse.length === 0 && differingEnds(second, third).length === 0)
    return { agrees: true, between: ['second', 'third'] }
  if (thirdIsIn && differingEnds(first, third).length === 0) return { agrees: true, between: ['first', 'third'] }
  return { agrees: false, overHouse, differing, thirdSet: 'settles-nothing' }
}

function closeTogether(oneMm: number | null, otherMm: number | null, giveOrTakeMm: number): boolean {
  return oneMm !== null && otherMm !== null && isWithin(Math.abs(oneMm - otherMm), Math.SQRT2 * giveOrTakeMm)
}

function isOver(tirMm: number | null, limitMm: number | null): boolean {
  return tirMm !== null && limitMm !== null && !isWithin(tirMm, limitMm)
}

function requireFigures(sets: readonly EndSet[]): void {
  for (const figure of sets.flatMap((set) => [set.left, set.right])) {
    if (figure !== null && !(Number.isFinite(figure) && figure >= 0)) {
      throw new RangeError('secondReadingAgrees needs figures of 0 mm or more')
    }
  }
}
