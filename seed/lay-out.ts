/** The whole demo shop laid out: who did what and when, in order, before any of it is written. */
import { tagOf } from '#core/tag.ts'
import type { Deed } from './book.ts'
import { putCalls } from './calls.ts'
import type { Chance } from './chance.ts'
import { putClocks, putForgottenClock } from './clocks.ts'
import { putComebacks } from './comebacks.ts'
import { customersOf } from './customers.ts'
import { momentOn } from './days.ts'
import { builtBy, finishedJobs, openedOn } from './finished-jobs.ts'
import { putFinishedLives } from './finished-lives.ts'
import { putHollis } from './hollis.ts'
import { instrumentDeeds } from './instruments.ts'
import type { Life, Shop } from './life.ts'
import { MODEL_SHEETS } from './model-sheets.ts'
import { putNewOnes } from './new-lives.ts'
import { putReadyOnes, putUnderWay } from './open-lives.ts'
import { BUILT_BY_TODAY, type Hand } from './people.ts'

export interface LaidOut {
  opened: number
  deeds: readonly Deed[]
  lives: readonly Life[]
  engineIds: ReadonlyMap<string, string>
  /** The last running number of the paper book. */
  tagsBefore: number
  /** Of the secret address of a customer's page. */
  token: string
  /** Rebuilds that each hand had done when the book was opened. */
  builtBefore: Readonly<Record<Hand, number>>
}

/** Running number of the crank that is on the bench; the numbers of the paper book end where they have to for that. */
const NUMBER_ON_THE_BENCH = 1318
export const TAG_ON_THE_BENCH = tagOf(NUMBER_ON_THE_BENCH)!

export interface Wanted {
  now: number
  chance: Chance
  newId: (at: number) => string
  /** About how many jobs there are in all. */
  jobs: number
  /** Where the book is at home. */
  address: string
}

export function layOutShop({ now, chance, newId, jobs, address }: Wanted): LaidOut {
  const opened = momentOn(openedOn(now), '08:00')
  const engineIds = new Map(MODEL_SHEETS.map(({ code }) => [code, newId(opened)]))
  const { deeds, ids } = instrumentDeeds({ now, opened, newId })
  const customers = customersOf(jobs, chance.of('customers'), () => newId(opened))
  const past = finishedJobs(now, jobs, [...customers.keys()], chance)
  const had = (hand: Hand) => Math.max(0, BUILT_BY_TODAY[hand] - builtBy(hand, past))
  const builtBefore = { jonas: 0, marek: had('marek'), ewa: had('ewa') }
  const shop: Shop = {
    now,
    chance,
    newId,
    deeds,
    diaries: { jonas: [], marek: [], ewa: [] },
    instruments: ids,
    engineIds,
    customers,
    known: new Set(),
    lives: [],
    counted: { ...builtBefore },
    address,
  }
  const lives = putFinishedLives(shop, past)
  putComebacks(shop, past, lives)
  putCalls(shop)
  putReadyOnes(shop)
  putUnderWay(shop)
  const { life: onTheBench, token } = putHollis(shop, lives)
  putNewOnes(shop, lives)
  putForgottenClock(shop, shop.lives.find(({ name }) => name === 'agreed')!.id)
  putClocks(shop)
  const inOrder = shop.deeds.toSorted((one, other) => one.at - other.at)
  const late = inOrder.filter((deed) => deed.at > now)
  if (late.length > 0) throw new Error(`${late.length} things of the demo would happen after now`)
  const before = shop.lives.filter(({ bookedAt }) => bookedAt < onTheBench.bookedAt).length
  const tagsBefore = lastTagBefore(NUMBER_ON_THE_BENCH, before)
  return { opened, deeds: inOrder, lives: shop.lives, engineIds, tagsBefore, token, builtBefore }
}

/** The number after which so many tags are given out before this one. */
function lastTagBefore(number: number, count: number): number {
  let left = count
  let last = number - 1
  for (; left > 0; last--) if (tagOf(last) !== null) left -= 1
  return last
}
