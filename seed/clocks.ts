/** The bench clocks of the diaries: started and stopped by hand, one left running, one that its owner went home without. */
import { startClock, stopClock } from '#server/features/hours/commands.ts'
import { CLOSING_TIME, dayOf, MINUTE, momentOn, openOn, shopDaysAfter } from './days.ts'
import type { Entry } from './diary.ts'
import type { Shop } from './life.ts'
import { HANDS, type Hand } from './people.ts'

/** Every start and stop. A clock that the next start of the same person stops needs no stop of its own. */
export function putClocks(shop: Shop): void {
  for (const [hand, diary] of Object.entries(shop.diaries) as [Hand, Entry[]][]) {
    const entries = joined(diary.toSorted((one, other) => one.from - other.from))
    entries.forEach((entry, index) => {
      const by = HANDS[hand]
      const { jobId, work } = entry
      const id = shop.newId(entry.from)
      const lane = `clock of ${hand}`
      shop.deeds.push({ at: entry.from, by, run: (act) => startClock(act, { id, jobId, work }), lane })
      const next = entries[index + 1]
      if (next !== undefined && next.from < entry.until) throw new Error(`${hand} is at two cranks at once`)
      if (entry.left !== undefined || next?.from === entry.until) return
      shop.deeds.push({ at: entry.until, by, run: (act) => stopClock(act, {}), lane })
    })
  }
}

/** Work at one crank that only the break for nothing parts is one stretch. */
function joined(entries: readonly Entry[]): Entry[] {
  const whole: Entry[] = []
  for (const entry of entries) {
    const last = whole[whole.length - 1]
    const goesOn =
      last !== undefined && last.left === undefined && last.until === entry.from && last.jobId === entry.jobId && last.work === entry.work
    if (goesOn) whole[whole.length - 1] = { ...last, until: entry.until }
    else whole.push(entry)
  }
  return whole
}

/** On the last shop day before today its owner began to part a crank, went home, and closing time stopped the clock. */
export function putForgottenClock(shop: Shop, jobId: string): void {
  const day = shopDaysAfter(dayOf(shop.now), -1)
  const until = openOn(day)[1]!.until
  const diary = shop.diaries.ewa
  const busyTo = Math.max(
    until - 45 * MINUTE,
    ...diary.filter((entry) => entry.from < until && entry.until > until - 45 * MINUTE).map((entry) => entry.until),
  )
  if (momentOn(day, CLOSING_TIME) > shop.now) throw new Error('the last shop day is not over yet')
  diary.push({ from: Math.min(busyTo, until), until: Math.max(until, busyTo + MINUTE), jobId, work: 'parting', left: 'forgotten' })
}
