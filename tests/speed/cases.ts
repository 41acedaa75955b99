/** What is measured: one row of the table each. Requests come from a list that both sides walk in the same order. */
import { randomUUID } from 'node:crypto'
import type { Booking } from '#contract/jobs.ts'
import type { MeasurementNew } from '#contract/measurements.ts'
import { ENGINES, engineIdOf, instrumentId, jobIdOf, ON_THE_FLOOR, searches } from './fill.ts'
import type { Asked } from './load.ts'
import { SET_UP, turn } from './readings.ts'

export interface Case {
  name: string
  kind: 'read' | 'write'
  /** The n-th request of a round. */
  ask: (n: number) => Asked
  /** Jobs that the answers booked in, for the case after it. */
  heard?: (body: string) => void
}

export function casesOf(jobs: number): Case[] {
  const found = searches(jobs)
  const booked: string[] = []
  let taken = 0
  // Pages of the floor, and as many of what has gone home.
  const page = (n: number) => (n % 2 === 0 ? jobs - ((n / 2) % ON_THE_FLOOR) : 1 + ((n * 7919) % (jobs - ON_THE_FLOOR)))
  return [
    { name: 'job page', kind: 'read', ask: (n) => get(`/api/jobs/${jobIdOf(page(n))}`) },
    { name: 'the book, 50 rows', kind: 'read', ask: () => get('/api/jobs') },
    { name: 'find', kind: 'read', ask: (n) => get(`/api/find?q=${encodeURIComponent(found[n % found.length]!)}`) },
    { name: 'office, today', kind: 'read', ask: () => get('/api/office') },
    { name: 'office, in and out', kind: 'read', ask: () => get('/api/office/flow') },
    {
      name: 'book in',
      kind: 'write',
      ask: (n) => ({ method: 'POST', path: '/api/jobs', body: bookingOf(n), key: randomUUID() }),
      heard: (body) => booked.push((JSON.parse(body) as { id: string }).id),
    },
    {
      name: 'store a runout set',
      kind: 'write',
      // Each job that was just booked in is read in its turn, so that none gathers sets without end.
      ask: () => ({
        method: 'POST',
        path: `/api/jobs/${booked[taken++ % booked.length]}/measurements`,
        body: runoutSet(),
        key: randomUUID(),
      }),
    },
  ]
}

function get(path: string): Asked {
  return { method: 'GET', path }
}

/** A new crank of a new customer, with a deposit and a promise. */
export function bookingOf(n: number): Booking {
  return {
    customer: { name: `Neuber ${n}`, phone: '0161 496 0100', mail: `n${n}@post.example` },
    crank: { engineId: engineIdOf(1 + (n % ENGINES)), engineNumber: `N4-${n}` },
    kind: 'rebuild',
    whyNow: 'hours-up',
    cameBy: 'counter',
    goesBy: 'counter',
    hours: 84,
    hoursHow: 'metered',
    promisedOn: '2099-01-01',
    place: 'rack 4',
    kitFrom: 'ours',
    cameWith: [{ what: 'mains on' }, { what: 'keys', count: 2 }],
    condition: ['taper dented'],
    oldPartsBack: false,
    depositMinor: 10_000,
    depositHow: 'card',
  }
}

/** Both ends at eight marks, 12 read again. */
export function runoutSet(): MeasurementNew {
  return { kind: 'runout', phase: 'received', instrumentId, setup: SET_UP, values: turn(0.06) }
}
