import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { canonicalJson } from '#core/canonical-json.ts'
import vectors from '#tests/vectors/canonical-json.json' with { type: 'json' }

function doubleOf(bits: string): number {
  return Buffer.from(bits, 'hex').readDoubleBE(0)
}

describe('canonicalJson', () => {
  it.each(vectors.numbers.rows)('RFC 8785 appendix B: bits %s are written %s', (bits, wanted) => {
    const value = doubleOf(bits as string)
    if (wanted === null) expect(() => canonicalJson(value)).toThrow(RangeError)
    else expect(canonicalJson(value)).toBe(wanted)
  })

  it('RFC 8785 sections 3.2.2 to 3.2.4: the whole sample, byte for byte', () => {
    const written = Buffer.from(canonicalJson(JSON.parse(vectors.whole.given)), 'utf8').toString('hex')
    expect(written).toBe(vectors.whole.hex)
  })

  it('RFC 8785 section 3.2.3: members by UTF-16 code units, so that an emoji comes before a higher single unit', () => {
    const text = canonicalJson(JSON.parse(vectors.order.given))
    // The member "1" is an array-index name, which JSON.parse would put first again: read the order off the text.
    const order = [...text.matchAll(/":"([^"]*)"/g)].map((match) => match[1])
    expect(order).toEqual(vectors.order.wanted)
  })

  it('does not see in which order members were put in, at any depth', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        expect(canonicalJson(turnedRound(value))).toBe(canonicalJson(value))
      }),
    )
  })

  it('loses nothing: what is read back says the same again', () => {
    fc.assert(
      fc.property(fc.jsonValue(), (value) => {
        const text = canonicalJson(value)
        expect(JSON.parse(text)).toEqual(JSON.parse(JSON.stringify(value)))
        expect(canonicalJson(JSON.parse(text))).toBe(text)
      }),
    )
  })

  it.each([
    ['NaN', Number.NaN],
    ['Infinity', { a: [Number.POSITIVE_INFINITY] }],
    ['a lone high surrogate', 'x\ud800'],
    ['a lone low surrogate in a name', { '\udc00': 1 }],
    ['undefined', undefined],
    ['a member that is undefined', { a: undefined }],
    // biome-ignore lint/suspicious/noSparseArray: the hole is what is tested
    ['a hole in an array', [1, , 2]],
    ['a bigint', 1n],
    ['a function', () => 1],
    ['a symbol as a name', { [Symbol('a')]: 1 }],
    ['a Date', new Date(0)],
    ['a Map', new Map()],
  ])('refuses %s', (_name, value) => {
    expect(() => canonicalJson(value)).toThrow(/^canonicalJson needs /)
  })

  it('refuses data that hold themselves, and takes a well-formed pair of surrogates', () => {
    const ring: Record<string, unknown> = {}
    ring.again = ring
    expect(() => canonicalJson(ring)).toThrow(RangeError)
    expect(canonicalJson('\ud83d\ude00')).toBe('"\ud83d\ude00"')
    expect(canonicalJson(Object.assign(Object.create(null), { a: 1 }))).toBe('{"a":1}')
  })
})

function turnedRound(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(turnedRound)
  if (typeof value !== 'object' || value === null) return value
  return Object.fromEntries(
    Object.entries(value)
      .reverse()
      .map(([name, member]) => [name, turnedRound(member)]),
  )
}
