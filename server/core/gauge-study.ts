import type { GaugeAnswer } from '#core/gauge.ts'
import { seededRandom } from '#core/numeric/random.ts'

export interface ReadingAt {
  round: number
  part: number
}

const OFFSET = 0x811c9dc5
const PRIME = 0x01000193

/** FNV-1a over the characters (Fowler, Noll and Vo, 32 bits, from memory): one whole number from any text. */
function numberOf(text: string): number {
  let number = OFFSET
  for (const character of text) number = Math.imul(number ^ (character.codePointAt(0) ?? 0), PRIME) >>> 0
  return number
}

/**
 * The order in which one person reads the parts of a study, round by round: every part once a round, shuffled anew for each
 * person and round, so that nobody remembers what this part read last time. The last part of a round is never the first of
 * the next. The same study and person always give the same order.
 *
 * @example readingOrder({ study: 'a', person: 'b', parts: 2, rounds: 2 }).length // 4
 *
 * parts 2 to 30, rounds 2 to 5, counted from 1 in the answer; refuses others (RangeError). Shuffle: Fisher and Yates as in
 * Knuth, The Art of Computer Programming, vol. 2, algorithm P, from memory.
 */
export function readingOrder(asked: { study: string; person: string; parts: number; rounds: number }): ReadingAt[] {
  const { study, person, parts, rounds } = asked
  if (!Number.isInteger(parts) || parts < 2 || parts > 30) throw new RangeError('readingOrder needs 2 to 30 parts')
  if (!Number.isInteger(rounds) || rounds < 2 || rounds > 5) throw new RangeError('readingOrder needs 2 to 5 rounds')
  const random = seededRandom(numberOf(`${study} ${person}`))
  const order: ReadingAt[] = []
  for (let round = 1; round <= rounds; round++) {
    const shuffled = Array.from({ length: parts }, (_, index) => index + 1)
    for (let last = parts - 1; last > 0; last--) {
      const other = Math.floor(random() * (last + 1))
      ;[shuffled[last], shuffled[other]] = [shuffled[other]!, shuffled[last]!]
    }
    if (shuffled[0] === order.at(-1)?.part) shuffled.push(shuffled.shift()!)
    order.push(...shuffled.map((part) => ({ round, part })))
  }
  return order
}

export const GAUGE_VERDICTS = ['good', 'usable', 'not-usable'] as const
export type GaugeVerdict = (typeof GAUGE_VERDICTS)[number]

const GOOD_UNDER = 10
const USABLE_TO = 30
const STEPS_WANTED = 5

/**
 * Whether an instrument and its people are fit for what they judge: good where their spread is under 10 % of the tolerance (of
 * the total spread where no tolerance is given), usable from 10 to 30 %, above that not.
 *
 * @example gaugeVerdict({ percentOfTotal: 27.9, percentOfTolerance: 8 }) // 'good'
 *
 * Common practice, no source.
 */
export function gaugeVerdict({
  percentOfTotal,
  percentOfTolerance,
}: Pick<GaugeAnswer, 'percentOfTotal' | 'percentOfTolerance'>): GaugeVerdict {
  const percent = percentOfTolerance ?? percentOfTotal
  if (percent < GOOD_UNDER) return 'good'
  return percent <= USABLE_TO ? 'usable' : 'not-usable'
}

const VERDICT_SENTENCES: Readonly<Record<GaugeVerdict, string>> = {
  good: 'Good: under 10 %.',
  usable: 'Usable: 10 to 30 %.',
  'not-usable': 'Not usable for this: above 30 %.',
}

/**
 * What a study comes to, a sentence each: the share of the window, the steps that can be told apart, and what adds most.
 *
 * @example gaugeWords({ repeatability: 1, reproducibility: 2, interaction: 0, gauge: 2.24, part: 9, percentOfTotal: 24 }).length // 3
 *
 * Five steps or more: common practice, no source.
 */
export function gaugeWords(
  answer: Pick<
    GaugeAnswer,
    'repeatability' | 'reproducibility' | 'interaction' | 'gauge' | 'part' | 'percentOfTotal' | 'percentOfTolerance' | 'distinctSteps'
  >,
): string[] {
  const { percentOfTotal, percentOfTolerance, distinctSteps } = answer
  const share =
    percentOfTolerance === undefined
      ? `The instrument and its people make ${percentOfTotal.toFixed(1)} % of the whole spread.`
      : `The spread of the instrument and its people takes ${percentOfTolerance.toFixed(1)} % of the tolerance.`
  return [`${share} ${VERDICT_SENTENCES[gaugeVerdict(answer)]}`, stepsSentence(distinctSteps), mostSentence(answer)]
}

function stepsSentence(steps: number | undefined): string {
  if (steps === undefined) return 'It has no scatter at all: the parts are told apart without end.'
  const enough = steps >= STEPS_WANTED ? `${STEPS_WANTED} or more are wanted: enough.` : `${STEPS_WANTED} or more are wanted: too few.`
  return `It tells ${steps === 1 ? '1 step' : `${steps} steps`} apart among these parts. ${enough}`
}

function mostSentence({
  repeatability,
  reproducibility,
  interaction,
}: Pick<GaugeAnswer, 'repeatability' | 'reproducibility' | 'interaction'>): string {
  const between = Math.hypot(reproducibility, interaction)
  if (repeatability === 0 && between === 0) return 'Nothing comes from the hand or the instrument.'
  return between > repeatability
    ? 'Most of it comes from person to person: agree on one way to hold and read.'
    : 'Most of it comes from the same person reading again: look at the instrument and how the part is held.'
}
