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
    bytes: (count) => Uint8Array.from({ length: count }, () => whole(0, 255)),
    of: (label) => chanceFrom(seedOf(seed, label)),
  }
}

/** Another seed for every label: the FNV-1a hash (Fowler, Noll, Vo) over the label, begun with the seed above it. */
function seedOf(seed: number, label: string): number {
  let hash = (0x811c9dc5 ^ seed) >>> 0
  for (const sign of label) hash = Math.imul(hash ^ sign.codePointAt(0)!, 0x01000193) >>> 0
  return hash
}
