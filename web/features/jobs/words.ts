import type { z } from 'zod'
import type { HOURS_HOW, JobRow } from '#contract/jobs.ts'
import type { wait } from '#contract/waits.ts'
import type { JobKind, WaitingFor, WhyNow } from '#core/steps.ts'
import { dateIn, day, money } from '#web/lib/format.ts'
import type { Here } from '#web/lib/here.ts'

type Wait = z.infer<typeof wait>
type Sayer = Pick<Here, 'zone' | 'currency'>

export const KIND_WORDS: Readonly<Record<JobKind, string>> = {
  rebuild: 'rebuild',
  'true-only': 'true only',
  'check-and-report': 'check and report',
  'weld-only': 'weld only',
}

export const WHY_WORDS: Readonly<Record<WhyNow, string>> = {
  'hours-up': 'hours up',
  knock: 'knock',
  seized: 'seized',
  rust: 'rust',
  'out-of-true': 'out of true',
  'rod-broken': 'rod broken',
  dropped: 'dropped',
  'not-known': 'not known',
}

export const KIT_FROM_WORDS = { ours: 'ours', theirs: 'theirs', none: 'no kit' } as const
export const BY_WORDS = { counter: 'over the counter', carrier: 'by carrier' } as const
export const HOURS_HOW_WORDS = { metered: 'off a meter', declared: 'declared', unknown: 'unknown' } as const

const WAITING_WORDS: Readonly<Record<WaitingFor, string>> = { kit: 'kit', yes: 'a yes', outside: 'work outside' }

/** `61 h read off the owner’s meter`, `120 h as declared`, `hours not known`. */
export function hoursWords(hours: number | undefined, how: (typeof HOURS_HOW)[number]): string {
  if (hours === undefined) return 'hours not known'
  if (how === 'metered') return `${hours} h read off the owner’s meter`
  return how === 'declared' ? `${hours} h as declared` : `${hours} h, how known not said`
}

/** `waiting for kit, since Mon 23 Nov, due Thu 26 Nov` */
export function waitWords(waiting: Wait, here: Sayer, today: string): string {
  const what =
    waiting.note === undefined || waiting.note === '' ? WAITING_WORDS[waiting.what] : `${WAITING_WORDS[waiting.what]} (${waiting.note})`
  const due = waiting.dueOn === undefined ? '' : `, due ${day(waiting.dueOn, today)}`
  return `waiting for ${what}, since ${day(dateIn(here.zone, waiting.since), today)}${due}`
}

/** What stands beneath the next step on the big shaft: `waits for kit, due Thu 26 Nov`. */
export function waitsShort(waits: readonly Wait[], today: string): string | undefined {
  const first = waits[0]
  if (first === undefined) return undefined
  const what = waits.map((one) => WAITING_WORDS[one.what]).join(' and ')
  const due = waits.length === 1 && first.dueOn !== undefined ? `, due ${day(first.dueOn, today)}` : ''
  return `waits for ${what}${due}`
}

/** Why a job stands, as a list says it after the act word; empty where the hand can go on. */
export function whyItStands(row: JobRow, here: Sayer, today: string): string[] {
  const asked =
    row.asked === undefined
      ? undefined
      : `waiting for a yes to ${money(row.asked, here.currency)}${row.askedOn === undefined ? '' : `, asked ${day(dateIn(here.zone, row.askedOn), today)}`}`
  const waits = row.waiting.filter((one) => one.what !== 'yes' || asked === undefined).map((one) => waitWords(one, here, today))
  return [...(asked === undefined ? [] : [asked]), ...waits, ...readyWords(row, here, today)]
}

function readyWords(row: JobRow, here: Sayer, today: string): string[] {
  if (row.readySince === undefined) return []
  const owed = row.owes !== undefined && row.owes > 0 ? `, ${money(row.owes, here.currency)} to pay` : ''
  return [`since ${day(dateIn(here.zone, row.readySince), today)}${owed}`]
}

/** `1 day late`, `3 days late, told` */
export function lateWords(row: Pick<JobRow, 'daysLate' | 'toldLate'>): string {
  const days = row.daysLate ?? 0
  return `${days} ${days === 1 ? 'day' : 'days'} late${row.toldLate ? ', told' : ''}`
}

/** `rack A · Marek · deposit 100.00` */
export function whereWords(row: Pick<JobRow, 'place' | 'holder' | 'owes' | 'deposit'>, here: Sayer): string {
  const paid = row.owes === 0 ? 'paid' : undefined
  const held =
    paid === undefined && row.deposit !== undefined && row.deposit > 0 ? `deposit ${money(row.deposit, here.currency)}` : undefined
  return [row.place, row.holder, paid, held].filter((one) => one !== undefined && one !== '').join(' · ')
}
