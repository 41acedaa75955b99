import type { BookingForm } from '#web/features/jobs/booking-form.ts'
import { BOOKING_PHOTOS, usePhotoQueue } from '#web/features/jobs/photo-queue.ts'
import { KIND_WORDS, WHY_WORDS } from '#web/features/jobs/words.ts'
import { counted, dateIn, day } from '#web/lib/format.ts'
import { useHere } from '#web/lib/here.ts'
import { readQuantity } from '#web/lib/quantity.ts'

/** `Ruskhammar R449-4X for Hollis, A.: rebuild. Knock, at 61 h.`, or `… Why now not known, 61 h on it.` */
function summaryOf(values: BookingForm): string {
  const engine = values.engineTyped.trim() === '' ? 'A crank' : values.engineTyped.trim()
  const whose = values.customer.name.trim() === '' ? '' : ` for ${values.customer.name.trim()}`
  const hours = readQuantity(values.hours, 'h')
  const isKnown = values.whyNow !== 'not-known'
  const why = isKnown ? upper(WHY_WORDS[values.whyNow]) : 'Why now not known'
  const at = hours.ok ? (isKnown ? `, at ${hours.value} h` : `, ${hours.value} h on it`) : ''
  return `${engine}${whose}: ${KIND_WORDS[values.kind]}. ${why}${at}.`
}

function upper(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1)
}

/** What the tag and the receipt will say, read back while it is typed. */
export function BookingSummary({ values }: { values: BookingForm }) {
  const here = useHere()
  const photos = usePhotoQueue(BOOKING_PHOTOS).length
  const today = dateIn(here.zone, Date.now())
  return (
    <>
      <h2 className="ruled">What the tag will say</h2>
      <p>{summaryOf(values)}</p>
      {values.comebackOf !== '' && values.crank.id !== '' && <p>It comes back to us.</p>}
      {values.promisedOn !== '' && <p>Promised for {day(values.promisedOn, today)}.</p>}
      {photos > 0 && <p>{counted(photos, 'photo')} to go with it.</p>}
      <p className="soft">
        The number comes with the tag. The house rule on cranks not fetched prints on the receipt. Nothing is parted before a yes.
      </p>
    </>
  )
}
