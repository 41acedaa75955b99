import { type Answer, answered, refuse } from '#core/answer.ts'
import { mean } from '#core/numeric/mean.ts'
import { sum } from '#core/numeric/sum.ts'

/** One reading of one part by one person. */
export interface GaugeReading {
  part: string | number
  person: string | number
  value: number
}

/** Readings laid out part by person, with the sums of squares of a two-way analysis of variance. */
export interface GaugeTable {
  parts: number
  people: number
  /** How often each person read each part. */
  times: number
  squares: Record<'parts' | 'people' | 'interaction' | 'repeatability', number>
}

/**
 * Lays readings out and adds up their squares. Refuses fewer than two parts, people or readings of each (`too-few-points`) and
 * cells that are not equally full (`not-balanced`). Source: as `gauge`.
 *
 * @example gaugeTable([1, 2].flatMap((part) => ['A', 'B'].flatMap((person) => [0, 2].map((again) => ({ part, person, value: again }))))).value.squares.repeatability // 8
 */
export function gaugeTable(readings: readonly GaugeReading[]): Answer<GaugeTable> {
  const byPart = new Map<string, Map<string, number[]>>()
  const names = new Set<string>()
  for (const { part, person, value } of readings) {
    names.add(String(person))
    const row = byPart.get(String(part)) ?? new Map<string, number[]>()
    byPart.set(String(part), row)
    const cell = row.get(String(person)) ?? []
    row.set(String(person), cell)
    cell.push(value)
  }
  const people = [...names]
  if (byPart.size < 2 || people.length < 2) {
    return refuse('too-few-points', 'It needs two parts or more, each read by two people or more.')
  }
  const rows = [...byPart.values()]
  const times = rows[0]!.get(people[0]!)?.length ?? 0
  if (!rows.every((row) => row.size === people.length && [...row.values()].every((cell) => cell.length === times))) {
    return refuse('not-balanced', 'Every person has to read every part equally often.')
  }
  if (times < 2) return refuse('too-few-points', 'Every person has to read every part twice or more.')
  return answered({
    parts: rows.length,
    people: people.length,
    times,
    squares: squaresOf(rows.map((row) => people.map((person) => row.get(person)!))),
  })
}

function squaresOf(cells: readonly (readonly number[][])[]): GaugeTable['squares'] {
  const times = cells[0]![0]!.length
  const people = cells[0]!.length
  const cellMeans = cells.map((row) => row.map(mean))
  const partMeans = cellMeans.map(mean)
  const personMeans = cellMeans[0]!.map((_, person) => mean(cellMeans.map((row) => row[person]!)))
  const grand = mean(partMeans)
  const interaction = cellMeans.flatMap((row, part) => row.map((cell, person) => cell - partMeans[part]! - personMeans[person]! + grand))
  const repeats = cells.flatMap((row, part) => row.flatMap((cell, person) => cell.map((value) => value - cellMeans[part]![person]!)))
  // Distances as small as the last bits of the readings come from writing decimal readings in binary.
  const dust = cells.flat(2).reduce((most, value) => Math.max(most, Math.abs(value)), 0) * 2 ** -49
  const squares = (away: readonly number[]) => (away.every((one) => Math.abs(one) <= dust) ? 0 : sum(away.map((one) => one * one)))
  return {
    parts: people * times * squares(partMeans.map((value) => value - grand)),
    people: cells.length * times * squares(personMeans.map((value) => value - grand)),
    interaction: times * squares(interaction),
    repeatability: squares(repeats),
  }
}
