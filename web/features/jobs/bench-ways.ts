import type { Gate } from '#contract/steps.ts'
import { type Joint, jointWords } from '#core/crank-build.ts'
import { atAddress } from '#web/lib/joint-here.ts'

export interface Way {
  to: string
  /** What the hand does there. */
  says: string
}

type Rule = readonly [code: RegExp, path: string, says: string]

/** Where each missing thing is taken: the first rule that fits its code. Paths lie beneath /bench/<job>. */
const RULES: readonly Rule[] = [
  [/^width-window|^side-clearance-window|^house-limit/, 'sheet', 'Open the engine sheet'],
  [/^phase/, 'read/phase', 'Read the angles'],
  [/^centre-runout/, 'read/centre', 'Read the middle'],
  [/^trapped-parts/, 'press#trapped', 'To the parts between the webs'],
  [/^width/, 'read/width', 'Read the width'],
  [/^side-clearance/, 'read/clearance', 'Read the side clearance'],
  [/^runout-(left|right)-as-received/, 'read/runout', 'Read both ends'],
  [/^runout/, 'true', 'Read both ends'],
  [/^big-end-play/, 'read/play', 'Read the play'],
  [/^(peak-tonnage|look-at-bores|web-marks|crack)/, 'part', 'To the press'],
  [/^kit-lot/, 'kit', 'Name the kit'],
  [/^fit-(left|right)-not-of-the-kit-pin/, 'read/pin', 'Measure the pin'],
  [/^fit-(left|right)-older-than-parting/, 'read/bore', 'Measure the bores'],
  [/^fit/, 'read/bore', 'Pin and bores'],
  [/^oil-hole/, 'press#oil-hole', 'Look at the oil hole'],
  [/^weld/, 'weld', 'To the weld'],
  [/^(second-reading|readings-differ|third-set)/, 'check', 'To the second check'],
  [/^instrument-(overdue|in-doubt)/, 'instruments', 'To the instruments'],
  [/^certificate/, 'sign', 'To the certificate'],
]

/** Read of the whole crank, whichever joint the gate names. */
const OF_THE_WHOLE = /^(phase|centre-runout)/

/** The screen that takes a missing thing, opened at its joint; undefined where it is not the bench's to take. */
export function wayFor(code: string, job: { id: string; engineId: string }, joint?: Joint): Way | undefined {
  const rule = RULES.find(([fits]) => fits.test(code))
  if (rule === undefined) return undefined
  const [, path, says] = rule
  if (path === 'sheet') return { to: `/engines/${job.engineId}`, says }
  if (path === 'instruments') return { to: '/bench/instruments', says }
  const to = `/bench/${job.id}/${path}`
  if (joint === undefined || OF_THE_WHOLE.test(code)) return { to, says }
  return { to: atAddress(to, joint), says: `${says}, ${jointWords(joint).toLowerCase()}` }
}

/** Missing things in the order of the gate, those with the same way together and its link said once. */
export function byWay(
  missing: Gate['missing'],
  job: { id: string; engineId: string },
): { way: Way | undefined; things: Gate['missing'] }[] {
  const groups: { way: Way | undefined; things: Gate['missing'] }[] = []
  for (const one of missing) {
    const way = wayFor(one.code, job, one.joint)
    const group = groups.find((other) => other.way?.to === way?.to)
    if (group === undefined) groups.push({ way, things: [one] })
    else group.things.push(one)
  }
  return groups
}

/** What is left to do at which joint, in a line: `Throw 2: read the width; whole crank: read both ends`. Undefined where no joint is named. */
export function leftByJoint(missing: Gate['missing'], job: { id: string; engineId: string }): string | undefined {
  if (missing.every((one) => one.joint === undefined)) return undefined
  const left = new Map<string, Set<string>>()
  for (const one of missing) {
    const where = one.joint === undefined ? 'whole crank' : jointWords(one.joint).toLowerCase()
    const acts = left.get(where) ?? new Set()
    left.set(where, acts.add(wayFor(one.code, job)?.says.toLowerCase() ?? 'see below'))
  }
  const line = [...left].map(([where, acts]) => `${where}: ${[...acts].join(', ')}`).join('; ')
  return `${line.charAt(0).toUpperCase()}${line.slice(1)}`
}
