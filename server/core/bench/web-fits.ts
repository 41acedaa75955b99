import { fitReadings, type PinOf } from '#core/bench/fit-of-web.ts'
import type { PressingDone } from '#core/bench/parting.ts'
import type { ReadingSet } from '#core/bench/reading-set.ts'
import { isLater, latestOf, millisecondsOf } from '#core/instants.ts'
import type { Side } from '#core/runout-verdict.ts'
import type { WebFit } from '#core/web-life.ts'

/** What a job of ours says about the webs of its crank. Oldest job first where there are several. */
export interface JobOfCrank {
  id: string
  tag: string
  sets: readonly ReadingSet[]
  pressings: readonly PressingDone[]
}

/** A fit of one web with where it comes from. */
export interface WebFitRead extends WebFit {
  jobId: string
  tag: string
  /** When bore and pin were both known. */
  at: string
  pinOf: PinOf
  /** How the bore looked when it was last parted before this. */
  galling: PressingDone['galling']
}

/** When and on which job the bore of a web was made anew, or its half changed. */
export interface Renewal {
  jobId: string
  at: string
}

const PRESSED_BY_ITS_MAKER = 1

/**
 * The fits of one web over all the jobs of a crank, one for every time it lay apart: the readings that stood when it was
 * pressed together again, or stand now. Counted with how often the web had been pressed together before: before it first
 * came, and by us. From the day its bore was made anew, or its half changed, it is another web, pressed once by its maker.
 *
 * Source: common practice, no source.
 *
 * @example webFits([], 'left', 1, null) // []
 */
export function webFits(jobs: readonly JobOfCrank[], side: Side, pressedBefore: number, renewed: Renewal | null): WebFitRead[] {
  const found: WebFitRead[] = []
  let pressings = pressedBefore
  let isRenewed = renewed === null
  for (const job of jobs) {
    const standing = job.pressings.filter((one) => one.side === side && !one.isStruck)
    const together = standing.filter((one) => one.direction === 'together').sort(byTime)
    let since: string | null = null
    for (const home of [...together, null]) {
      const until = home?.doneAt ?? null
      if (!isRenewed && renewed !== null && job.id === renewed.jobId && (until === null || isLater(until, renewed.at))) {
        isRenewed = true
        pressings = PRESSED_BY_ITS_MAKER
        found.length = 0
        since = renewed.at
      }
      const fit = fitBetween(job.sets, side, since, until)
      if (fit !== null) found.push({ ...fit, pressings, jobId: job.id, tag: job.tag, galling: gallingAt(standing, fit.at) })
      if (home === null) break
      pressings += 1
      since = home.doneAt
    }
  }
  return found
}

/** The fit by the sets read after one pressing and before the next; a bore has to be read in that time, a pin may be older. */
function fitBetween(sets: readonly ReadingSet[], side: Side, since: string | null, until: string | null) {
  const isBefore = ({ doneAt }: ReadingSet) => until === null || !isLater(doneAt, until)
  const isWithin = (set: ReadingSet) => isBefore(set) && (set.kind === 'pin' || since === null || isLater(set.doneAt, since))
  const readings = fitReadings(sets.filter(isWithin), side)
  if (readings === null) return null
  const { pinMm, boreMm, pinAt, boreAt, pinOf } = readings
  return { interferenceMm: Math.min(...pinMm) - Math.max(...boreMm), at: latestOf([pinAt, boreAt]) ?? boreAt, pinOf }
}

function gallingAt(pressings: readonly PressingDone[], at: string): PressingDone['galling'] {
  return (
    pressings
      .filter((one) => one.direction === 'apart' && !isLater(one.doneAt, at))
      .sort(byTime)
      .at(-1)?.galling ?? null
  )
}

function byTime(one: PressingDone, other: PressingDone): number {
  return millisecondsOf(one.doneAt) - millisecondsOf(other.doneAt)
}
