/** The joints of a crank with several throws: the pin of each throw, and each shaft between two throws. From left to right. */
export const JOINTS = [
  'throw-1',
  'throw-2',
  'throw-3',
  'throw-4',
  'throw-5',
  'throw-6',
  'centre-1',
  'centre-2',
  'centre-3',
  'centre-4',
  'centre-5',
] as const
export type Joint = (typeof JOINTS)[number]

export const THROWS_MOST = 6
/** How the middle of a crank is made: a shaft pressed into the webs beside it, or of one piece with one of them. */
export const CENTRES = ['pressed', 'integral'] as const

/** Something that sits between webs and goes in before they are pressed together. */
export interface TrappedPart {
  what: string
  /** Between which webs. */
  between: string
}

/** How a crank is put together, as its model sheet says. Angles in degrees, lengths in mm. */
export interface CrankBuild {
  throws: number
  rodsOnAPin: number
  /** Where each throw stands from throw 1, clockwise from the right-hand end; the first is 0. */
  phaseDeg: readonly number[]
  /** By how much an angle may be out, either way. */
  phaseLimitDeg?: number | undefined
  /** Full swing of a dial that is allowed at the middle of the crank. */
  centreLimitMm?: number | undefined
  centre?: (typeof CENTRES)[number] | undefined
  trapped: readonly TrappedPart[]
}

/** Something of a build that does not go together. */
export interface BuildFault {
  /** Where in the build: a name, and for a list the place in it. */
  path: readonly (string | number)[]
  detail: string
}

/** Whether a crank has more than one throw; a sheet that says nothing is one throw. @example hasSeveralThrows(null) // false */
export function hasSeveralThrows(build: CrankBuild | null): build is CrankBuild {
  return build !== null && build.throws > 1
}

/** The throws of a crank with several, from the left; none of a crank with one. @example throwsOf({ throws: 2, rodsOnAPin: 1, phaseDeg: [0, 180], trapped: [] }) // ['throw-1', 'throw-2'] */
export function throwsOf(build: CrankBuild | null): Joint[] {
  return hasSeveralThrows(build) ? JOINTS.slice(0, build.throws) : []
}

/** The shafts between the throws that are pressed, from the left. @example centresOf({ throws: 2, rodsOnAPin: 1, phaseDeg: [0, 180], centre: 'pressed', trapped: [] }) // ['centre-1'] */
export function centresOf(build: CrankBuild | null): Joint[] {
  return hasSeveralThrows(build) && build.centre === 'pressed' ? JOINTS.slice(THROWS_MOST, THROWS_MOST + build.throws - 1) : []
}

/** Every joint that is pressed, throws first. @example jointsOf(null) // [] */
export function jointsOf(build: CrankBuild | null): Joint[] {
  return [...throwsOf(build), ...centresOf(build)]
}

/** Whether a joint is the pin of a throw. @example isThrow('centre-1') // false */
export function isThrow(joint: Joint): boolean {
  return joint.startsWith('throw')
}

/** A joint as it is said. @example jointWords('centre-1') // 'Centre 1–2' */
export function jointWords(joint: Joint): string {
  const number = Number(joint.slice(-1))
  return isThrow(joint) ? `Throw ${number}` : `Centre ${number}–${number + 1}`
}

/**
 * What is wrong with a build: throws out of 1 to 6, one or two rods on a pin, an angle for each throw with the first at 0
 * and all from 0 to under 360, limits that a crank with several throws needs, and a part named twice.
 *
 * Refuses (RangeError) figures that are not finite. Source: common practice, no source.
 *
 * @example buildFaults({ throws: 2, rodsOnAPin: 1, phaseDeg: [0], phaseLimitDeg: 0.5, centreLimitMm: 0.04, centre: 'pressed', trapped: [] })[0].path // ['phaseDeg']
 */
export function buildFaults(build: CrankBuild): BuildFault[] {
  const { throws, rodsOnAPin, phaseDeg, phaseLimitDeg, centreLimitMm, centre, trapped } = build
  if (![throws, rodsOnAPin, ...phaseDeg, phaseLimitDeg ?? 0, centreLimitMm ?? 0].every(Number.isFinite))
    throw new RangeError('buildFaults needs finite figures')
  const faults: BuildFault[] = []
  const fault = (path: BuildFault['path'], detail: string) => faults.push({ path, detail })
  if (!Number.isInteger(throws) || throws < 1 || throws > THROWS_MOST) fault(['throws'], `From 1 to ${THROWS_MOST} throws.`)
  if (rodsOnAPin !== 1 && rodsOnAPin !== 2) fault(['rodsOnAPin'], 'One rod on a pin, or two.')
  if (phaseDeg.length !== throws) fault(['phaseDeg'], `Give the angle of each throw: ${throws} of them, the first 0.`)
  phaseDeg.forEach((angle, place) => {
    if (place === 0 && angle !== 0) fault(['phaseDeg', 0], 'Angles are counted from throw 1: its own is 0.')
    else if (angle < 0 || angle >= 360) fault(['phaseDeg', place], 'From 0° to under 360°.')
  })
  if (throws > 1) {
    if (phaseLimitDeg === undefined) fault(['phaseLimitDeg'], 'Say by how much an angle may be out.')
    if (centreLimitMm === undefined) fault(['centreLimitMm'], 'Say what the middle may swing.')
    if (centre === undefined) fault(['centre'], 'Say whether the middle is pressed or of one piece.')
  }
  trapped.forEach(({ what }, place) => {
    if (trapped.findIndex((other) => isSamePart(other.what, what)) < place) fault(['trapped', place, 'what'], 'This part is named already.')
  })
  return faults
}

function isSamePart(one: string, other: string): boolean {
  return one.trim().toLowerCase() === other.trim().toLowerCase()
}
