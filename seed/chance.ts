/** Chance for the demo shop: seeded, and split by label, so that one more draw in one place changes nothing elsewhere. */
import { seededRandom } from '#core/numeric/random.ts'

export interface Chance {
  /** From low up to high. */
  between(low: number, high: number): number
  /** A whole number from low to high, both among them. */
  whole(low: number, high: number): number
  /** Bell-shaped, mean 0, standard deviation 1. */
  normal(): number
  /** Spread evenly in proportion about a median; sdLog is the standard deviation of the natural logarithm. */
  lognormal(median: number, sdLog: number): number
  happens(share: number): boolean
  pick<T>(from: readonly T[]): T
  /** One of some, by their weights. */
  weighted<T>(from: readonly (readonly [T, number])[]): T
  /** How many come where so many come on average and none waits for another. */
  poisson(mean: number): number
  /** A count from 1 on, such that each one more is as likely as the one before it. */
  geometric(mean: number): number
  /** Parts that sum to 1 and are these on average; a small concentration lets one of them take nearly all. */
  shares(means: readonly number[], concentration: number): number[]
  /** The same things in another order. */
  shuffled<T>(things: readonly T[]): T[]
  bytes(count: number): Uint8Array<ArrayBuffer>
  /** Chance of its own for something with a name. */
  of(label: string): Chance
}

export function chanceFrom(seed: number): Chance {
  const random = seededRandom(seed)
  const between = (low: number, high: number) => low + (high - low) * random()
  const whole = (low: number, high: number) => low + Math.floor((high - low + 1) * random())
  // Box and Muller (1958); 1 − random() is never 0.
  const normal = () => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random())
  return {
    between,
    whole,
    normal,
    lognormal: (median, sdLog) => median * Math.exp(sdLog * normal()),
    happens: (share) => random() < share,
    pick: (from) => from[whole(0, from.length - 1)]!,
    weighted: (from) => {
      let left = between(
        0,
        from.reduce((sum, [, weight]) => sum + weight, 0),
      )
      for (const [one, weight] of from) {
        left -= weight
        if (left < 0) return one
      }
      return from[from.length - 1]![0]
    },
    poisson: (mean) => {
      // Knuth, The Art of Computer Programming, volume 2, 3.4.1, algorithm Q.
      const least = Math.exp(-mean)
      let count = 0
      for (let product = random(); product > least; product *= random()) count++
      return count
    },
    geometric: (mean) => (mean <= 1 ? 1 : 1 + Math.floor(Math.log(1 - random()) / Math.log(1 - 1 / mean))),
    shares: (means, concentration) => {
      const parts = means.map((mean) => gamma(mean * concentration, random, normal))
      const sum = parts.reduce((total, part) => total + part, 0)
      return parts.map((part) => part / sum)
    },
    shuffled: (things) => {
      const order = [...things]
      for (let index = order.length - 1; index > 0; index--) {
        const other = whole(0, index)
        ;[order[index], order[other]] = [order[other]!, order[index]!]
      }
      return order
    },
    bytes: (count) => Uint8Array.from({ length: count }, () => whole(0, 255)),
    of: (label) => chanceFrom(seedOf(seed, label)),
  }
}

/** Gamma variate of scale 1, by Marsaglia and Tsang (2000), ACM Transactions on Mathematical Software 26; under shape 1 by their boost. */
function gamma(shape: number, random: () => number, normal: () => number): number {
  if (shape < 1) return gamma(shape + 1, random, normal) * (1 - random()) ** (1 / shape)
  const d = shape - 1 / 3
  const c = 1 / Math.sqrt(9 * d)
  for (;;) {
    const x = normal()
    const v = (1 + c * x) ** 3
    if (v > 0 && Math.log(1 - random()) < 0.5 * x * x + d - d * v + d * Math.log(v)) return d * v
  }
}

/** Another seed for every label: the FNV-1a hash (Fowler, Noll, Vo) over the label, begun with the seed above it. */
function seedOf(seed: number, label: string): number {
  let hash = (0x811c9dc5 ^ seed) >>> 0
  for (const sign of label) hash = Math.imul(hash ^ sign.codePointAt(0)!, 0x01000193) >>> 0
  return hash
}
