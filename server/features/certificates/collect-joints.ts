/** What a sheet says of the joints of a crank: its marks, its fit, its press; with several throws each of them by itself. */

import type { Bench } from '#contract/bench.ts'
import type { Engine } from '#contract/engines.ts'
import type { Job } from '#contract/jobs.ts'
import type { Measurement } from '#contract/measurements.ts'
import type { Settings } from '#contract/settings.ts'
import type { CertificateData, CertificateVerdict, Figured, PhaseRow, SealedJoint, SealedThrow, WindowRow } from '#core/certificate.ts'
import { windowVerdict } from '#core/certificate-verdict.ts'
import { hasSeveralThrows, isThrow, type Joint, jointWords } from '#core/crank-build.ts'
import { PHASE_GIVE_OR_TAKE_DEG, phaseError } from '#core/phase.ts'
import { type GuardRule, giveOrTakeFor, type Side } from '#core/runout-verdict.ts'
import { type SetsOfSheet, swingOf, throwRows } from './collect-rows.ts'

const FIT_STEP_MM = 0.001
const USUAL_DIAL_MM = 0.01

/** What is punched on both webs, as it was last written down. */
export function marksOf(pressings: Bench['pressings']): Pick<SealedJoint, 'webMarks'> {
  const mark = (side: Side) =>
    pressings.findLast((one) => one.side === side && one.webMark !== undefined && one.struck === undefined)?.webMark
  const left = mark('left')
  const right = mark('right')
  return left === undefined || right === undefined ? {} : { webMarks: { left, right } }
}

export function fitOf(fit: Bench['fit']): Pick<CertificateData, 'fit'> {
  if (fit === undefined || fit.ofOldPin || (fit.left === undefined && fit.right === undefined)) return {}
  const side = (one: { interferenceMm: number } | undefined): Figured =>
    one === undefined ? { notRead: 'not measured' } : { mm: one.interferenceMm, stepMm: FIT_STEP_MM }
  return { fit: { left: side(fit.left), right: side(fit.right) } }
}

export function pressingOf(together: Bench['pressings']): Pick<CertificateData, 'pressing'> {
  const left = together.findLast((one) => one.side === 'left')
  const right = together.findLast((one) => one.side === 'right')
  if (left === undefined && right === undefined) return {}
  const lubricant = left?.lubricant ?? right?.lubricant
  return {
    pressing: {
      ...(left?.peakTonnes === undefined ? {} : { leftTonnes: left.peakTonnes }),
      ...(right?.peakTonnes === undefined ? {} : { rightTonnes: right.peakTonnes }),
      ...(lubricant === undefined ? {} : { lubricant }),
    },
  }
}

/** What of a job the joints are gathered from. */
interface OfJob {
  job: Job
  bench: Bench
  engine: Engine
  settings: Settings
}

type SeveralParts = Required<Pick<CertificateData, 'build' | 'throws' | 'centres' | 'middle' | 'phase'>>

/** Every joint of a crank with several throws, its angles and its middle; undefined where it has one throw. */
export function severalOf({ job, bench, engine, settings }: OfJob, live: readonly Measurement[]): SeveralParts | undefined {
  const build = bench.build ?? null
  if (!hasSeveralThrows(build)) return undefined
  const rule = settings.guardRule
  const isReport = job.kind === 'check-and-report'
  const newest = (kind: Measurement['kind'], joint: Joint | undefined, received: boolean) =>
    live.findLast((set) => set.kind === kind && set.joint === joint && isOfPhase(set, received))
  const setsOf = (joint: Joint, received: boolean): SetsOfSheet => ({
    width: newest('width', joint, received),
    clearance: newest('clearance', joint, received),
    play: newest('play', joint, received),
  })
  const joints = bench.joints ?? []
  const limitDeg = build.phaseLimitDeg ?? 0
  const angles = { now: newest('phase', undefined, isReport), before: isReport ? undefined : newest('phase', undefined, true) }
  const swings = { now: newest('centre', undefined, isReport), before: isReport ? undefined : newest('centre', undefined, true) }
  return {
    build: { phaseDeg: [...build.phaseDeg], centre: build.centre ?? 'pressed', trapped: build.trapped.map(({ what }) => what) },
    throws: joints
      .filter(({ joint }) => isThrow(joint))
      .map((one): SealedThrow => {
        const sets = { now: setsOf(one.joint, isReport), before: isReport ? {} : setsOf(one.joint, true) }
        return { ...jointOf(one, bench), ...throwRows(engine, rule, sets), ...aloneOf(newest('runout', one.joint, false)) }
      }),
    centres: joints.filter(({ joint }) => !isThrow(joint)).map((one) => jointOf(one, bench)),
    middle: Array.from({ length: build.throws - 1 }, (_, place) => {
      const name = jointWords(`centre-${place + 1}` as Joint)
      return { name, ...middleRow(engine, rule, String(place + 1), swings) }
    }),
    phase: build.phaseDeg.slice(1).map((nominalDeg, place) => {
      const row = { name: jointWords(`throw-${place + 2}` as Joint), nominalDeg, limitDeg }
      return phaseRow(row, rule, String(place + 2), angles)
    }),
  }
}

function isOfPhase({ phase }: Measurement, received: boolean): boolean {
  return received ? phase === 'received' : phase === 'building' || phase === 'built'
}

function jointOf({ joint, says, kit, fit }: NonNullable<Bench['joints']>[number], bench: Bench): SealedJoint {
  const pressings = bench.pressings.filter((one) => one.joint === joint)
  const together = pressings.filter((one) => one.direction === 'together' && one.struck === undefined)
  return {
    name: says,
    ...marksOf(pressings),
    ...(kit === undefined ? {} : { kit: { maker: kit.maker, model: kit.part, lot: kit.lot, from: kit.whose } }),
    ...fitOf(fit),
    ...pressingOf(together),
  }
}

function aloneOf(set: Measurement | undefined): Pick<SealedThrow, 'alone'> {
  const left = swingOf(set, 'left')
  const right = swingOf(set, 'right')
  return left === undefined || right === undefined ? {} : { alone: { left, right } }
}

interface ThenAndNow {
  now: Measurement | undefined
  before: Measurement | undefined
}

function valueAt(set: Measurement | undefined, place: string): number | undefined {
  return set?.values.findLast((value) => value.place === place)?.mm
}

function middleRow({ build }: Engine, rule: GuardRule, place: string, { now, before }: ThenAndNow): WindowRow {
  const maxMm = build?.centreLimitMm
  const stepMm = now?.instrument?.stepMm ?? USUAL_DIAL_MM
  const was = valueAt(before, place)
  const mm = valueAt(now, place)
  const base: Omit<WindowRow, 'verdict'> = {
    ...(was === undefined ? {} : { asReceived: { mm: was, stepMm: before?.instrument?.stepMm ?? USUAL_DIAL_MM } }),
    ...(maxMm === undefined ? {} : { allowed: { maxMm, whose: 'ours' } }),
  }
  if (mm === undefined) return { ...base, final: { notRead: now?.notReadBecause ?? 'nobody read it' }, verdict: 'not-read' }
  const giveOrTakeMm = giveOrTakeFor({ instrumentStepMm: stepMm, support: 'bare-seats' })
  const verdict = maxMm === undefined ? 'no-limit' : windowVerdict({ mm: [mm], giveOrTakeMm, maxMm, rule })
  return { ...base, final: { mm, stepMm }, giveOrTakeMm, verdict }
}

function phaseRow(
  row: Pick<PhaseRow, 'name' | 'nominalDeg' | 'limitDeg'>,
  rule: GuardRule,
  place: string,
  { now, before }: ThenAndNow,
): PhaseRow {
  const { nominalDeg, limitDeg } = row
  const was = valueAt(before, place)
  const deg = valueAt(now, place)
  const base = { ...row, ...(was === undefined ? {} : { asReceivedDeg: was }), giveOrTakeDeg: PHASE_GIVE_OR_TAKE_DEG }
  if (deg === undefined) return { ...base, final: { notRead: now?.notReadBecause ?? 'nobody read it' }, verdict: 'not-read' }
  // The rule of the windows holds for angles as for lengths.
  const off = Math.abs(phaseError({ measuredDeg: deg, nominalDeg, limitDeg }).errorDeg)
  return { ...base, final: { deg }, verdict: windowVerdict({ mm: [off], giveOrTakeMm: PHASE_GIVE_OR_TAKE_DEG, maxMm: limitDeg, rule }) }
}

/** The sets of the joints that the sheet goes by, for the instruments that it names. */
export function setsOfJoints({ job, bench }: Pick<OfJob, 'job' | 'bench'>, live: readonly Measurement[]): Measurement[] {
  if (bench.joints === undefined) return []
  const kinds: readonly Measurement['kind'][] = ['width', 'clearance', 'play', 'phase', 'centre']
  const known = live.filter((set) => kinds.includes(set.kind) && isOfPhase(set, job.kind === 'check-and-report'))
  return known.filter((set, place) => !known.slice(place + 1).some((later) => later.kind === set.kind && later.joint === set.joint))
}

/** Every verdict of the rows of a sheet, those of several throws among them. */
export function verdictsOf(rows: object): CertificateVerdict[] {
  return Object.values(rows).flatMap((row: unknown) => {
    if (typeof row !== 'object' || row === null) return []
    return 'verdict' in row ? [row.verdict as CertificateVerdict] : verdictsOf(row)
  })
}
