import { expect, test } from 'vitest'
import type { Truing } from '#contract/truing.ts'
import { bestReachable } from '#core/truing-best.ts'
import { setOf, setup, swung, trueSet } from '#tests/web/truing/sample-bench.ts'
import { actOnPicture, amountWords, cautionFor, reachWords, saidMove } from '#web/features/truing/advice-words.ts'
import { faultLines, isOnSupports, lastTimeWords, type OnSupports } from '#web/features/truing/faults.ts'
import { moveSaid } from '#web/features/truing/last-move.ts'
import { tirText } from '#web/features/truing/tir-text.ts'

function sumOf(set: typeof swung): OnSupports {
  const sum = set.runout?.sum
  if (sum === undefined || !isOnSupports(sum)) throw new Error('this set has no sum of both ends')
  return sum
}

test('swing and pinched in plain words with their size, the rest too small to say (BENCH 9.9: swing shows at 3 and 9, opposite)', () => {
  const lines = faultLines(sumOf(swung).faults, setup, 50, 0.008)
  expect(
    lines.map((line) => [line.name, line.says.replace('\u00a0', ' '), line.mm === undefined ? 'too small' : tirText(line.mm, 0.01)]),
  ).toEqual([
    ['swing', 'Swing, right half towards mark 3', '0.12'],
    ['open', 'Pinched opposite the pin, at the rims', '0.04'],
    ['throw', 'Throw unequal', 'too small'],
    ['cocked', 'Pin cocked', 'too small'],
  ])
})

test('a right shaft nearer to the pin is the shorter throw', () => {
  const faults = { swingMm: 0, openRad: 0, throwMm: 0.1, cockedRad: 0.002 }
  const lines = faultLines(faults, setup, 50, 0.008)
  expect(lines[2]).toMatchObject({ says: 'Throw unequal, the left one the longer', mm: 0.1 })
  // 0.002 rad over a rim of 100 mm across.
  expect(lines[3]?.mm).toBeCloseTo(0.2, 12)
})

test('the sentence of the sum is cut into what goes before, the act, and the rest', () => {
  const [move] = sumOf(swung).moves
  const said = saidMove(move?.say ?? '')
  expect(said.before).toMatch(/^Dials back/)
  expect(said.act).toBe('Hold the left half, mark 3 up, and strike the right web at mark 3, light, copper or brass.')
  expect(said.rest).toBe('Then read again.')
  expect(saidMove('Leave it alone: both ends are within what is allowed.')).toEqual({
    act: 'Leave it alone: both ends are within what is allowed.',
  })
})

test('how far to go, where it is seen, and what can be reached', () => {
  const sum = sumOf(swung)
  const [move] = sum.moves
  if (move === undefined) throw new Error('no move')
  // Swing 0.1236; at the rim opposite the pin (50 + 31.2) / 31.2 times that, seen sideways.
  expect(amountWords(sum, move, 0.01)).toBe('0.12 mm to go, 0.31 seen sideways at the rim by mark 6.')
  expect(reachWords(sum, { leftMm: 0.008, rightMm: 0.008 }, 0.01)).toBe('Best it can reach: better than these dials read.')
  const stuck = { ...sum, bestReachable: bestReachable({ throwMm: 0.04, cockedRad: 0 }, setup) }
  expect(reachWords(stuck, { leftMm: 0.008, rightMm: 0.008 }, 0.01)).toBe('Best it can reach: left 0.04, right 0.04.')
  expect(actOnPicture(move)).toEqual({ atDeg: 90, words: 'right web' })
})

test('the caution stands where the hand strikes, and the lathe’s own where it is held in one', () => {
  const blow = { action: 'strike', half: 'right', atDeg: 90, amountMm: 0.3, say: '' } as const
  expect(cautionFor(blow, 'v-blocks-bare')).toMatch(/Glasses on.*never a steel hammer/)
  expect(cautionFor(blow, 'lathe-left')).toMatch(/^Lathe off at the switch/)
  expect(cautionFor({ action: 'part', amountMm: 0, say: '' }, 'v-blocks-bare')).toMatch(/nobody presses alone/)
  expect(cautionFor({ action: 'leave', amountMm: 0, say: '' }, 'v-blocks-bare')).toBeUndefined()
})

test('last time is said in one breath; a set that does not repeat says no fault', () => {
  expect(lastTimeWords(swung.runout, (mm) => tirText(mm, 0.01))).toBe('left 0.12, right 0.14, swing, and pinched opposite the pin')
  const off = setOf(swung.id, [0, 0.07, 0.02, -0.05, 0], [0, -0.06, 0.02, 0.08, 0.03])
  expect(lastTimeWords(off.runout, (mm) => tirText(mm, 0.01))).toMatch(/^left 0\.12, right 0\.1\d$/)
  expect(lastTimeWords(undefined, String)).toBeUndefined()
})

test('rounding never hides on which side of the limit a swing lies', () => {
  expect(tirText(0.0236, 0.01, 0.02)).toBe('0.024')
  expect(tirText(0.0164, 0.01, 0.02)).toBe('0.02')
  expect(tirText(trueSet.runout?.left?.tirMm ?? 1, 0.01, 0.02)).toBe('0.01')
})

type Move = Truing['moves'][number]

const made: Move = {
  id: '0198f3a0-0000-7000-8000-000000000401',
  beforeId: swung.id,
  action: 'strike',
  half: 'right',
  atDeg: 90,
  force: 'light',
  asAdvised: true,
  foretold: { leftTirMm: 0.02, rightTirMm: 0.02 },
  by: 'Jonas',
  occurredAt: '2026-12-02T12:41:00Z',
}

test('a move in words: what was done, foretold and came, and what the book says of it', () => {
  const came = { leftTirMm: 0.24, rightTirMm: 0.27 }
  const told = { turn: 'other-way', says: 'It went the other way.' } as const
  expect(moveSaid({ ...made, came, told }, 0.01)).toEqual({
    did: 'struck the right web at 3, light',
    came: 'Foretold left 0.02, right 0.02; came left 0.24, right 0.27.',
    told: 'It went the other way.',
  })
  expect(moveSaid(made, 0.01)).toEqual({ did: 'struck the right web at 3, light' })
  expect(moveSaid({ ...made, asAdvised: false }, 0.01).did).toBe('struck the right web at 3, light, not as advised')
})
