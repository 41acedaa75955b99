/** When cranks are booked in: by chance, thick in spring and thin at midwinter, on shop days only. */
import type { Chance } from './chance.ts'
import { openAfter, openOn, shopDaysAfter } from './days.ts'

/** Cranks a week by month, January first. Invented; spring is the peak. */
export const A_WEEK = [2, 4, 9, 9, 9, 4, 4, 4, 6, 4, 4, 4] as const
const DAYS_A_WEEK = 5

/** The shop days from one to another, both among them. */
export function shopDaysBetween(first: string, last: string): string[] {
  const days: string[] = []
  for (let day = first; day <= last; day = shopDaysAfter(day, 1)) days.push(day)
  return days
}

/** Moments of booking on these days, about so many in all, in the order of time. */
export function arrivals(days: readonly string[], about: number, chance: Chance): number[] {
  const weightOf = (day: string) => A_WEEK[Number(day.slice(5, 7)) - 1]! / DAYS_A_WEEK
  const scale = about / days.reduce((sum, day) => sum + weightOf(day), 0)
  return days.flatMap((day) => {
    const count = chance.poisson(scale * weightOf(day))
    return Array.from({ length: count }, () => openAfter(openOn(day)[0]!.from, chance.between(0.2, 8))).sort((one, other) => one - other)
  })
}
