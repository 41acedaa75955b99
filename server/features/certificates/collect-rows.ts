/** The rows of a sheet: each figure as received and now, its give-or-take, what is allowed, and the verdict. */
import type { Engine, EngineFigureName } from '#contract/engines.ts'
import type { Measurement } from '#contract/measurements.ts'
import type { RunoutFigures } from '#contract/runout-figures.ts'
import { isSamePlace } from '#core/bench/limit-words.ts'
import type { CertificateData, Figured, RunoutRow, SealedThrow, SealedWorth, WidthRow, WindowRow } from '#core/certificate.ts'
import { endVerdict, windowVerdict } from '#core/certificate-verdict.ts'
import type { GuardRule, Side } from '#core/runout-verdict.ts'

/** Give-or-take of a width, a side clearance by feelers and a big-end play: table figures, common practice, no source. */
const GIVE_OR_TAKE_MM = { width: 0.01, clearance: 0.02, play: 0.01 } as const
const STEP_MM = { width: 0.01, clearance: 0.01, play: 0.01 } as const

type Kind = 'width' | 'clearance' | 'play'

const NEEDED_TO_DRAW = ['strokeMm', 'widthMinMm', 'widthMaxMm', 'engagementMm', 'pinDiameterMm'] as const

export function shapeOf(engine: Engine): Pick<CertificateData, 'shape'> {
  const figure = figuresOf(engine)
  if (NEEDED_TO_DRAW.some((name) => figure(name) === undefined)) return {}
  const pinLengthMm = figure('pinLengthMm')
  const rimRadiusMm = figure('rimRadiusMm')
  const one = {
    atMm: 0,
    widthMm: (figure('widthMinMm')! + figure('widthMaxMm')!) / 2,
    engagementMm: figure('engagementMm')!,
    pinDiameterMm: figure('pinDiameterMm')!,
    ...(pinLengthMm === undefined ? {} : { pinLengthMm }),
  }
  return { shape: { strokeMm: figure('strokeMm')!, throws: [one], ...(rimRadiusMm === undefined ? {} : { rimRadiusMm }) } }
}

export function figuresOf(engine: Engine): (name: EngineFigureName) => number | undefined {
  const byName = new Map(engine.figures.map((figure) => [figure.name, figure.value]))
  return (name) => byName.get(name)
}

export function swingOf(set: Measurement | undefined, side: Side): Figured | undefined {
  if (set === undefined) return undefined
  if (set.notReadBecause !== undefined) return { notRead: set.notReadBecause }
  const end = set.runout?.[side]
  return end === undefined ? { notRead: 'this end was not read' } : { mm: end.tirMm, stepMm: set.instrument?.stepMm ?? 0.01 }
}

function runoutRow(engine: Engine, rule: GuardRule, side: Side, final: Measurement, received: Measurement | undefined): RunoutRow {
  const asReceived = swingOf(received, side)
  const swing = swingOf(final, side)!
  const limits = final.runout?.limits
  const houseLimitMm = side === 'left' ? limits?.leftMm : limits?.rightMm
  const giveOrTakeMm = side === 'left' ? final.runout?.giveOrTake.leftMm : final.runout?.giveOrTake.rightMm
  // The maker's limit stands at the place the sheet names; where the crank lay as it says, it is carried to this dial.
  const stated = figuresOf(engine)(side === 'left' ? 'limitMakerLeftMm' : 'limitMakerRightMm')
  const carried = side === 'left' ? limits?.makerLeftMm : limits?.makerRightMm
  const makerMm = carried ?? stated
  const samePlace = carried !== undefined
  const stood = side === 'left' ? final.setup?.dialLeftMm : final.setup?.dialRightMm
  const dialMm = samePlace ? stood : figuresOf(engine)(side === 'left' ? 'dialLeftMm' : 'dialRightMm')
  const given = limits?.given?.[side]
  const elsewhere = given === undefined || stood === undefined || isSamePlace(given, { dialMm: stood }) ? undefined : given
  return {
    ...(asReceived === undefined ? {} : { asReceived }),
    final: swing,
    ...(giveOrTakeMm === undefined ? {} : { giveOrTakeMm }),
    ...(houseLimitMm === undefined ? {} : { houseLimitMm }),
    ...(elsewhere === undefined ? {} : { houseLimitGiven: { limitMm: elsewhere.limitMm, dialMm: elsewhere.dialMm } }),
    ...(makerMm === undefined || dialMm === undefined
      ? {}
      : {
          makerLimit: {
            mm: makerMm,
            place: `at ${Math.abs(dialMm)} mm ${dialMm > 0 ? 'out' : 'in'} from its support`,
            samePlace,
            ...(elsewhere?.makerMm === undefined ? {} : { given: { limitMm: elsewhere.makerMm, dialMm: elsewhere.dialMm } }),
          },
        }),
    verdict:
      'notRead' in swing || giveOrTakeMm === undefined
        ? 'not-read'
        : endVerdict({
            tirMm: swing.mm,
            giveOrTakeMm,
            rule,
            ...(houseLimitMm === undefined ? {} : { houseLimitMm }),
            ...(makerMm === undefined || !samePlace ? {} : { makerLimitMm: makerMm }),
          }),
  }
}

export type SetsOfSheet = { [Name in 'width' | 'clearance' | 'play']?: Measurement | undefined }

/** The rows of both ends, judged by the rule of the shop on the day the sheet is made. */
export function endRows(
  engine: Engine,
  rule: GuardRule,
  { now, before }: { now: Measurement; before: Measurement | undefined },
): Pick<CertificateData, 'left' | 'right'> {
  return { left: runoutRow(engine, rule, 'left', now, before), right: runoutRow(engine, rule, 'right', now, before) }
}

/** The rows of one throw, by the same rule. */
export function throwRows(
  engine: Engine,
  rule: GuardRule,
  { now, before }: { now: SetsOfSheet; before: SetsOfSheet },
): Pick<SealedThrow, 'width' | 'sideClearance' | 'bigEndPlay'> {
  return {
    width: widthRow(engine, rule, now.width, before.width),
    sideClearance: windowRow(engine, rule, 'clearance', now.clearance, before.clearance),
    bigEndPlay: windowRow(engine, rule, 'play', now.play, before.play),
  }
}

/** The budget of an end that was read, greatest part first; none of a set whose give-or-take came from a table. */
export function worthOf(figures: RunoutFigures | undefined, side: Side): Partial<Record<Side, SealedWorth>> {
  const worth = figures?.worth?.[side]
  if (worth === undefined || figures?.[side] === undefined) return {}
  return { [side]: { k: worth.k, parts: [...worth.parts].sort((one, other) => other.share - one.share) } }
}

const stepOf = (set: Measurement, kind: Kind) => set.instrument?.stepMm ?? STEP_MM[kind]

function meanOf(set: Measurement | undefined, kind: Kind): Figured | undefined {
  if (set === undefined) return undefined
  if (set.notReadBecause !== undefined) return { notRead: set.notReadBecause }
  const values = set.values.map((value) => value.mm)
  return { mm: values.reduce((sum, mm) => sum + mm, 0) / values.length, stepMm: stepOf(set, kind) }
}

function allowedOf(engine: Engine, kind: Kind): WindowRow['allowed'] {
  const [least, most] = (
    { width: ['widthMinMm', 'widthMaxMm'], clearance: ['clearanceMinMm', 'clearanceMaxMm'], play: [undefined, 'playLimitMm'] } as const
  )[kind]
  const max = engine.figures.find((figure) => figure.name === most)
  const min = engine.figures.find((figure) => figure.name === least)
  if (max === undefined || (least !== undefined && min === undefined)) return undefined
  return { ...(min === undefined ? {} : { minMm: min.value }), maxMm: max.value, whose: max.source === 'makers-book' ? 'makers' : 'ours' }
}

function widthRow(engine: Engine, rule: GuardRule, final: Measurement | undefined, received: Measurement | undefined): WidthRow {
  const asReceived = meanOf(received, 'width')
  const allowed = allowedOf(engine, 'width')
  const base = { ...(asReceived === undefined ? {} : { asReceived }), ...(allowed === undefined ? {} : { allowed }) }
  if (final === undefined) return { ...base, verdict: 'not-read' }
  if (final.notReadBecause !== undefined) return { ...base, final: { notRead: final.notReadBecause }, verdict: 'not-read' }
  const placesMm = final.values.map((value) => value.mm)
  return {
    ...base,
    final: { placesMm, stepMm: stepOf(final, 'width') },
    giveOrTakeMm: GIVE_OR_TAKE_MM.width,
    verdict: allowed === undefined ? 'no-limit' : windowVerdict({ mm: placesMm, giveOrTakeMm: GIVE_OR_TAKE_MM.width, rule, ...allowed }),
  }
}

function windowRow(
  engine: Engine,
  rule: GuardRule,
  kind: 'clearance' | 'play',
  final: Measurement | undefined,
  received: Measurement | undefined,
): WindowRow {
  const asReceived = meanOf(received, kind)
  const allowed = allowedOf(engine, kind)
  const now = meanOf(final, kind)
  const base = {
    ...(asReceived === undefined ? {} : { asReceived }),
    ...(allowed === undefined ? {} : { allowed }),
    ...(now === undefined ? {} : { final: now }),
  }
  if (final === undefined || now === undefined || 'notRead' in now) return { ...base, verdict: 'not-read' }
  const giveOrTakeMm = GIVE_OR_TAKE_MM[kind]
  const mm = final.values.map((value) => value.mm)
  return { ...base, giveOrTakeMm, verdict: allowed === undefined ? 'no-limit' : windowVerdict({ mm, giveOrTakeMm, rule, ...allowed }) }
}
