/** Who of the bench works on what, and when: nobody has two hands on two cranks. */
import type { ClockEntry } from '#contract/hours.ts'
import type { Chance } from './chance.ts'
import { HOUR, MINUTE, openFrom, type Stretch } from './days.ts'

export interface Entry extends Stretch {
  jobId: string
  work: ClockEntry['work']
  /** How its clock was left; stopped by hand unless said. */
  left?: 'running' | 'forgotten'
}

export type Diary = Entry[]

/** Gaps shorter than this are not worth laying a tool down for. */
const SHORTEST_MS = 8 * MINUTE

/** Lays work into the first free open hours from a moment on, writes it into the diary, and answers where it lies. */
export function allot(diary: Diary, wanted: { from: number; hours: number; jobId: string; work: Entry['work'] }): Stretch[] {
  const { from: earliest, hours, jobId, work } = wanted
  let left = Math.max(1000, Math.round((hours * HOUR) / 1000) * 1000)
  const laid: Stretch[] = []
  for (const open of openFrom(earliest)) {
    for (const free of freeWithin(diary, open)) {
      const length = Math.min(left, free.until - free.from)
      if (length < Math.min(left, SHORTEST_MS)) continue
      laid.push({ from: free.from, until: free.from + length })
      left -= length
      if (left > 0) continue
      diary.push(...laid.map((stretch) => ({ ...stretch, jobId, work })))
      diary.sort((one, other) => one.from - other.from)
      return laid
    }
  }
  throw new Error('the shop never opens again')
}

function freeWithin(diary: Diary, open: Stretch): Stretch[] {
  const free: Stretch[] = []
  let from = open.from
  for (const taken of diary) {
    if (taken.until <= from || taken.from >= open.until) continue
    if (taken.from > from) free.push({ from, until: taken.from })
    from = taken.until
  }
  if (from < open.until) free.push({ from, until: open.until })
  return free
}

/** So many moments spread over some work, whole seconds, each later than the one before, none at its very start. */
export function momentsIn(work: readonly Stretch[], count: number, chance: Chance): number[] {
  const whole = work.reduce((sum, { from, until }) => sum + until - from, 0)
  let last = 0
  return Array.from({ length: count }, (_, index) => {
    const moment = Math.round(placeIn(work, (whole * (index + chance.between(0.55, 0.95))) / count) / 1000) * 1000
    last = Math.max(moment, last + 1000)
    return last
  })
}

function placeIn(work: readonly Stretch[], elapsed: number): number {
  let left = elapsed
  for (const { from, until } of work) {
    if (left <= until - from) return from + left
    left -= until - from
  }
  return work[work.length - 1]!.until
}

export function endOfWork(work: readonly Stretch[]): number {
  return work[work.length - 1]!.until
}
