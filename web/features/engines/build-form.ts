import type { EngineBuild } from '#contract/crank-build.ts'
import { buildFaults, THROWS_MOST } from '#core/crank-build.ts'
import { readLength } from '#core/units.ts'
import { readQuantity } from '#web/lib/quantity.ts'

/** How a crank is put together, as typed. */
export interface TypedBuild {
  throws: string
  rodsOnAPin: '1' | '2'
  /** Of throw 2 and on. */
  angles: string[]
  phaseLimit: string
  centreLimit: string
  centre: 'pressed' | 'integral' | undefined
  /** One a line: what, a comma, between which webs. */
  trapped: string
}

export function typedBuildOf(build: EngineBuild | undefined): TypedBuild {
  return {
    throws: String(build?.throws ?? 1),
    rodsOnAPin: build?.rodsOnAPin === 2 ? '2' : '1',
    angles: Array.from({ length: THROWS_MOST - 1 }, (_, place) => String(build?.phaseDeg[place + 1] ?? '')),
    phaseLimit: build?.phaseLimitDeg === undefined ? '' : String(build.phaseLimitDeg),
    centreLimit: build?.centreLimitMm === undefined ? '' : String(build.centreLimitMm),
    centre: build?.centre,
    trapped: (build?.trapped ?? []).map(({ what, between }) => `${what}, ${between}`).join('\n'),
  }
}

export type BuildFaults = Readonly<Record<string, string>>
type ReadBuild = { ok: true; build: EngineBuild | null } | { ok: false; faults: BuildFaults }

/** What was typed, read; null where it is one throw with one rod and nothing between, which no sheet needs to say. */
export function readBuild(typed: TypedBuild): ReadBuild {
  const faults: Record<string, string> = {}
  const throws = Number(typed.throws)
  const isSeveral = throws > 1
  const angles = typed.angles.slice(0, throws - 1).map((text, place) => {
    const read = readQuantity(text, '°')
    if (!read.ok) faults[`angle-${place + 2}`] = read.nothingTyped ? 'Give the angle of this throw.' : read.detail
    return read.ok ? read.value : 0
  })
  const phaseLimit = readQuantity(typed.phaseLimit, '°')
  if (isSeveral && !phaseLimit.ok && !phaseLimit.nothingTyped) faults.phaseLimit = phaseLimit.detail
  if (isSeveral && phaseLimit.ok && (phaseLimit.value < 0.01 || phaseLimit.value > 10)) faults.phaseLimit = 'From 0.01° to 10°.'
  const centreLimit = readLength(typed.centreLimit, 'mm')
  if (isSeveral && !centreLimit.ok && centreLimit.reason !== 'nothing-typed') faults.centreLimit = centreLimit.detail
  if (isSeveral && centreLimit.ok && (centreLimit.value.mm < 0.001 || centreLimit.value.mm > 1)) faults.centreLimit = 'From 0.001 to 1 mm.'
  const trapped = typed.trapped.split('\n').flatMap((line) => {
    if (line.trim() === '') return []
    const [what = '', ...rest] = line.split(',')
    const between = rest.join(',').trim()
    if (between === '') faults.trapped = `“${line.trim()}”: after a comma say between which webs.`
    return [{ what: what.trim(), between }]
  })
  const build: EngineBuild = {
    throws,
    rodsOnAPin: Number(typed.rodsOnAPin),
    phaseDeg: [0, ...angles],
    ...(isSeveral && phaseLimit.ok ? { phaseLimitDeg: phaseLimit.value } : {}),
    ...(isSeveral && centreLimit.ok ? { centreLimitMm: centreLimit.value.mm } : {}),
    ...(isSeveral && typed.centre !== undefined ? { centre: typed.centre } : {}),
    trapped,
  }
  for (const { path, detail } of buildFaults(build)) faults[fieldOf(path)] ??= detail
  if (Object.keys(faults).length > 0) return { ok: false, faults }
  const isPlain = throws === 1 && build.rodsOnAPin === 1 && trapped.length === 0
  return { ok: true, build: isPlain ? null : build }
}

/** The field of the form for a place in the build. */
export function fieldOf([name, place]: readonly (string | number)[]): string {
  if (name === 'phaseDeg' && place !== undefined) return `angle-${Number(place) + 1}`
  if (name === 'phaseLimitDeg') return 'phaseLimit'
  return name === 'centreLimitMm' ? 'centreLimit' : String(name)
}
