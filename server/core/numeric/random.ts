/** Chance as an argument: each call answers the next number in [0, 1). */
export type Random = () => number

/** The four 32-bit words of a generator, not all 0. */
export type RandomState = readonly [number, number, number, number]

/**
 * A generator of whole numbers from 0 to 2³² − 1 that gives the same run for the same state, on every machine.
 * For demo data, tests and resampling; never for anything that must not be guessed.
 *
 * @example randomWords([1, 2, 3, 4])() // 11520
 *
 * Refuses a state of nothing but 0 (RangeError).
 * Source: xoshiro128** 1.1, Blackman and Vigna (2018), Scrambled linear pseudorandom number generators.
 */
export function randomWords(state: RandomState): () => number {
  let [a, b, c, d] = state.map((word) => word >>> 0) as [number, number, number, number]
  if ((a | b | c | d) === 0) throw new RangeError('randomWords needs a state that is not all 0')
  return () => {
    const word = Math.imul(rotate(Math.imul(b, 5), 7), 9) >>> 0
    const shifted = b << 9
    c ^= a
    d ^= b
    b ^= c
    a ^= d
    c ^= shifted
    d = rotate(d, 11)
    return word
  }
}

function rotate(word: number, by: number): number {
  return (word << by) | (word >>> (32 - by))
}

/**
 * Chance from one whole number as seed: 53 random bits a call.
 *
 * @example seededRandom(318)() === seededRandom(318)() // true
 *
 * Refuses a seed that is not a whole number from 0 to 2³² − 1 (RangeError).
 */
export function seededRandom(seed: number): Random {
  if (!Number.isInteger(seed) || seed < 0 || seed > 0xffffffff) throw new RangeError('seededRandom needs a whole seed from 0 to 4294967295')
  let weyl = seed
  // Spreads the seed over four words, so that neighbouring seeds give unlike runs (SplitMix with the finalizer of MurmurHash3).
  const spread = () => {
    weyl = (weyl + 0x9e3779b9) | 0
    let word = weyl
    word = Math.imul(word ^ (word >>> 16), 0x85ebca6b)
    word = Math.imul(word ^ (word >>> 13), 0xc2b2ae35)
    return (word ^ (word >>> 16)) >>> 0
  }
  const next = randomWords([spread(), spread(), spread(), spread()])
  return () => ((next() >>> 5) * 0x4000000 + (next() >>> 6)) / 0x20000000000000
}
