import type { z } from 'zod'
import type { Bench } from '#contract/bench.ts'
import type { PressingNew, pressing } from '#contract/pressings.ts'
import { gaugeRead } from '#core/bench/gauge-and-fit.ts'
import type { Joint } from '#core/crank-build.ts'
import { SIDES, type Side } from '#core/runout-verdict.ts'
import { figure } from '#web/lib/format.ts'

export type Pressing = z.infer<typeof pressing>
export type Direction = PressingNew['direction']
export type Galling = NonNullable<PressingNew['galling']>

export const GALLING_WORDS: Readonly<Record<Galling, string>> = { none: 'clean', light: 'a little torn', heavy: 'galled' }

export function tonnes(value: number): string {
  return `${figure(value, 1)} t`
}

/** The newest of each web in this direction that stands, if nothing was pressed the other way since. */
export function pressedNow(pressings: readonly Pressing[], direction: Direction): Partial<Record<Side, Pressing>> {
  const standing = pressings.filter((one) => one.struck === undefined)
  const found = SIDES.flatMap((side) => {
    const last = standing.filter((one) => one.side === side).at(-1)
    return last?.direction === direction ? [[side, last] as const] : []
  })
  return Object.fromEntries(found)
}

/** Whether both webs of a joint went this way and nothing was pressed the other way since. */
export function isPressed({ pressings }: Pick<Bench, 'pressings'>, joint: Joint | undefined, direction: Direction): boolean {
  const { left, right } = pressedNow(
    pressings.filter((one) => one.joint === joint),
    direction,
  )
  return left !== undefined && right !== undefined
}

/** `5.0 t · 8.9 to 14.8 t foretold. Far below: the bore is belled, or wet with the wrong oil. Measure it at both depths.` */
export function peakWords(one: Pressing): string {
  if (one.peakTonnes === undefined) return `gauge not read, because ${one.notReadBecause ?? 'nobody said'}`
  const band = bandWords(one)
  return band === '' ? tonnes(one.peakTonnes) : `${tonnes(one.peakTonnes)} · ${band}`
}

/** What the fit foretells, and whether the gauge stood outside it; empty where nothing is foretold. */
export function bandWords(one: Pressing): string {
  if (one.peakTonnes === undefined) return one.notReadBecause === undefined ? '' : `because ${one.notReadBecause}`
  const { foretold } = one
  if (foretold === undefined) return ''
  const band = `${figure(foretold.lowTonnes, 1)} to ${tonnes(foretold.highTonnes)} foretold`
  const { says } = gaugeRead(one.peakTonnes, foretold)
  return says === undefined ? band : `${band}. ${says}`
}

/** What was seen of a web: `clean, no crack seen, marked L 318-V`. */
export function lookWords(one: Pressing): string {
  return [
    one.galling === undefined ? undefined : GALLING_WORDS[one.galling],
    one.crack === undefined ? undefined : one.crack ? 'a crack' : 'no crack seen',
    one.webMark === undefined || one.webMark === '' ? undefined : `marked ${one.webMark}`,
    one.lubricant === undefined || one.lubricant === '' ? undefined : one.lubricant,
    one.note === undefined || one.note === '' ? undefined : one.note,
  ]
    .filter((word) => word !== undefined)
    .join(', ')
}
