/** How fast the sums of the bench and of the office are, on one core. */
import { seededRandom } from '#core/numeric/random.ts'
import { survival } from '#core/survival.ts'
import { truing } from '#core/truing.ts'

export interface SumSpeed {
  name: string
  measured: string
  aim: string
  held: boolean
}

const TRUINGS_A_SECOND = 100_000
const SURVIVAL_ITEMS = 100_000
const SURVIVAL_MS = 150
const TIMES = 7

export function speedOfSums(): SumSpeed[] {
  const truings = truingsASecond()
  const ms = survivalMs()
  return [
    {
      name: 'truing sum with the best that can be reached',
      measured: `${Math.round(truings).toLocaleString('en')} /s`,
      aim: `${TRUINGS_A_SECOND.toLocaleString('en')} /s or more`,
      held: truings >= TRUINGS_A_SECOND,
    },
    {
      name: `how long they last, of ${SURVIVAL_ITEMS.toLocaleString('en')}`,
      measured: `${Math.round(ms)} ms`,
      aim: `under ${SURVIVAL_MS} ms`,
      held: ms < SURVIVAL_MS,
    },
  ]
}

/** The median of several goes, after one that does not count: time of the core, whoever else shares the machine. */
function medianMs(work: () => void): number {
  work()
  const took = Array.from({ length: TIMES }, () => {
    const started = process.cpuUsage()
    work()
    return process.cpuUsage(started).user / 1000
  })
  return took.sort((one, other) => one - other)[Math.floor(TIMES / 2)]!
}

function truingsASecond(): number {
  const count = 50_000
  const next = seededRandom(1)
  const ends = Array.from({ length: 1_000 }, () => ({
    left: { tirMm: 0.2 * next(), highAtDeg: 360 * next() },
    right: { tirMm: 0.2 * next(), highAtDeg: 360 * next() },
  }))
  const crank = { strokeMm: 72, supportLeftMm: 38, supportRightMm: 38, dialLeftMm: 45, dialRightMm: 52, limitTirMm: 0.02 }
  let refused = 0
  const ms = medianMs(() => {
    for (let n = 0; n < count; n++) if (!truing({ ...crank, ...ends[n % ends.length] }).ok) refused++
  })
  if (refused > 0) throw new Error('the truing sum refused what it was given')
  return (count / ms) * 1000
}

function survivalMs(): number {
  const next = seededRandom(2)
  const items = Array.from({ length: SURVIVAL_ITEMS }, (_, n) => ({
    at: Math.ceil(300 * next()),
    failed: n % 5 === 0,
    group: `lot ${n % 4}`,
  }))
  return medianMs(() => {
    if (!survival({ items }).ok) throw new Error('the sum of survival refused what it was given')
  })
}
