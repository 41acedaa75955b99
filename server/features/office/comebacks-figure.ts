/** What came back of what went home, by cause, lot, engine or person, from the sums that were read. */
import type { OfficeComebacks } from '#contract/office-came-back.ts'
import { CAUSE_WORDS, type ComebackCause } from '#core/comeback.ts'
import { type LotAgainstOthers, lotsAgainstOthers } from '#core/office-lots.ts'
import { type ComebackKey, CRANK_RULES, OFFICE_RULES } from '#core/office-rules.ts'
import { rate } from '#core/rate.ts'
import type { CrankFilters, Window } from './filters.ts'
import { cranksOf, csvOf } from './links.ts'
import type { BackRow } from './store.ts'

/** Rows that an answer carries; a CSV has all. */
export const COMEBACK_ROWS = 60

const NOT_KNOWN: Readonly<Record<ComebackKey, string>> = {
  cause: 'not decided yet',
  lot: 'no kit named',
  engine: '',
  person: 'nobody called it true',
}

/** The rows of an answer in their order, and each lot against all other kits where they are lots. */
export interface Ordered {
  rows: readonly BackRow[]
  left: number
  lots: ReadonlyMap<string, LotAgainstOthers> | null
}

/** Lots that are not chance first, then those of which most came back, no more than an answer carries. */
export function orderedOf(read: readonly BackRow[], by: ComebackKey, limit: number): Ordered {
  const lots =
    by === 'lot' ? lotsAgainstOthers(read.filter(({ key }) => key !== '').map(({ key, n, hits }) => ({ key, n, back: hits }))) : null
  const isFlagged = (row: BackRow) => Number(lots?.get(row.key)?.notChance ?? false)
  const rows = lots === null ? read : [...read].sort((one, other) => isFlagged(other) - isFlagged(one))
  return { rows: rows.slice(0, limit), left: Math.max(0, rows.length - limit), lots }
}

/** What is known of a row besides its counts. */
export interface Known {
  names: ReadonlyMap<string, string>
  stillOut: ReadonlyMap<string, number>
}

export function comebacksOf(
  read: { all: BackRow | undefined; ordered: Ordered; known: Known },
  asked: { window: Window; by: ComebackKey },
): OfficeComebacks {
  const { window, by } = asked
  const { rows, left, lots } = read.ordered
  const all = read.all ?? { n: 0, hits: 0, young: 0 }
  const list = (more: CrankFilters = {}) => cranksOf('comebacks', { ...window, ...more })
  const rateOf = remembered(rateOfNew)
  const backOf = ({ n, hits, young }: Pick<BackRow, 'n' | 'hits' | 'young'>) => ({ ...rateOf(n, hits), young })
  return {
    rule: CRANK_RULES.comebacks,
    n: all.n,
    cranks: list(),
    csv: csvOf('comebacks', { ...window, by }),
    ...window,
    by,
    all: { ...backOf(all), cranks: list(), cranksBack: list({ back: 'yes' }) },
    rows: rows.map((row) => {
      const key = row.key === '' ? null : row.key
      const filter = { [by]: key ?? 'none' }
      const name = nameOf(by, row.key, read.known.names)
      const against = lots?.get(row.key)
      return {
        key,
        name,
        // A cause belongs to those that came back alone: they are counted among all that went home.
        ...backOf(by === 'cause' ? { n: all.n, hits: row.hits, young: all.young } : row),
        cranks: by === 'cause' ? list() : list(filter),
        cranksBack: list({ ...filter, back: 'yes' }),
        ...(against === undefined ? {} : { lot: lotOf(row.key, name, against, read.known.stillOut.get(row.key) ?? 0, rateOf) }),
      }
    }),
    left,
    ...(lots === null ? {} : { lotRule: OFFICE_RULES.lot, lotsLookedAt: lots.size }),
  }
}

type Rate = Pick<OfficeComebacks['all'], 'n' | 'back' | 'perHundred' | 'wilson'>

function rateOfNew(n: number, back: number): Rate {
  const answer = rate({ failures: back, total: n })
  return { n, back, ...(answer.ok ? { perHundred: 100 * answer.value.rate, wilson: answer.value.wilson! } : {}) }
}

/** Many lots have the same counts, and an interval takes longer to work out than to remember. */
function remembered(work: (n: number, back: number) => Rate): (n: number, back: number) => Rate {
  const known = new Map<string, Rate>()
  return (n, back) => {
    const name = `${n} ${back}`
    const answer = known.get(name) ?? work(n, back)
    known.set(name, answer)
    return answer
  }
}

function nameOf(by: ComebackKey, key: string, names: Known['names']): string {
  if (key === '') return NOT_KNOWN[by]
  return by === 'cause' ? CAUSE_WORDS[key as ComebackCause] : (names.get(key) ?? '')
}

function lotOf(
  key: string,
  name: string,
  { others, p, pHolm, notChance }: LotAgainstOthers,
  out: number,
  rateOf: (n: number, back: number) => Rate,
) {
  const says = `${name} is not chance (${oneIn(p)} by chance). ${out === 1 ? '1 of its cranks is' : `${out} of its cranks are`} still out.`
  return {
    others: rateOf(others.n, others.back),
    p,
    pHolm,
    notChance,
    stillOut: out,
    cranksStillOut: cranksOf('still-out', { lot: key }),
    ...(notChance ? { says } : {}),
  }
}

/** A small chance as one in so many, to two figures: `1 in 2,600`. */
function oneIn(p: number): string {
  const times = Number((1 / p).toPrecision(2))
  return Number.isFinite(times) ? `1 in ${times.toLocaleString('en-US', { maximumFractionDigits: 1 })}` : 'less than can be written'
}
