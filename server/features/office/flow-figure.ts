/** In and out by week, what is in hand, and days in the house, from the sums that were read. */
import type { OfficeFlow } from '#contract/office-flow.ts'
import { daysBetween } from '#core/calendar.ts'
import { littlesLaw, meanOf, percentile, type ValueCount } from '#core/flow.ts'
import { OFFICE_RULES } from '#core/office-rules.ts'
import { dayAfter, isoWeek, mondayOf } from '#core/office-window.ts'
import { JOB_KINDS, type JobKind } from '#core/steps.ts'
import type { Window } from './filters.ts'
import { cranksOf, csvOf } from './links.ts'
import type { InOut } from './store.ts'

export function flowOf(
  read: { moves: readonly InOut[]; inHand: number },
  asked: { window: Window; today: string; weeks: number; kind?: JobKind | undefined },
): OfficeFlow {
  const { window, today, kind } = asked
  const ofKind = kind === undefined ? {} : { kind }
  const byWeek = new Map<string, number>()
  for (const { figure, stretch, n } of read.moves) {
    const week = `${figure} ${mondayOf(stretch)}`
    byWeek.set(week, (byWeek.get(week) ?? 0) + n)
  }
  const weeks = Array.from({ length: asked.weeks }, (_, place) => {
    const from = dayAfter(window.from, 7 * place)
    const days = { from, to: dayAfter(from, 6), ...ofKind }
    return {
      week: isoWeek(from),
      from,
      in: byWeek.get(`in ${from}`) ?? 0,
      out: byWeek.get(`out ${from}`) ?? 0,
      cranksIn: cranksOf('in', days),
      cranksOut: cranksOf('out', days),
    }
  })
  const gone = read.moves.filter((move) => move.figure === 'out')
  const out = sum(gone)
  const days = daysBetween(window.from, today) + 1
  const perDay = out / days
  const meanDays = meanOf(asCounts(gone))
  const csv = csvOf('flow', { weeks: asked.weeks, kind })
  return {
    rule: OFFICE_RULES.flow,
    n: out,
    cranks: cranksOf('out', { ...window, ...ofKind }),
    csv,
    from: window.from,
    to: today,
    ...ofKind,
    weeks,
    in: sum(read.moves.filter((move) => move.figure === 'in')),
    out,
    little: {
      rule: OFFICE_RULES.little,
      inHandNow: read.inHand,
      days,
      perDay,
      ...(meanDays === null ? {} : { meanDays, product: littlesLaw({ rate: perDay, timeHere: meanDays }).inHand }),
      ...(perDay === 0 ? {} : { daysAtThisPace: littlesLaw({ inHand: read.inHand, rate: perDay }).timeHere }),
    },
    stay: {
      rule: OFFICE_RULES.stay,
      n: out,
      cranks: cranksOf('out', { ...window, ...ofKind }),
      csv,
      all: stayOf(gone),
      byKind: JOB_KINDS.map((each) => ({ kind: each, ...stayOf(gone.filter((move) => move.kind === each)) })).filter(({ n }) => n > 0),
    },
  }
}

const SEVENTEEN_IN_20 = 17 / 20

function stayOf(gone: readonly InOut[]): OfficeFlow['stay']['all'] {
  const sample = asCounts(gone)
  const [half, seventeenIn20, mean] = [percentile(sample, 0.5), percentile(sample, SEVENTEEN_IN_20), meanOf(sample)]
  return half === null || seventeenIn20 === null || mean === null ? { n: 0 } : { n: sum(gone), half, seventeenIn20, mean }
}

function asCounts(gone: readonly InOut[]): ValueCount[] {
  return gone.map(({ days, n }) => ({ value: days, count: n }))
}

function sum(moves: readonly { n: number }[]): number {
  return moves.reduce((total, { n }) => total + n, 0)
}
