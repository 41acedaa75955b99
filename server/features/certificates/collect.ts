/** What a sheet says, gathered from what the book holds of a job. Plain values in, sealed data out; nothing is read here. */

import type { Bench } from '#contract/bench.ts'
import type { Engine } from '#contract/engines.ts'
import type { Instrument } from '#contract/instruments.ts'
import type { Job } from '#contract/jobs.ts'
import type { Measurement } from '#contract/measurements.ts'
import type { Settings } from '#contract/settings.ts'
import { COVERAGE } from '#core/bench/end-worth.ts'
import type { AgainSet, CertificateData, SealedEnd, Stamp } from '#core/certificate.ts'
import { ruleInWords } from '#core/certificate-words.ts'
import { type Joint, jointWords } from '#core/crank-build.ts'
import { fillText, promiseWords } from '#core/placeholders.ts'
import type { Side } from '#core/runout-verdict.ts'
import { surfaceSaid, withKeywaySkipped } from '#core/surface-words.ts'
import { fitOf, marksOf, pressingOf, setsOfJoints, severalOf, verdictsOf } from './collect-joints.ts'
import { endRows, shapeOf, swingOf, throwRows, worthOf } from './collect-rows.ts'

export interface Gathered {
  job: Job
  bench: Bench
  engine: Engine
  settings: Settings
  instruments: Instrument[]
  /** Day and time in the shop's zone of an instant. */
  inShop: (instant: string) => { day: string; time: string }
  /** Everybody's name by id, for the people on the sheet. */
  signedBy: string
  now: string
  number: string
  checkCode: string
  pageUrl: string
  bookHead?: string | undefined
  replaces?: { number: string; reason: string } | undefined
}

/** Whether there is a set of both ends that a sheet can go by; a set that was not read has no place and no dial. */
export function hasFinalSet({ job, bench }: Pick<Gathered, 'job' | 'bench'>): boolean {
  const live = bench.measurements.filter((set) => set.struck === undefined)
  return finalSets(live, job.kind === 'check-and-report').runout?.setup !== undefined
}

export function gatherSheet(given: Gathered): CertificateData {
  const { job, bench, engine, settings, inShop } = given
  const live = bench.measurements.filter((set) => set.struck === undefined)
  const isReport = job.kind === 'check-and-report'
  const final = finalSets(live, isReport)
  const runout = final.runout
  if (runout?.setup === undefined) throw new RangeError('gatherSheet needs a final set of runout readings')
  const again = live.findLast((set) => set.kind === 'runout' && set.phase === 'second')
  const third = live.findLast((set) => set.kind === 'runout' && set.phase === 'third')
  const received = isReport ? undefined : live.findLast((set) => set.kind === 'runout' && set.phase === 'received')
  const together = bench.pressings.filter((one) => one.direction === 'together' && one.struck === undefined)
  const rule = settings.guardRule
  const ends = endRows(engine, rule, { now: runout, before: received })
  const several = severalOf(given, live)
  const rows = { ...ends, ...(several ?? throwRows(engine, rule, { now: final, before: isReport ? {} : final.received })) }
  return {
    form: several === undefined ? 'throwbook-certificate-2' : 'throwbook-certificate-3',
    number: given.number,
    heading: isReport ? 'report' : 'certificate',
    measuredOn: inShop(runout.occurredAt).day,
    issuedOn: inShop(given.now).day,
    shop: { name: settings.shopName, address: settings.shopAddress },
    crank: crankOf(given),
    hours: job.hours !== undefined && job.hoursHow !== 'unknown' ? { value: job.hours, how: job.hoursHow } : { how: 'unknown' },
    ...pressingsOf(given, together.length > 0),
    kit: bench.kit === undefined ? null : { maker: bench.kit.maker, model: bench.kit.part, lot: bench.kit.lot, from: bench.kit.whose },
    ...(several === undefined ? { ...fitOf(bench.fit), ...pressingOf(together) } : {}),
    also: clauses(job.also),
    passes: job.passes.map((pass) => ({
      onDay: inShop(pass.at).day,
      what: pass.what,
      reason: pass.reason,
      ...(pass.measuredBy === undefined ? {} : { measuredBy: pass.measuredBy }),
      customerToldOn: pass.customerToldAt === undefined ? null : inShop(pass.customerToldAt).day,
    })),
    notRead: notReadOf(live, bench),
    setup: {
      held: runout.setup.held,
      left: sealedEnd(runout, 'left'),
      right: sealedEnd(runout, 'right'),
      ...(runout.temperatureC === undefined ? {} : { temperatureC: runout.temperatureC }),
    },
    ...(several === undefined ? shapeOf(engine) : {}),
    ...rows,
    further: [],
    worth: {
      coverage: COVERAGE,
      rule,
      statement: ruleInWords(rule, verdictsOf(rows)),
      warm: !runout.setup.cold,
      ...worthOf(runout.runout, 'left'),
      ...worthOf(runout.runout, 'right'),
    },
    ...(again === undefined ? {} : { again: againOf(given, again, runout) }),
    ...(third === undefined ? {} : { third: againOf(given, third, runout) }),
    instruments: instrumentsOf(given, [runout, again, third, final.width, final.clearance, final.play, ...setsOfJoints(given, live)]),
    built: builtBy(given),
    signed: stamp(given, given.signedBy, given.now),
    notDone: clauses(job.notDone ?? settings.notDone),
    fitting: engine.cycle === '2T' ? settings.fittingTwoStroke : settings.fittingFourStroke,
    promise: fillText(settings.promiseText, {
      shop: settings.shopName,
      promise: promiseWords(settings.promiseMonths, settings.promiseHours),
    }),
    ...(given.replaces === undefined ? {} : { replaces: given.replaces }),
    pageUrl: given.pageUrl,
    checkCode: given.checkCode,
    ...(given.bookHead === undefined ? {} : { bookHead: given.bookHead }),
  }
}

/** The newest set of each kind since the crank was received; a report's final sets are those as received. */
function finalSets(live: readonly Measurement[], isReport: boolean) {
  const newest = (kind: Measurement['kind'], phases: readonly Measurement['phase'][]) =>
    live.findLast((set) => set.kind === kind && set.joint === undefined && phases.includes(set.phase))
  const phases = isReport ? (['received'] as const) : (['building', 'built'] as const)
  return {
    runout: newest('runout', phases),
    width: newest('width', phases),
    clearance: newest('clearance', phases),
    play: newest('play', phases),
    received: { width: newest('width', ['received']), clearance: newest('clearance', ['received']), play: newest('play', ['received']) },
  }
}

function crankOf({ job, engine, bench }: Gathered): CertificateData['crank'] {
  return {
    maker: engine.maker,
    code: engine.code,
    cycle: engine.cycle,
    ...(job.crank.engineNumber === undefined ? {} : { engineNumber: job.crank.engineNumber }),
    tag: job.tag,
    ...(bench.joints === undefined ? marksOf(bench.pressings) : {}),
    welded: job.crank.welded || bench.welds.length > 0,
  }
}

/** How often each web has been pressed together: by the maker and others before it came here, and all of ours. */
function pressingsOf({ job }: Gathered, pressedNow: boolean): Pick<CertificateData, 'pressings'> {
  if (!pressedNow) return {}
  const { pressedBefore, pressedHere } = job.crank
  return { pressings: { left: pressedBefore + pressedHere.left, right: pressedBefore + pressedHere.right } }
}

const KIND_WORDS: Record<Measurement['kind'], string> = {
  width: 'width over webs',
  clearance: 'rod side clearance',
  play: 'big-end play',
  rod: 'rod',
  pin: 'pin',
  bore: 'bores',
  stack: 'webs, rod and washers',
  runout: 'runout',
  phase: 'angles of the throws',
  centre: 'swing of the middle',
}
const PHASE_WORDS: Record<Measurement['phase'], string> = {
  received: ', as received',
  kit: ' of the kit',
  building: ', on the way',
  built: '',
  second: ', second reading',
  third: ', third reading',
}

/** Sets that somebody decided not to read and nobody read later, each with its reason. */
function notReadOf(live: readonly Measurement[], bench: Bench): CertificateData['notRead'] {
  const sets = live.filter(
    (set, index) =>
      set.notReadBecause !== undefined &&
      !live.slice(index + 1).some((later) => later.kind === set.kind && later.phase === set.phase && later.joint === set.joint),
  )
  const of = ({ joint }: { joint?: Joint | undefined }) => (joint === undefined ? '' : `${jointWords(joint)}, `)
  const gauge = bench.pressings.filter((one) => one.notReadBecause !== undefined && one.struck === undefined)
  return [
    ...sets.map((set) => ({ what: `${of(set)}${KIND_WORDS[set.kind]}${PHASE_WORDS[set.phase]}`, why: set.notReadBecause! })),
    ...gauge.map((one) => ({ what: `press gauge, ${of(one)}${one.side} web ${one.direction}`, why: one.notReadBecause! })),
  ]
}

function sealedEnd({ setup }: Measurement, side: Side): SealedEnd {
  const words = side === 'left' ? setup!.surfaceLeft : setup!.surfaceRight
  const skipped = (side === 'left' ? setup!.skippedLeftDeg : setup!.skippedRightDeg) ?? []
  const says = skipped.length > 0 ? withKeywaySkipped(words) : words
  return {
    ...surfaceSaid(says),
    supportMm: side === 'left' ? setup!.supportLeftMm : setup!.supportRightMm,
    dialMm: side === 'left' ? setup!.dialLeftMm : setup!.dialRightMm,
    says,
  }
}

function stamp({ inShop }: Gathered, by: string, instant: string): Stamp {
  const { day, time } = inShop(instant)
  return { by, onDay: day, at: time }
}

function againOf(given: Gathered, set: Measurement, first: Measurement): AgainSet {
  return {
    ...stamp(given, set.by, set.occurredAt),
    left: swingOf(set, 'left')!,
    right: swingOf(set, 'right')!,
    samePerson: set.byId === first.byId,
    cold: set.setup?.cold ?? false,
    ...(set.temperatureC === undefined ? {} : { temperatureC: set.temperatureC }),
  }
}

function instrumentsOf({ instruments }: Gathered, sets: readonly (Measurement | undefined)[]): CertificateData['instruments'] {
  const used = new Set(sets.flatMap((set) => (set?.instrument === undefined ? [] : [set.instrument.id])))
  return instruments
    .filter((one) => used.has(one.id))
    .map((one) => ({ name: one.name, checkedOn: one.checkedOn ?? null, overdue: one.overdue }))
}

/** Whoever reported the work done: together for a rebuild and true for every kind that is trued. */
function builtBy(given: Gathered): Stamp[] {
  const reported = given.job.steps.filter((step) => step.step === 'together' || step.step === 'trued')
  const last = new Map(reported.map((step) => [step.by, step]))
  return [...last.values()].map((step) => stamp(given, step.by, step.at))
}

function clauses(text: string | undefined): string[] {
  return (text ?? '')
    .split(/[;\n]|, (?=\S)/)
    .map((clause) => clause.trim())
    .filter((clause) => clause !== '')
}
