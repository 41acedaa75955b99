/** Rounds of one case, service and twin in turn. */
import type { Case } from './cases.ts'
import { type Asked, put, quantile, type Round } from './load.ts'
import { CALLERS } from './people.ts'
import { SIDES, type Side, type Sides } from './sides.ts'

export interface Measured {
  name: string
  kind: Case['kind']
  /** Answers a second: the median round. */
  perSecond: Record<Side, number>
  /** Work of the process for one answer, milliseconds of a core: the median round. The database's is not in it. */
  workMs: Record<Side, number>
  /** Service by twin, of rounds that ran one after the other: the median. */
  ratio: number
  /** Of all rounds, milliseconds: half, and 19 in 20, were answered sooner. */
  p50: number
  p95: number
  twinP95: number
  /** Requests that either side asked to come again in a moment. */
  turnedAway: number
}

export interface Effort {
  rounds: number
  seconds: number
  /** Requests of one round that writes. */
  writes: number
}

export async function measure(one: Case, sides: Sides, cookies: readonly string[], effort: Effort): Promise<Measured> {
  const rounds: Record<Side, Round[]> = { service: [], twin: [] }
  const worked: Record<Side, number[]> = { service: [], twin: [] }
  for (let round = -1; round < effort.rounds; round++)
    // Who goes first changes, so that neither always finds the database warmed by the other.
    for (const side of round % 2 === 0 ? SIDES : [...SIDES].reverse()) {
      let asked = 0
      const next = (): Asked => one.ask(asked++)
      const length = one.kind === 'read' ? { seconds: effort.seconds } : { requests: effort.writes }
      const heard = one.heard === undefined ? {} : { heard: one.heard }
      const before = await sides.workedMs(side)
      const done = await put({ address: sides.address[side], cookies, connections: CALLERS, next, for: length, ...heard })
      // The first round of each warms up and does not count.
      if (round < 0) continue
      rounds[side].push(done)
      worked[side].push(((await sides.workedMs(side)) - before) / done.latencies.length)
    }
  const speeds = (side: Side) => rounds[side].map((round) => round.perSecond)
  const latencies = (side: Side) => rounds[side].flatMap((round) => round.latencies)
  return {
    name: one.name,
    kind: one.kind,
    perSecond: { service: quantile(speeds('service'), 0.5), twin: quantile(speeds('twin'), 0.5) },
    workMs: { service: quantile(worked.service, 0.5), twin: quantile(worked.twin, 0.5) },
    ratio: quantile(
      rounds.service.map((round, n) => round.perSecond / rounds.twin[n]!.perSecond),
      0.5,
    ),
    p50: quantile(latencies('service'), 0.5),
    p95: quantile(latencies('service'), 0.95),
    twinP95: quantile(latencies('twin'), 0.95),
    turnedAway: SIDES.flatMap((side) => rounds[side]).reduce((sum, round) => sum + round.turnedAway, 0),
  }
}
