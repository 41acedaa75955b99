import { sinDegrees } from '#core/clock-angle.ts'
import type { RoundATurn } from '#core/readings-round-a-turn.ts'
import { isWithin, type Side } from '#core/runout-verdict.ts'
import type { SurfaceSaid } from '#core/surface-words.ts'

export const QUALITY_CODES = [
  'does-not-close',
  'marks-do-not-add-up',
  'rough',
  'oval',
  'keyway',
  'keyway-skipped',
  'thread',
  'spline',
  'taper',
  'spread',
  'warm',
] as const
export type QualityCode = (typeof QUALITY_CODES)[number]

/** What is not well about a reading, and what the hand does about it. */
export interface QualityFlag {
  code: QualityCode
  side?: Side
  /** The figure behind it, mm; for a keyway the degrees it takes. */
  figure?: number
  says: string
  do: string
}

export interface EndToJudge {
  side: Side
  /** Readings at marks, in the order taken; 12 again left out. */
  readings: readonly { clockDeg: number; mm: number }[]
  /** 12 again less 12, where it was read. */
  closesByMm?: number | undefined
  /** The fit of these readings, where it could be done. */
  turn?: Pick<RoundATurn, 'ovalMm' | 'residualMm'> | undefined
  /** From the support to the dial, mm. */
  dialMm: number
  surface: SurfaceSaid
  dialStepMm: number
  /** Marks left out because a keyway lies there. */
  skipped?: number
}

/** 12 read again repeats within this, or within half a division of a coarser dial. Common practice, no source. */
export const CLOSING_MM = 0.005
/** A shaft may wander so far endwise while it is turned by hand. Common practice, no source. */
const WANDER_MM = 0.05
const KEY_WIDTH_MM = 4

const digits = (mm: number, stepMm: number) => mm.toFixed(stepMm < 0.01 ? 3 : 2)

/**
 * What is not well about the readings of one end: 12 does not come back; the four marks do not add up, (12 + 6) − (3 + 9)
 * being nothing on a round shaft; five marks or more leave more than the dial can account for, or show an oval; the dial
 * stands on a keyway, thread, spline or taper. An empty list is a clean reading.
 *
 * @example endQuality({ side: 'left', readings: [{ clockDeg: 0, mm: 0.05 }, { clockDeg: 90, mm: 0 }, { clockDeg: 180, mm: 0.03 }, { clockDeg: 270, mm: 0 }], dialMm: 45, surface: { surface: 'plain' }, dialStepMm: 0.01 })[0].code // 'marks-do-not-add-up'
 *
 * Lengths mm. What is let pass: 12 again as `CLOSING_MM` or half a division; the check sum twice that, since it carries four
 * readings; the residual and the oval as much. Source: the harmonics of a round body off its axis (ISO 12181); the figures
 * of taper and keyway: geometry; what is let pass: common practice, no source.
 */
export function endQuality(end: EndToJudge): QualityFlag[] {
  const { side, dialStepMm } = end
  const letPassMm = Math.max(CLOSING_MM, dialStepMm / 2)
  const flags: QualityFlag[] = []
  if (end.closesByMm !== undefined && !isWithin(Math.abs(end.closesByMm), letPassMm))
    flags.push({
      code: 'does-not-close',
      side,
      figure: end.closesByMm,
      says: `12 came back ${digits(Math.abs(end.closesByMm), dialStepMm)} ${end.closesByMm > 0 ? 'higher' : 'lower'}.`,
      do: 'Look at the stand and the dial, let the crank settle over three turns, and read this end again.',
    })
  const checkMm = checkSum(end.readings)
  const oval = end.turn?.ovalMm
  if (oval !== undefined && !isWithin(oval, letPassMm))
    flags.push({
      code: 'oval',
      side,
      figure: oval,
      says: `Twice a turn it swings ${digits(2 * oval, dialStepMm)}: oval here, or a lobed seat.`,
      do: 'Move the dial to another ground place, or turn the crank on blocks of another angle, and compare.',
    })
  else if (oval === undefined && checkMm !== undefined && !isWithin(Math.abs(checkMm), 2 * letPassMm))
    flags.push({
      code: 'marks-do-not-add-up',
      side,
      figure: checkMm,
      says: `12 and 6 together differ from 3 and 9 together by ${digits(Math.abs(checkMm), dialStepMm)}: oval, a keyway, play in a bearing, or a dial that slipped.`,
      do: 'Read eight marks here, or move the dial along the shaft.',
    })
  if (end.turn !== undefined && oval !== undefined && !isWithin(end.turn.residualMm, letPassMm))
    flags.push({
      code: 'rough',
      side,
      figure: end.turn.residualMm,
      says: `The marks stray ${digits(end.turn.residualMm, dialStepMm)} from a round turn.`,
      do: 'Stone the burrs off, wipe the shaft, and read again; skip a mark that lies in a slot.',
    })
  return [...flags, ...skippedFlags(end), ...surfaceFlags(end)]
}

/** The fit of three marks goes through all of them, so that it can be wrong and leave nothing. */
const MARKS_THAT_CHECK = 4

function skippedFlags({ side, readings, skipped = 0 }: EndToJudge): QualityFlag[] {
  if (skipped === 0) return []
  const marks = new Set(readings.map(({ clockDeg }) => clockDeg)).size
  return [
    {
      code: 'keyway-skipped',
      side,
      figure: skipped,
      says: `${skipped === 1 ? 'One mark' : `${skipped} marks`} skipped for the keyway.`,
      do:
        marks < MARKS_THAT_CHECK
          ? `${marks} marks leave nothing to check the reading by: read at eight.`
          : `The swing comes from the other ${marks}.`,
    },
  ]
}

/** (12 + 6) − (3 + 9): nothing on a round shaft, wherever its axis runs. Undefined unless all four marks were read. */
function checkSum(readings: EndToJudge['readings']): number | undefined {
  const at = (mark: number) => readings.find(({ clockDeg }) => clockDeg === mark)?.mm
  const [twelve, three, six, nine] = [at(0), at(90), at(180), at(270)]
  if (twelve === undefined || three === undefined || six === undefined || nine === undefined) return undefined
  return twelve + six - (three + nine)
}

function surfaceFlags({ side, dialMm, surface, skipped = 0 }: EndToJudge): QualityFlag[] {
  const flags: QualityFlag[] = []
  const place = surfaceUnder(Math.abs(dialMm), surface)
  if (place === 'thread')
    flags.push({
      code: 'thread',
      side,
      says: 'The dial stands on a thread: its crests jump.',
      do: 'Use it only to get close; read the last on a plain ground place.',
    })
  if (place === 'spline')
    flags.push({
      code: 'spline',
      side,
      says: 'The dial stands on a spline, which is not cut on the centre of the seat.',
      do: 'Move the dial to a plain ground place.',
    })
  if (place === 'taper') {
    const figure = WANDER_MM / (2 * (surface.taper ?? 5))
    flags.push({
      code: 'taper',
      side,
      figure,
      says: `On this taper of 1:${surface.taper ?? 5} a shaft that wanders ${WANDER_MM} endwise reads ${figure.toFixed(4)} more.`,
      do: 'Hold the shaft against an end stop, dial square to the taper.',
    })
  }
  const { keyway } = surface
  if (skipped === 0 && keyway !== undefined && Math.abs(dialMm) >= keyway.fromMm && Math.abs(dialMm) <= keyway.toMm) {
    const figure = keywayDegrees(KEY_WIDTH_MM, surface.diameterMm ?? 20)
    flags.push({
      code: 'keyway',
      side,
      figure,
      says: `A keyway runs under this dial and takes about ${Math.round(figure)}° of the turn.`,
      do: 'Skip the mark that lies in it; never take a mean across it.',
    })
  }
  return flags
}

/** What lies under a dial so far out from its support, mm: what follows further out counts from where it begins. */
export function surfaceUnder(dialMm: number, surface: SurfaceSaid): SurfaceSaid['surface'] {
  const beyond = (surface.further ?? []).filter(({ fromMm }) => dialMm >= fromMm)
  return beyond.at(-1)?.surface ?? surface.surface
}

/**
 * How much of a turn a keyway takes from a dial.
 *
 * @example keywayDegrees(4, 20).toFixed(0) // '23'
 *
 * Width and diameter mm, the width less than the diameter; refuses others (RangeError). Source: the chord of a circle.
 */
export function keywayDegrees(widthMm: number, diameterMm: number): number {
  if (!(widthMm > 0 && widthMm < diameterMm)) throw new RangeError('keywayDegrees needs a width over 0 and under the diameter')
  return (2 * Math.asin(widthMm / diameterMm) * 180) / Math.PI
}

/**
 * Whether sets that were read one after the other, nothing done between, repeat: the range of their full swings at one end.
 *
 * @example repeatFlag('left', [0.03, 0.031, 0.05], 0.01)?.code // 'spread'
 *
 * `worthMm`: what one set is worth; the ranges of two, three and more sets are let pass up to 1.4, 1.7 and 1.9 of it (range
 * of as many draws whose 95 % half-width is the worth). Null for a single set and for sets that repeat.
 * Source: expected range of normal samples, d2 of control charts (1.128, 1.693, 2.059), from memory, with its own spread.
 */
export function repeatFlag(side: Side, swingsMm: readonly number[], worthMm: number): QualityFlag | null {
  if (swingsMm.length < 2) return null
  const range = Math.max(...swingsMm) - Math.min(...swingsMm)
  const factor = swingsMm.length === 2 ? 1.4 : swingsMm.length === 3 ? 1.7 : 1.9
  if (isWithin(range, factor * worthMm)) return null
  return {
    code: 'spread',
    side,
    figure: range,
    says: `${swingsMm.length} sets in a row differ by ${range.toFixed(3)} here.`,
    do: 'Wash, oil the seats, seat it again, and read on the same turn direction: half of what will not come is the measuring.',
  }
}

/** The angle of a dial's finger to the surface makes it read too much: true = read × cosine. Source: geometry of a lever. */
export function fingerDialFactor(angleDeg: number): number {
  if (!(angleDeg >= 0 && angleDeg < 90)) throw new RangeError('fingerDialFactor needs an angle from 0 to under 90 degrees')
  return sinDegrees(90 - angleDeg)
}
