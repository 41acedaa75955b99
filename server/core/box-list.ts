/** One line of the list that is ticked off before a crank goes home. */
export interface BoxItem {
  what: string
  came: number
  back: number
  why?: string | undefined
}

export interface BoxFault {
  /** Place in the list; null where the list lacks a line. */
  item: number | null
  field: 'back' | 'came' | 'why' | 'items'
  code: 'more-than-came' | 'other-count' | 'no-reason' | 'left-out'
  detail: string
}

/**
 * What is wrong with a box list beside what was written down when the crank came in: a thing left out, another number than
 * came in, more going back than came, or fewer without a word why. Nothing that came in leaves the list silently.
 *
 * Counts are whole numbers; a thing that came in without a count may have any. Source: common practice, no source.
 *
 * @example boxFaults([{ what: 'keys', count: 2 }], [{ what: 'keys', came: 2, back: 1 }])[0].code // 'no-reason'
 */
export function boxFaults(cameIn: readonly { what: string; count?: number }[], items: readonly BoxItem[]): BoxFault[] {
  const faults: BoxFault[] = []
  for (const [item, { what, came, back, why }] of items.entries()) {
    const booked = cameIn.find((one) => one.what === what)
    if (booked?.count !== undefined && came !== booked.count)
      faults.push({ item, field: 'came', code: 'other-count', detail: `${what}: ${booked.count} were written down when it came in.` })
    if (back > came) faults.push({ item, field: 'back', code: 'more-than-came', detail: `${what}: more go back than came in.` })
    if (back < came && (why ?? '').trim() === '')
      faults.push({ item, field: 'why', code: 'no-reason', detail: `${what}: fewer go back than came in. Say why.` })
  }
  for (const { what } of cameIn)
    if (!items.some((one) => one.what === what))
      faults.push({ item: null, field: 'items', code: 'left-out', detail: `${what} came in and is not on the list.` })
  return faults
}
