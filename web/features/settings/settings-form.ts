import { type Settings, settingsWanted } from '#contract/settings.ts'
import { readLength } from '#core/units.ts'
import { money } from '#web/lib/format.ts'
import { readMoney, readQuantity } from '#web/lib/quantity.ts'

/** Every setting as typed. */
export type SettingsForm = Record<keyof Settings, string>
export type SettingName = keyof Settings

export interface SettingLook {
  label: string
  hint?: string
  /** How it is asked for; a line unless said. */
  as?: 'line' | 'text' | 'choice'
  choices?: readonly { value: string; label: string }[]
  unit?: string
}

const YES_NO = [
  { value: 'no', label: 'no' },
  { value: 'yes', label: 'yes' },
] as const

/** The settings in plain words. */
export const SETTINGS: Readonly<Record<SettingName, SettingLook>> = {
  shopName: { label: 'Name of the shop', hint: 'on receipts and certificates' },
  shopAddress: { label: 'Address', hint: 'on receipts and certificates', as: 'text' },
  zone: { label: 'Time zone', hint: 'as Europe/Berlin; “today” and every date are of this zone' },
  closingTime: { label: 'Closing time', hint: 'as 18:00; a bench clock still running then stops there' },
  currency: { label: 'Currency', hint: 'three letters, as EUR' },
  taxPermille: { label: 'Tax contained in a quote', unit: '%' },
  lookingOverFee: { label: 'Fee for looking a crank over', hint: 'in that currency' },
  paper: {
    label: 'Paper',
    as: 'choice',
    choices: [
      { value: 'A4', label: 'A4' },
      { value: 'Letter', label: 'Letter' },
    ],
  },
  showUnit: {
    label: 'Unit that screens show first',
    as: 'choice',
    choices: [
      { value: 'mm', label: 'mm' },
      { value: 'thou', label: 'thou' },
    ],
  },
  houseLimitMm: { label: 'House limit of runout, full swing of the dial', hint: 'where an engine’s sheet gives none', unit: 'mm' },
  scrapFloorFactor: { label: 'Scrap floor of the fit', hint: 'mm of fit for each mm of pin diameter; a web under it is scrap' },
  guardRule: {
    label: 'Within means',
    hint: 'stands on every sheet; at the limit itself, a figure alone is as likely over as not',
    as: 'choice',
    choices: [
      { value: 'full-guard', label: 'the figure with its give-or-take does not pass the limit' },
      { value: 'simple', label: 'the figure alone does not pass the limit' },
    ],
  },
  samePersonMayCheck: {
    label: 'One-person shop: the builder may take the second reading',
    hint: 'the certificate says so',
    as: 'choice',
    choices: YES_NO,
  },
  targetHours: { label: 'Bench hours a crank that the shop aims at', unit: 'h' },
  benchHoursWeek: {
    label: 'Bench hours that the shop has in a week',
    hint: 'hands at the crank, all hands together; what can be promised is reckoned from it',
    unit: 'h',
  },
  idleMinutes: { label: 'A session ends after so many minutes without a press', unit: 'min' },
  sessionHours: { label: 'A session ends after so many hours in any case', unit: 'h' },
  promiseMonths: { label: 'The promise on the work holds', unit: 'months' },
  promiseHours: { label: 'or until so many hours are ridden', hint: 'empty: months alone', unit: 'h' },
  promiseText: { label: 'The promise printed on certificates', as: 'text' },
  storageDays: { label: 'Storage may be charged after', hint: 'from the message that it is ready', unit: 'days' },
  storageRule: {
    label: 'House rule on cranks not fetched, printed on receipts',
    hint: 'law differs by place; have it read there',
    as: 'text',
  },
  notDone: { label: 'What is never done unless said, printed on certificates', as: 'text' },
  fittingTwoStroke: { label: 'Fitting and first hours, two-stroke', as: 'text' },
  fittingFourStroke: { label: 'Fitting and first hours, four-stroke', as: 'text' },
  tellReady: { label: 'When it is ready to go home', as: 'text' },
  tellYes: { label: 'While a quote waits for their yes', as: 'text' },
  tellLate: { label: 'When it is late', as: 'text' },
}

export const SETTING_LABELS = Object.fromEntries(Object.entries(SETTINGS).map(([name, look]) => [name, look.label])) as Readonly<
  Record<SettingName, string>
>

export const SETTING_GROUPS: readonly { title: string; says?: string; names: readonly SettingName[] }[] = [
  { title: 'The shop', names: ['shopName', 'shopAddress', 'zone', 'closingTime'] },
  { title: 'Money', names: ['currency', 'taxPermille', 'lookingOverFee'] },
  {
    title: 'Figures that decide',
    names: ['houseLimitMm', 'guardRule', 'scrapFloorFactor', 'samePersonMayCheck', 'targetHours', 'benchHoursWeek'],
  },
  { title: 'Screens and paper', names: ['showUnit', 'paper', 'idleMinutes', 'sessionHours'] },
  { title: 'The promise, and cranks not fetched', names: ['promiseMonths', 'promiseHours', 'promiseText', 'storageDays', 'storageRule'] },
  {
    title: 'What customers are told',
    says: 'The sentence that the counter is offered, to say or to change. What stands in square brackets is left out where the figure in it is not known.',
    names: ['tellReady', 'tellYes', 'tellLate'],
  },
  { title: 'More words on certificates', names: ['notDone', 'fittingTwoStroke', 'fittingFourStroke'] },
]

export function settingsFormOf(now: Settings): SettingsForm {
  return {
    ...now,
    taxPermille: String(now.taxPermille / 10),
    lookingOverFee: money(now.lookingOverFee, now.currency),
    houseLimitMm: String(now.houseLimitMm),
    scrapFloorFactor: String(now.scrapFloorFactor),
    samePersonMayCheck: now.samePersonMayCheck ? 'yes' : 'no',
    targetHours: String(now.targetHours),
    benchHoursWeek: String(now.benchHoursWeek),
    promiseMonths: String(now.promiseMonths),
    promiseHours: now.promiseHours === null ? '' : String(now.promiseHours),
    storageDays: String(now.storageDays),
    idleMinutes: String(now.idleMinutes),
    sessionHours: String(now.sessionHours),
  }
}

export type ReadSettings = { ok: true; settings: Settings } | { ok: false; faults: Partial<Record<SettingName, string>> }

/** The settings as the wire wants them, or what is to be mended by field. */
export function readSettings(form: SettingsForm): ReadSettings {
  const faults: Partial<Record<SettingName, string>> = {}
  const number = (name: SettingName, unit: string) => {
    const read = readQuantity(form[name], unit)
    if (!read.ok) faults[name] = read.detail
    return read.ok ? read.value : Number.NaN
  }
  const currency = form.currency.trim().toUpperCase()
  const isCurrency = /^[A-Z]{3}$/.test(currency)
  const fee = readMoney(form.lookingOverFee, isCurrency ? currency : 'EUR')
  if (!fee.ok) faults.lookingOverFee = fee.detail
  const limit = readLength(form.houseLimitMm, 'mm')
  if (!limit.ok) faults.houseLimitMm = limit.detail
  const typed = {
    shopName: form.shopName.trim(),
    shopAddress: form.shopAddress.trim(),
    zone: form.zone.trim(),
    currency,
    // A tenth of a per cent is the finest that tax rates know; binary dust of the sum is rounded away.
    taxPermille: Math.round(number('taxPermille', '%') * 10),
    lookingOverFee: fee.ok ? fee.value : Number.NaN,
    paper: form.paper,
    showUnit: form.showUnit,
    idleMinutes: number('idleMinutes', 'min'),
    sessionHours: number('sessionHours', 'h'),
    closingTime: form.closingTime.trim(),
    scrapFloorFactor: number('scrapFloorFactor', ''),
    houseLimitMm: limit.ok ? limit.value.mm : Number.NaN,
    guardRule: form.guardRule,
    samePersonMayCheck: form.samePersonMayCheck === 'yes',
    targetHours: number('targetHours', 'h'),
    benchHoursWeek: number('benchHoursWeek', 'h'),
    promiseMonths: number('promiseMonths', 'months'),
    promiseHours: form.promiseHours.trim() === '' ? null : number('promiseHours', 'h'),
    storageDays: number('storageDays', 'days'),
    promiseText: form.promiseText,
    storageRule: form.storageRule,
    notDone: form.notDone,
    fittingTwoStroke: form.fittingTwoStroke,
    fittingFourStroke: form.fittingFourStroke,
    tellReady: form.tellReady,
    tellYes: form.tellYes,
    tellLate: form.tellLate,
  }
  const read = settingsWanted.safeParse(typed)
  for (const issue of read.error?.issues ?? []) {
    const name = String(issue.path[0]) as SettingName
    faults[name] ??= issue.message
  }
  return read.success && Object.keys(faults).length === 0 ? { ok: true, settings: read.data } : { ok: false, faults }
}
