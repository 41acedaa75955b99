/** What the receipt and the label of a job say, from the page of the job and the settings of the shop. */
import type { Job } from '#contract/jobs.ts'
import type { SettingsAnswer } from '#contract/settings.ts'
import { moneyWords } from '#core/money-words.ts'
import { fillText } from '#core/placeholders.ts'
import { shopDay } from '#server/plugins/shop-day.ts'
import type { LabelData } from './document-label.ts'
import type { ReceiptData } from './document-receipt.ts'

const WISHES: Readonly<Record<Job['kind'], string>> = {
  rebuild: 'rebuild',
  'true-only': 'check and true only',
  'check-and-report': 'check and report',
  'weld-only': 'weld',
}

const REASONS: Readonly<Record<Job['whyNow'], string>> = {
  'hours-up': 'planned hours are up',
  knock: 'it knocks',
  seized: 'it seized',
  rust: 'rust',
  'out-of-true': 'out of true',
  'rod-broken': 'the rod broke',
  dropped: 'it was dropped',
  'not-known': 'not known',
}

const KITS: Readonly<Record<Job['kitFrom'], string>> = { ours: 'kit by us', theirs: 'kit brought along', none: 'no kit' }
const HOURS: Readonly<Record<Job['hoursHow'], string>> = { metered: 'read off the meter', declared: 'as declared', unknown: 'not known' }
const HEAR_BY = { phone: 'rather by phone', mail: 'rather by mail', text: 'rather by text', post: 'rather by post' } as const

export function receiptOf(job: Job, settings: SettingsAnswer, sheet: ReceiptData['sheet']): ReceiptData {
  const { customer, feeYesBy, feeYesHow } = job
  const reach = [customer?.phone, customer?.mail, customer?.address?.trim().replace(/\s*\n\s*/g, ', ')].filter((way) => way !== undefined)
  return {
    sheet,
    shop: { name: settings.shopName, address: settings.shopAddress },
    tag: job.tag,
    bookedOn: shopDay(new Date(job.bookedAt), settings.zone),
    takenInBy: job.steps.find((reached) => reached.step === 'booked')?.by ?? '',
    customer: { name: customer?.name ?? '', reach: customer === undefined ? [] : [...reach, HEAR_BY[customer.hearBy]] },
    crank: crankWords(job),
    wish: job.kind === 'rebuild' ? `${WISHES[job.kind]}, ${KITS[job.kitFrom]}` : WISHES[job.kind],
    whyNow: REASONS[job.whyNow],
    hours: job.hours === undefined ? HOURS.unknown : `${job.hours} h, ${HOURS[job.hoursHow]}`,
    cameWith: job.cameWith.map(({ what, count }) => (count === undefined ? what : `${what} × ${count}`)),
    condition: job.condition,
    ...(job.conditionNote === undefined ? {} : { conditionNote: job.conditionNote }),
    ...(job.wantedOn === undefined ? {} : { wantedOn: job.wantedOn }),
    ...(job.promisedOn === undefined ? {} : { promisedOn: job.promisedOn }),
    goesBy: job.goesBy,
    oldPartsBack: job.oldPartsBack,
    fee: {
      amount: moneyWords(settings.lookingOverFee, settings.currency),
      ...(feeYesBy === undefined || feeYesHow === undefined ? {} : { yes: { by: feeYesBy, how: feeYesHow } }),
    },
    ...(job.deposit === undefined || job.deposit === 0 ? {} : { deposit: moneyWords(job.deposit, settings.currency) }),
    storageRule: fillText(settings.storageRule, { shop: settings.shopName, days: String(settings.storageDays) }),
  }
}

function crankWords({ engine, crank }: Job): string {
  const parts = [engine]
  if (crank.engineNumber !== undefined) parts.push(`number ${crank.engineNumber}`)
  if (crank.marks !== undefined) parts.push(`marked ${crank.marks}`)
  return parts.join(', ')
}

export function labelOf(job: Job, settings: SettingsAnswer, address: string): LabelData {
  return {
    tag: job.tag,
    code: address,
    crank: job.engine,
    shop: settings.shopName,
    bookedOn: shopDay(new Date(job.bookedAt), settings.zone),
  }
}
