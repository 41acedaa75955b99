import type { QueryKey } from '@tanstack/react-query'
import type { LiveNews } from '#contract/live.ts'

/** What no event of the shop makes old: who is signed in, drafts of one's own, a customer's own page. */
const NEVER = ['session', 'drafts', 'public']

const OF_JOBS = ['jobs', 'find', 'cranks', 'customers', 'kits', 'people']

/** Which groups of queries (the first part of their key) a change to a kind of thing makes old. */
const AGES: Readonly<Record<string, readonly string[]>> = {
  job: OF_JOBS,
  box: ['jobs'],
  photo: ['jobs'],
  measurement: ['jobs'],
  pressing: ['jobs'],
  weld: ['jobs'],
  truing_move: ['jobs'],
  certificate: ['jobs', 'people'],
  comeback: ['jobs'],
  follow_up: ['jobs'],
  clock_entry: ['hours', 'jobs', 'people'],
  crank: OF_JOBS,
  customer: OF_JOBS,
  engine: ['engines', 'jobs', 'cranks', 'find'],
  kit_model: ['kits'],
  instrument: ['instruments', 'jobs'],
  gauge_study: ['gauge-studies'],
  practice_run: ['practice'],
  person: ['people', 'door', 'session', 'jobs'],
  setting: ['settings', 'door', 'jobs'],
  device: ['devices', 'door', 'session'],
  proof: ['proofs'],
}

/** Groups with a rule above; a page with a group that is not among them is asked again at every event. */
const KNOWN = new Set(Object.values(AGES).flat())

/** Kinds that change how many jobs look, though they may name one. */
const OF_MANY_JOBS = new Set(['crank', 'customer', 'engine', 'instrument', 'person', 'setting'])

/**
 * Whether an event makes the answer to a query old. What is not known is taken as old: asking once too often costs a request,
 * not asking shows what no longer holds.
 *
 * @example agedBy({ entity: 'measurement', id: 'a', jobId: 'b', seq: 7 }, ['jobs', 'one', 'c', 'gate']) // false: another job
 */
export function agedBy(news: Pick<LiveNews, 'entity' | 'id' | 'jobId'>, key: QueryKey): boolean {
  const group = String(key[0])
  const ages = AGES[news.entity]
  if (ages === undefined || !KNOWN.has(group)) return !NEVER.includes(group)
  if (!ages.includes(group)) return false
  if (group === 'jobs' && key[1] === 'one') return news.jobId === undefined || key[2] === news.jobId || OF_MANY_JOBS.has(news.entity)
  // The names of the people change with a person only; their learning lines with jobs and hours.
  if (group === 'people') return news.entity === 'person' || key[1] === 'learning'
  return true
}

/** After a gap everything is asked again that the shop could have changed. */
export function agedByGap(key: QueryKey): boolean {
  return !NEVER.includes(String(key[0]))
}
