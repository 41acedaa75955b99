import type { Faults, SetUp } from '#core/truing-faults.ts'
import type { TruingMove } from '#core/truing-moves.ts'

/**
 * A crank of two rigid halves in three dimensions, turned under two dials. It knows nothing of the formulas that it
 * checks: shafts are lines in space, a dial is a plane and a direction, a blow is a force with a moment about the pin.
 * Space: x from left to right, y towards the pin, z towards mark 3.
 */
export type Point = readonly [number, number, number]

/** A shaft's axis: the point where it crosses the crank's centre, and its direction. */
interface Shaft {
  centre: Point
  along: Point
}

export interface RigidCrank {
  left: Shaft
  right: Shaft
  throwRadius: number
}

export function crankWith(faults: Faults, strokeMm: number): RigidCrank {
  const right: Shaft = { centre: [0, faults.throwMm, faults.swingMm], along: unit([1, faults.openRad, faults.cockedRad]) }
  return { left: { centre: [0, 0, 0], along: [1, 0, 0] }, right, throwRadius: strokeMm / 2 }
}

/** Readings of both dials with each mark brought under them. */
export function readAt(crank: RigidCrank, setUp: SetUp, marks: readonly number[]): { left: number[]; right: number[] } {
  const restLeft = pointAt(crank.left, -setUp.supportLeftMm)
  const restRight = pointAt(crank.right, setUp.supportRightMm)
  const axis = unit(minus(restRight, restLeft))
  const dial = (shaft: Shaft, x: number, mark: number) => {
    const angle = (mark * Math.PI) / 180
    // The dial stands above; to bring a mark under it the whole crank is turned about the line through its supports.
    const turned = (point: Point) => plus(restLeft, turnedAbout(axis, minus(point, restLeft), -angle))
    const planeAt = plus(restLeft, times(axis, x + setUp.supportLeftMm))
    const shaftCentre = meetPlane(turned(shaft.centre), turnedAbout(axis, shaft.along, -angle), planeAt, axis)
    const up = unit(minus([0, 1, 0], times(axis, dot([0, 1, 0], axis))))
    return dot(minus(shaftCentre, planeAt), up)
  }
  return {
    left: marks.map((mark) => dial(crank.left, -(setUp.supportLeftMm + setUp.dialLeftMm), mark)),
    right: marks.map((mark) => dial(crank.right, setUp.supportRightMm + setUp.dialRightMm, mark)),
  }
}

/** Full swing of both dials over a turn, by looking at every degree. */
export function fullSwings(crank: RigidCrank, setUp: SetUp): { left: number; right: number } {
  const marks = Array.from({ length: 360 }, (_, degree) => degree)
  const { left, right } = readAt(crank, setUp, marks)
  return { left: Math.max(...left) - Math.min(...left), right: Math.max(...right) - Math.min(...right) }
}

/** Does what a move says, as far as it says. */
export function afterMove(crank: RigidCrank, move: TruingMove, rimRadiusMm: number): RigidCrank {
  if (move.action === 'strike') return struck(crank, move, rimRadiusMm)
  if (move.action === 'squeeze' || move.action === 'wedge') return tilted(crank, move, rimRadiusMm)
  return crank
}

/** The struck half turns about the pin, the way in which the force has its moment, until its rim opposite the pin has gone the amount. */
function struck(crank: RigidCrank, move: TruingMove, rimRadiusMm: number): RigidCrank {
  const half = move.half!
  const shaft = crank[half]
  const at = (move.atDeg! * Math.PI) / 180
  const outward: Point = [0, Math.cos(at), Math.sin(at)]
  const blow = plus(shaft.centre, times(outward, rimRadiusMm))
  const force = times(outward, -1)
  const pin: Point = [0, crank.throwRadius, 0]
  const moment = cross(minus(blow, pin), force)[0]
  const angle = (Math.sign(moment) * move.amountMm) / (rimRadiusMm + crank.throwRadius)
  const turn = (point: Point) => plus(pin, turnedAbout([1, 0, 0], minus(point, pin), angle))
  return { ...crank, [half]: { centre: turn(shaft.centre), along: turnedAbout([1, 0, 0], shaft.along, angle) } }
}

/** The right half hinges at the pin, so that the rims come nearer (squeeze) or further apart (wedge) opposite it. */
function tilted(crank: RigidCrank, move: TruingMove, rimRadiusMm: number): RigidCrank {
  const pin: Point = [0, crank.throwRadius, 0]
  const angle = ((move.action === 'squeeze' ? -1 : 1) * move.amountMm) / (2 * rimRadiusMm)
  const turn = (point: Point) => plus(pin, turnedAbout([0, 0, 1], minus(point, pin), angle))
  const right = { centre: turn(crank.right.centre), along: turnedAbout([0, 0, 1], crank.right.along, angle) }
  return { ...crank, right: { ...right, centre: meetPlane(right.centre, right.along, [0, 0, 0], [1, 0, 0]) } }
}

/** Gap between the web faces at a height towards the pin, against the gap at the crank's centre: + is wider. */
export function gapAt(crank: RigidCrank, height: number): number {
  const [x, y] = crank.right.along
  return (-height * y) / x
}

function pointAt(shaft: Shaft, x: number): Point {
  return meetPlane(shaft.centre, shaft.along, [x, 0, 0], [1, 0, 0])
}

function meetPlane(from: Point, along: Point, plane: Point, normal: Point): Point {
  return plus(from, times(along, dot(minus(plane, from), normal) / dot(along, normal)))
}

/** Rodrigues' formula. */
function turnedAbout(axis: Point, v: Point, angle: number): Point {
  const [cos, sin] = [Math.cos(angle), Math.sin(angle)]
  return plus(plus(times(v, cos), times(cross(axis, v), sin)), times(axis, dot(axis, v) * (1 - cos)))
}

function plus(a: Point, b: Point): Point {
  return [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}
function minus(a: Point, b: Point): Point {
  return [a[0] - b[0], a[1] - b[1], a[2] - b[2]]
}
function times(a: Point, k: number): Point {
  return [a[0] * k, a[1] * k, a[2] * k]
}
function dot(a: Point, b: Point): number {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}
function cross(a: Point, b: Point): Point {
  return [a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]]
}
function unit(a: Point): Point {
  return times(a, 1 / Math.sqrt(dot(a, a)))
}
