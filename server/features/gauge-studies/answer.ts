import type { GaugeStudy, GaugeStudyRow } from '#contract/gauge-studies.ts'
import { gauge } from '#core/gauge.ts'
import { gaugeVerdict, gaugeWords, type ReadingAt, readingOrder } from '#core/gauge-study.ts'
import { type KeptReading, type StudyHead, stateOf, wantedOf } from './store.ts'

export function rowOf(head: StudyHead): GaugeStudyRow {
  const { id, name, instrument, what, startedAt, startedBy, closedAt, closedBecause, people } = head
  return {
    id,
    name,
    state: stateOf(head),
    instrument,
    what,
    startedAt: startedAt.toISOString(),
    startedBy,
    ...(closedAt === null ? {} : { closedAt: closedAt.toISOString() }),
    ...(closedBecause === null ? {} : { closedBecause }),
    taken: people.reduce((sum, one) => sum + one.taken, 0),
    wanted: wantedOf(head),
  }
}

/** The order of this person, and which of it comes next; null when all of theirs are in. */
export function turnOf(head: StudyHead, personId: string, own: readonly KeptReading[]): { order: ReadingAt[]; next: ReadingAt | null } {
  const order = readingOrder({ study: head.id, person: personId, parts: head.parts.length, rounds: head.rounds })
  const isIn = ({ part, round }: ReadingAt) => own.some((reading) => reading.part === part && reading.round === round)
  return { order, next: order.find((at) => !isIn(at)) ?? null }
}

/**
 * A study as this person may see it. Until all readings are in, nobody sees any but the last of their own; one that was given
 * up never shows them.
 *
 * @param readings those of this person, or all of them once all are in
 */
export function studyFor(head: StudyHead, personId: string, readings: readonly KeptReading[]): GaugeStudy {
  const { toleranceMm, parts, rounds, people } = head
  const state = stateOf(head)
  return {
    ...rowOf(head),
    ...(toleranceMm === null ? {} : { toleranceMm }),
    parts,
    rounds,
    people: people.map((one) => ({ ...one, wanted: parts.length * rounds })),
    ...(state === 'open' && people.some((one) => one.id === personId) ? ownTurn(head, personId, readings) : {}),
    ...(state === 'all-in' ? { result: resultOf(head, readings) } : {}),
  }
}

function ownTurn(head: StudyHead, personId: string, own: readonly KeptReading[]): Pick<GaugeStudy, 'next' | 'last'> {
  const { order, next } = turnOf(head, personId, own)
  const last = order.flatMap((at) => own.filter((reading) => reading.part === at.part && reading.round === at.round)).at(-1)
  return { next, ...(last === undefined ? {} : { last: { id: last.id, part: last.part, round: last.round, mm: last.mm } }) }
}

function resultOf(head: StudyHead, readings: readonly KeptReading[]): NonNullable<GaugeStudy['result']> {
  const place = new Map(head.people.map((one, index) => [one.id, index]))
  const sorted = readings.toSorted(
    (one, other) => one.part - other.part || place.get(one.personId)! - place.get(other.personId)! || one.round - other.round,
  )
  const shown = sorted.map(({ part, round, personId, mm }) => ({ part, round, personId, mm }))
  const answer = gauge({
    readings: sorted.map(({ part, personId, mm }) => ({ part, person: personId, value: mm })),
    tolerance: head.toleranceMm ?? undefined,
  })
  if (!answer.ok) return { readings: shown, says: [answer.detail] }
  return { readings: shown, answer: answer.value, verdict: gaugeVerdict(answer.value), says: gaugeWords(answer.value) }
}
