/** Sentences of the history of a job: for anybody in the shop, so without names of customers and without prices. */
import { dayInWords } from '#core/days-in-words.ts'
import type { JobColumns } from './store.ts'

function plain(word: string): string {
  return word.replaceAll('-', ' ')
}

function hoursWords(hours: number | null | undefined, how: string): string {
  return hours === null || hours === undefined ? 'hours not known' : `${hours} h, ${how}`
}

export function bookedWords(
  engine: string,
  job: { kind: string; whyNow: string; hours?: number | undefined; hoursHow: string; condition: readonly string[] },
): string {
  const seen = job.condition.length === 0 ? '' : ` Seen on arrival: ${job.condition.join(', ')}.`
  return `Booked in: ${engine}, ${plain(job.kind)}. Why now: ${plain(job.whyNow)}; ${hoursWords(job.hours, job.hoursHow)}.${seen}`
}

const NAMES: Readonly<Record<keyof JobColumns, string>> = {
  whyNow: 'why now',
  goesBy: 'how it goes back',
  hours: 'hours',
  hoursHow: 'how the hours are known',
  usedFor: 'use',
  oil: 'oil',
  whoFits: 'who fits it',
  earlierRebuild: 'earlier rebuild',
  wantedOn: 'the day they want it',
  promisedOn: 'the promise',
  kitFrom: 'whose kit',
  cameWith: 'what came with it',
  condition: 'condition on arrival',
  conditionNote: 'condition in words',
  oldPartsBack: 'old parts back',
  feeYesBy: 'the yes to the looking-over fee',
  feeYesHow: 'how that yes came',
  also: 'what else was done',
  notDone: 'what was not done',
}

/** Names of the fields that differ; a changed promise is said with both days, since everybody works towards it. */
export function changedWords(before: JobColumns, after: JobColumns): string | null {
  const names = (Object.keys(NAMES) as (keyof JobColumns)[]).filter(
    (name) => name !== 'promisedOn' && JSON.stringify(before[name]) !== JSON.stringify(after[name]),
  )
  const said = [promiseWords(before.promisedOn, after.promisedOn)]
  if (names.length > 0) said.push(`Changed: ${names.map((name) => NAMES[name]).join(', ')}.`)
  const sentence = said.filter((part) => part !== null).join(' ')
  return sentence === '' ? null : sentence
}

function promiseWords(before: string | null, after: string | null): string | null {
  if (before === after) return null
  if (after === null) return 'The promise was taken away.'
  return before === null ? `Promised for ${dayInWords(after)}.` : `Promise moved from ${dayInWords(before)} to ${dayInWords(after)}.`
}

export function placeWords(moved: { place?: string | null; holder?: string | null }): string {
  const said: string[] = []
  if (moved.place !== undefined) said.push(moved.place === null ? 'No place is said any more.' : `It lies on ${moved.place}.`)
  if (moved.holder !== undefined) said.push(moved.holder === null ? 'Nobody has it.' : `${moved.holder} has it.`)
  return said.join(' ')
}
