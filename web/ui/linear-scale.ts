/** A straight scale: from a span of figures to a span of pixels, with the round figures that lie on it. */
export interface LinearScale {
  (value: number): number
  /** Its ends on the paper, CSS pixels. */
  range(): [number, number]
  /** Round figures on the scale, about so many; smallest first. */
  ticks(count: number): number[]
  /** A figure of `ticks(count)` written with the decimals that its step needs. */
  tickFormat(count: number): (value: number) => string
}

/** 1, 2 or 5 times a power of ten, the nearest to a span cut into so many parts. */
function roundStep(from: number, to: number, count: number): number {
  const rough = Math.abs(to - from) / Math.max(1, count)
  if (!(rough > 0)) return 1
  const power = 10 ** Math.floor(Math.log10(rough))
  const times = rough / power
  return (times >= Math.sqrt(50) ? 10 : times >= Math.sqrt(10) ? 5 : times >= Math.SQRT2 ? 2 : 1) * power
}

/** Multiples of a step as fractions of whole numbers, so that 3 × 0.1 is 0.3. */
function timesStep(step: number, count: number): number {
  return step < 1 ? count / Math.round(1 / step) : count * step
}

/** With `niceFor` the ends are moved outwards to round figures of about so many steps. Refuses (RangeError) what is not finite. */
export function linearScale(domain: readonly [number, number], range: readonly [number, number], niceFor?: number): LinearScale {
  if (![...domain, ...range].every(Number.isFinite)) throw new RangeError('linearScale needs finite ends')
  let [from, to] = domain
  const [start, end] = range
  if (niceFor !== undefined && to > from) {
    // Wider ends may want a wider step, which moves them once more.
    for (let step = 0, tries = 0; tries < 10; tries += 1) {
      const next = roundStep(from, to, niceFor)
      if (next === step) break
      step = next
      from = timesStep(step, Math.floor(from / step + 1e-9))
      to = timesStep(step, Math.ceil(to / step - 1e-9))
    }
  }
  const scale = (value: number) => (to === from ? (start + end) / 2 : start + ((value - from) / (to - from)) * (end - start))
  return Object.assign(scale, {
    range: (): [number, number] => [start, end],
    ticks(count: number) {
      const step = roundStep(from, to, count)
      const first = Math.ceil(from / step - 1e-9)
      const last = Math.floor(to / step + 1e-9)
      return Array.from({ length: Math.max(0, last - first + 1) }, (_, n) => timesStep(step, first + n))
    },
    tickFormat(count: number) {
      const decimals = Math.max(0, -Math.floor(Math.log10(roundStep(from, to, count)) + 1e-9))
      return (value: number) => value.toFixed(decimals)
    },
  })
}
