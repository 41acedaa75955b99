/** A crank that let go again after it was called true: the second reader found it, and the owner took it a step back. */
import type { Faults } from '#core/truing-faults.ts'
import { takeBack } from '#server/features/steps/commands.ts'
import { openAfter } from './days.ts'
import { allot, momentsIn } from './diary.ts'
import { faultsThatSwing, isTrue, turnThat } from './faults.ts'
import { type Life, putOn, putSet, type Shop } from './life.ts'
import { putSteps } from './life-at-truing.ts'
import { EWA, HANDS } from './people.ts'
import { trueHalfway } from './truing-hand.ts'

const LET_GO_TO_MM = 0.07

/** From a moment on: the second reading, the step back, and a few moves that have not got it true yet. */
export function putLetGo(shop: Shop, { life }: { life: Life; faults: Faults }, from: number): void {
  const { builder, checker, chance, sheet } = life
  const own = chance.of('let go')
  const faults = faultsThatSwing(LET_GO_TO_MM, sheet, own, true)
  const checking = allot(shop.diaries[checker], { from, hours: 0.25, jobId: life.id, work: 'checking' })
  const [readAt] = momentsIn(checking, 1, own)
  const values = turnThat((figures) => !isTrue(figures), faults, sheet, 'Dial 4', own)
  putSet(shop, life, readAt!, HANDS[checker], { kind: 'runout', phase: 'second', values, with: 'Dial 4' })
  const backAt = openAfter(readAt!, 0.2)
  const reason = 'the right web let go again overnight: it swings 0.07 where it was true'
  putOn(shop, life, backAt, EWA, (act) => takeBack(act, life.id, { to: 'together', reason }))
  const truing = allot(shop.diaries[builder], { from: openAfter(backAt, 0.3), hours: 0.6, jobId: life.id, work: 'truing' })
  const steps = trueHalfway(faults, sheet, { moves: 9, reversal: 0.2, ownWay: 0.2 }, own, 3)
  putSteps(shop, life, steps, momentsIn(truing, steps.length * 2, own), builder)
}
