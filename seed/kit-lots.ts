/** Which rod kit a job got: of the bad lot where it was out of that box, else of the lot that its maker sold in those months. */
import type { Chance } from './chance.ts'
import { DAY } from './days.ts'
import { BAD_LOT, KIT_MAKERS, lotOf } from './engines.ts'
import type { FinishedWanted } from './finished-jobs.ts'
import type { Kit } from './life-at-the-counter.ts'

const LATEST = { ardenlow: 2417, stellmarch: 951 } as const

export function kitOf(job: Pick<FinishedWanted, 'code' | 'ownKit' | 'badLot' | 'bookedAt'>, now: number, chance: Chance): Kit {
  const whose = job.ownKit ? 'theirs' : 'ours'
  if (job.badLot) return { maker: BAD_LOT.maker, part: `${job.code} K2`, lot: BAD_LOT.lot, whose }
  const [ardenlow, stellmarch] = KIT_MAKERS
  const maker = chance.happens(0.25) ? stellmarch : ardenlow
  const monthsAgo = Math.floor((now - job.bookedAt) / (30 * DAY))
  const number = maker === ardenlow ? LATEST.ardenlow - 9 * monthsAgo : LATEST.stellmarch - 4 * monthsAgo
  return { maker: maker.name, part: maker.part(job.code), lot: lotOf(maker.lotLetter, number), whose }
}
