import type { UseFormReturn } from 'react-hook-form'
import { type FilledText, fillText, PLACEHOLDERS, PLACEHOLDERS_OF, type Placeholder, promiseWords } from '#core/placeholders.ts'
import type { SettingName, SettingsForm } from '#web/features/settings/settings-form.ts'
import { money } from '#web/lib/format.ts'
import { readQuantity } from '#web/lib/quantity.ts'

export function isFilled(name: SettingName): name is FilledText {
  return Object.hasOwn(PLACEHOLDERS_OF, name)
}

/** Which placeholders this text knows, and what is put there. */
export function whatFills(name: FilledText, hint?: string): string {
  const known = PLACEHOLDERS_OF[name].map((one) => `{${one}} ${PLACEHOLDERS[one]}`).join(' · ')
  return hint === undefined ? known : `${hint}; ${known}`
}

/** An invented crank, for reading a text before it is used. */
function sampleOf(form: SettingsForm): Readonly<Record<Placeholder, string>> {
  const months = readQuantity(form.promiseMonths, 'months')
  const hours = readQuantity(form.promiseHours, 'h')
  const canPromise = months.ok && Number.isInteger(months.value) && months.value > 0 && (!hours.ok || hours.value > 0)
  const currency = /^[A-Z]{3}$/.test(form.currency) ? form.currency : 'EUR'
  return {
    shop: form.shopName,
    tag: '318-V',
    amount: money(31_200, currency, true),
    date: 'Thu 3 Dec',
    days: form.storageDays,
    promise: canPromise ? promiseWords(months.value, hours.ok ? hours.value : null) : '…',
    where: 'is measured',
    wait: 'we wait for the rod kit until Thu 26 Nov',
  }
}

/** The text as it will read, while it is typed. */
export function TextPreview({ name, form }: { name: FilledText; form: UseFormReturn<SettingsForm> }) {
  const typed = form.watch()
  return (
    <p className="text-preview">
      <small>As it will read: </small>
      {fillText(typed[name], sampleOf(typed))}
    </p>
  )
}
