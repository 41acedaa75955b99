import type { Instrument } from '#contract/instruments.ts'

const RANGE = /(\d+(?:[.,]\d+)?)\s*(?:to|-|–)\s*(\d+(?:[.,]\d+)?)/

/**
 * The lengths in mm that the name of an instrument says it reads; undefined where it says none.
 *
 * @example rangeNamed('Micrometer 3, 50 to 75') // { from: 50, to: 75 }
 */
export function rangeNamed(name: string): { from: number; to: number } | undefined {
  const found = RANGE.exec(name)
  if (found === null) return undefined
  const [from = 0, to = 0] = found.slice(1).map((one) => Number(one.replace(',', '.')))
  return to > from ? { from, to } : undefined
}

/**
 * What a reading is probably taken with: what read the same thing of this crank last, else the first that reaches the length
 * by its name. What is overdue or in doubt is only taken where there is nothing else. The hand sees it and may choose another.
 */
export function instrumentFor(
  fitting: readonly Instrument[],
  lastId: string | undefined,
  nearMm: number | undefined,
): Instrument | undefined {
  const reaches = ({ name }: Instrument) => {
    const range = rangeNamed(name)
    return range === undefined || nearMm === undefined || (nearMm >= range.from && nearMm <= range.to)
  }
  const sound = fitting.filter((one) => !one.overdue && one.doubt === undefined)
  return sound.find((one) => one.id === lastId) ?? sound.find(reaches) ?? sound[0] ?? fitting[0]
}
