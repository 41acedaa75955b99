/** What booking and changing a job both ask of its fields, beyond their shape. */
import { shopOf } from '#server/features/settings/store.ts'
import type { Act } from '#server/plugins/act.ts'
import { fieldFault } from '#server/plugins/errors.ts'
import { shopDay } from '#server/plugins/shop-day.ts'

/** Hours without a word on how they are known would later count as if they were read off a meter. */
export function mustKnowItsHours(hours: number | null, how: string): void {
  if (hours !== null && how === 'unknown')
    throw fieldFault('/hoursHow', 'unknown-hours', 'Say how the hours are known: off a meter, or declared.')
}

/** A promise in the past is a slip of the keys, most often of the year. */
export async function mustPromiseAhead(act: Act, promisedOn: string | null): Promise<void> {
  if (promisedOn === null) return
  const { zone } = await shopOf(act)
  if (promisedOn < shopDay(act.now, zone)) throw fieldFault('/promisedOn', 'past', 'This day is over. Promise today or later.')
}

/** Keeps what came with a crank without counts that were not given. */
export function tidyCameWith(list: readonly { what: string; count?: number | undefined }[]): { what: string; count?: number }[] {
  return list.map(({ what, count }) => (count === undefined ? { what } : { what, count }))
}
