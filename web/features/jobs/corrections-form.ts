import type { Job, JobChange } from '#contract/jobs.ts'
import { listed } from '#web/features/jobs/booking-form.ts'
import { readQuantity } from '#web/lib/quantity.ts'

/** What was booked, as text fields; equal texts are equal facts, so that two people’s changes can be told apart. */
export interface Corrections extends Record<string, string> {
  whyNow: string
  hours: string
  hoursHow: string
  usedFor: string
  oil: string
  whoFits: string
  earlierRebuild: string
  wantedOn: string
  promisedOn: string
  kitFrom: string
  goesBy: string
  cameWith: string
  condition: string
  conditionNote: string
  oldPartsBack: string
  feeYesBy: string
  feeYesHow: string
  also: string
  notDone: string
}
export type CorrectionName = Extract<keyof Corrections, string>

export const CORRECTION_LABELS: Readonly<Record<string, string>> = {
  whyNow: 'Why now',
  hours: 'Hours on this crank',
  hoursHow: 'How the hours are known',
  usedFor: 'Use',
  oil: 'Fuel and oil',
  whoFits: 'Who fits it',
  earlierRebuild: 'Rebuilt before',
  wantedOn: 'They want it by',
  promisedOn: 'We promise',
  kitFrom: 'Kit',
  goesBy: 'It goes back',
  cameWith: 'What came with it',
  condition: 'As it lay here',
  conditionNote: 'Damage in words',
  oldPartsBack: 'Old parts back',
  feeYesBy: 'Looking-over fee: yes by',
  feeYesHow: 'That yes came',
  also: 'Also done',
  notDone: 'Not done',
}

export function correctionsOf(job: Job): Corrections {
  return {
    whyNow: job.whyNow,
    hours: job.hours === undefined ? '' : String(job.hours),
    hoursHow: job.hoursHow,
    usedFor: job.usedFor ?? '',
    oil: job.oil ?? '',
    whoFits: job.whoFits ?? '',
    earlierRebuild: job.earlierRebuild ?? '',
    wantedOn: job.wantedOn ?? '',
    promisedOn: job.promisedOn ?? '',
    kitFrom: job.kitFrom,
    goesBy: job.goesBy,
    cameWith: job.cameWith.map((one) => (one.count === undefined ? one.what : `${one.count} ${one.what}`)).join(', '),
    condition: job.condition.join(', '),
    conditionNote: job.conditionNote ?? '',
    oldPartsBack: job.oldPartsBack ? 'yes' : 'no',
    feeYesBy: job.feeYesBy ?? '',
    feeYesHow: job.feeYesHow ?? '',
    also: job.also ?? '',
    notDone: job.notDone ?? '',
  }
}

/** `2 keys, primary gear` as what came and how many. */
export function cameWithOf(typed: string): Job['cameWith'] {
  return listed(typed).map((one) => {
    const counted = /^(\d{1,2})\s+(.+)$/.exec(one)
    return counted === null ? { what: one } : { what: counted[2] ?? one, count: Number(counted[1]) }
  })
}

const TEXTS = [
  'usedFor',
  'oil',
  'whoFits',
  'earlierRebuild',
  'wantedOn',
  'promisedOn',
  'conditionNote',
  'feeYesBy',
  'feeYesHow',
  'also',
  'notDone',
] as const

export type ReadCorrections = { ok: true; change: JobChange } | { ok: false; name: CorrectionName; text: string }

/** Only what differs from what was opened, as the wire wants it. An emptied field takes the fact away. */
export function changeOf(base: Corrections, mine: Corrections): ReadCorrections {
  const differs = (name: CorrectionName) => mine[name]?.trim() !== base[name]
  const change: Record<string, unknown> = {}
  for (const name of ['whyNow', 'hoursHow', 'kitFrom', 'goesBy'] as const) if (differs(name)) change[name] = mine[name]
  for (const name of TEXTS) if (differs(name)) change[name] = mine[name].trim() === '' ? null : mine[name].trim()
  if (differs('hours')) {
    const read = readQuantity(mine.hours, 'h')
    if (!read.ok && !read.nothingTyped) return { ok: false, name: 'hours', text: read.detail }
    if (read.ok && read.value < 0) return { ok: false, name: 'hours', text: 'Not less than 0.' }
    change.hours = read.ok ? read.value : null
  }
  if (differs('cameWith')) change.cameWith = cameWithOf(mine.cameWith)
  if (differs('condition')) change.condition = listed(mine.condition)
  if (differs('oldPartsBack')) change.oldPartsBack = mine.oldPartsBack === 'yes'
  return { ok: true, change: change as JobChange }
}
