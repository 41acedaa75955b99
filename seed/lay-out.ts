/** The whole demo shop laid out: who did what and when, in order, before any of it is written. */
import { tagOf } from '#core/tag.ts'
import type { Deed } from './book.ts'
import type { Chance } from './chance.ts'
import { putClocks, putForgottenClock } from './clocks.ts'
import { CUSTOMER_KEYS } from './customers.ts'
import { momentOn } from './days.ts'
import { finishedJobs, openedOn } from './finished-jobs.ts'
import { putFinishedLives } from './finished-lives.ts'
import { putHollis } from './hollis.ts'
import { instrumentDeeds } from './instruments.ts'
import type { Life, Shop } from './life.ts'
import { MODEL_SHEETS } from './model-sheets.ts'
import { putNewOnes } from './new-lives.ts'
import { putReadyOnes, putUnderWay } from './open-lives.ts'

export interface LaidOut {
  opened: number
  deeds: readonly Deed[]
  lives: readonly Life[]
  engineIds: ReadonlyMap<string, string>
  /** The last running number of the paper book. */
  tagsBefore: number
  /** Of the secret address of a customer's page. */
  token: string
}

/** The tag of the crank that is on the bench; the numbers of the paper book end where they have to for that. */
const TAG_ON_THE_BENCH = 318

export function layOutShop(now: number, chance: Chance, newId: (at: number) => string): LaidOut {
  const opened = momentOn(openedOn(now), '08:00')
  const engineIds = new Map(MODEL_SHEETS.map(({ code }) => [code, newId(opened)]))
  const { deeds, ids } = instrumentDeeds({ now, opened, newId })
  const shop: Shop = {
    now,
    chance,
    newId,
    deeds,
    diaries: { jonas: [], marek: [], ewa: [] },
    instruments: ids,
    engineIds,
    customerIds: new Map(CUSTOMER_KEYS.map((key) => [key, newId(opened)])),
    known: new Set(),
    lives: [],
  }
  const stories = putFinishedLives(shop, finishedJobs(now, chance))
  putReadyOnes(shop)
  putUnderWay(shop)
  const { life: onTheBench, token } = putHollis(shop, stories)
  putNewOnes(shop, stories)
  putForgottenClock(shop, shop.lives.find(({ name }) => name === 'agreed')!.id)
  putClocks(shop)
  const inOrder = shop.deeds.toSorted((one, other) => one.at - other.at)
  const late = inOrder.filter((deed) => deed.at > now)
  if (late.length > 0) throw new Error(`${late.length} things of the demo would happen after now`)
  const before = shop.lives.filter(({ bookedAt }) => bookedAt < onTheBench.bookedAt).length
  return { opened, deeds: inOrder, lives: shop.lives, engineIds, tagsBefore: lastTagBefore(TAG_ON_THE_BENCH, before), token }
}

/** The number after which so many tags are given out before this one. */
function lastTagBefore(number: number, count: number): number {
  let left = count
  let last = number - 1
  for (; left > 0; last--) if (tagOf(last) !== null) left -= 1
  return last
}
