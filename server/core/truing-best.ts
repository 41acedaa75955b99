import type { Faults, SetUp } from '#core/truing-faults.ts'

/** What is allowed at each end, full swing of the dial in mm. */
export interface EndLimits {
  leftMm: number
  rightMm: number
}

/** The best that strikes, wedges and squeezes can still give while throw and cocked stay as they are. */
export interface BestReachable {
  leftTirMm: number
  rightTirMm: number
  swingMm: number
  openRad: number
}

const EVEN: EndLimits = { leftMm: 1, rightMm: 1 }

/**
 * The least worst-end full swing that swing and open can still give, and the swing and open that give it; with two
 * limits the least greater of full swing over limit.
 *
 * The dual of that least-worst problem has one unknown x, the share of throw against cocked in what stands in the way:
 * worst = max over 0 ≤ x ≤ 1 of reach(x) / play(x), reach falling on a straight line and play convex. The quotient has
 * one summit, found where its derivative changes sign.
 *
 * @example bestReachable({ throwMm: 0.02, cockedRad: 0 }, { supportLeftMm: 40, supportRightMm: 40, dialLeftMm: 50, dialRightMm: 50 }).leftTirMm.toFixed(4) // '0.0250'
 *
 * Lengths mm, angles radians. Source: convex duality, worked for this book; proved against a nested search in the tests.
 */
export function bestReachable(faults: Pick<Faults, 'throwMm' | 'cockedRad'>, setUp: SetUp, limits: EndLimits = EVEN): BestReachable {
  const { supportLeftMm: a, supportRightMm: b, dialLeftMm: p, dialRightMm: q } = setUp
  const k = (a + b) / 2
  const size = Math.abs(faults.throwMm) + Math.abs(faults.cockedRad) * k
  if (size === 0) return { leftTirMm: 0, rightTirMm: 0, swingMm: 0, openRad: 0 }
  const greatest = Math.max(limits.leftMm, limits.rightMm)
  const weightLeft = greatest > 0 ? limits.leftMm / greatest : 1
  const weightRight = greatest > 0 ? limits.rightMm / greatest : 1
  const gainLeft = weightLeft / Math.abs(p)
  const gainRight = weightRight / Math.abs(q)
  const throwShare = Math.abs(faults.throwMm) / size
  const x = summit(throwShare, a, b, k, gainLeft, gainRight)

  const lengthLeft = length(a * (1 - x), k * x)
  const lengthRight = length(b * (1 - x), k * x)
  const reach = throwShare * (1 - x) + (1 - throwShare) * x
  const worst = (2 * size * reach) / (lengthLeft * gainLeft + lengthRight * gainRight)
  const leftTirMm = worst * weightLeft
  const rightTirMm = worst * weightRight
  // Tilt of each shaft against the axis of turning: half the full swing over the dial's distance, along the arrow of the dual.
  const tiltLeft = leftTirMm / 2 / Math.abs(p) / lengthLeft
  const tiltRight = rightTirMm / 2 / Math.abs(q) / lengthRight
  const towardsPin = (1 - x) * Math.sign(faults.throwMm)
  const towardsThree = k * x * Math.sign(faults.cockedRad)
  return {
    leftTirMm,
    rightTirMm,
    swingMm: (a * tiltLeft - b * tiltRight) * towardsThree,
    openRad: (a * tiltLeft - b * tiltRight) * towardsPin,
  }
}

/** Of two legs that are neither huge nor tiny, for which Math.hypot takes many times as long. */
function length(one: number, other: number): number {
  return Math.sqrt(one * one + other * other)
}

/** Where reach(x)/play(x) is greatest: Newton's steps on the sign of its derivative, kept inside a shrinking bracket. */
function summit(throwShare: number, a: number, b: number, k: number, gainLeft: number, gainRight: number): number {
  if (throwShare === 0) return 1
  if (throwShare === 1) return 0
  const rise = 1 - 2 * throwShare
  let low = 0
  let high = 1
  let x = 1 - throwShare
  for (let step = 0; step < 200; step++) {
    const left = length(a * (1 - x), k * x)
    const right = length(b * (1 - x), k * x)
    const reach = throwShare * (1 - x) + (1 - throwShare) * x
    const play = left * gainLeft + right * gainRight
    const playRise = ((k * k * x - a * a * (1 - x)) / left) * gainLeft + ((k * k * x - b * b * (1 - x)) / right) * gainRight
    const slope = rise * play - reach * playRise
    if (slope > 0) low = x
    else high = x
    const bend = reach * (((a * k) ** 2 / left ** 3) * gainLeft + ((b * k) ** 2 / right ** 3) * gainRight)
    const newton = x + slope / bend
    const next = newton > low && newton < high ? newton : (low + high) / 2
    if (Math.abs(next - x) <= Number.EPSILON) return next
    x = next
  }
  return x
}
