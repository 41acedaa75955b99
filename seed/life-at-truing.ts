/** What the bench does with a job from together to signed: truing it, welding it, the second reading, the sheet. */
import type { Faults } from '#core/truing-faults.ts'
import { issueSheet, type SheetMaker } from '#server/features/certificates/commands.ts'
import { weldPin } from '#server/features/pressings/commands.ts'
import { logMove } from '#server/features/truing/commands.ts'
import type { Act } from '#server/plugins/act.ts'
import type { Chance } from './chance.ts'
import { MINUTE } from './days.ts'
import { allot, endOfWork, momentsIn } from './diary.ts'
import { isTrue, onStep, scaled, shareOfLimit, turnThat, workedOut } from './faults.ts'
import { type Life, put, putOn, putSet, putStep, type Shop } from './life.ts'
import { playAsReceived, putWidth } from './life-at-the-bench.ts'
import { HANDS, type Hand } from './people.ts'
import { type Skill, type TruingStep, trueIt } from './truing-hand.ts'

export interface Truing {
  hand: Hand
  from: number
  hours: number
  faults: Faults
  skill: Skill
  widthMm: number
  stackMm: number | null
  /** It comes out so near the limit that the second reader finds it over. */
  borderline: boolean
}

/** Trues it, reads width, clearance and play again, and calls it true. Answers when, and what is left. */
export function putTruing(shop: Shop, life: Life, truing: Truing): { at: number; faults: Faults } {
  const { hand, from, hours, skill, widthMm, stackMm } = truing
  const by = HANDS[hand]
  const work = allot(shop.diaries[hand], { from, hours, jobId: life.id, work: 'truing' })
  const trued = trueIt(truing.faults, life.sheet, skill, life.chance.of('truing'))
  const faults = truing.borderline ? scaled(trued.faults, 1 / shareOfLimit(trued.faults, life.sheet)) : trued.faults
  const steps = truing.borderline ? endingAt(trued.steps, faults, life) : trued.steps
  const moments = momentsIn(work, steps.length * 2 - 1 + 3, life.chance)
  putSteps(shop, life, steps, moments, hand)
  const [width, clearance, play] = moments.slice(-3)
  putWidth(shop, life, { at: [width!, clearance!], by, faults, widthMm, stackMm, phase: 'built' })
  const playMm = life.kind === 'rebuild' ? onStep(life.chance.between(0.004, 0.016), 0.01) : playAsReceived(life)
  putSet(shop, life, play!, by, { kind: 'play', phase: 'built', values: [{ place: 'up-down', mm: playMm }], with: 'Dial 3' })
  const at = endOfWork(work) + 1000
  putStep(shop, life, at, by, 'trued')
  return { at, faults }
}

/** Readings and the moves between them. A turn without a move after it leaves its moment unused. */
export function putSteps(shop: Shop, life: Life, steps: readonly TruingStep[], moments: readonly number[], hand: Hand): void {
  const by = HANDS[hand]
  steps.forEach(({ values, dial, move }, index) => {
    const readAt = moments[2 * index]!
    const phase = index === steps.length - 1 && move === undefined ? 'built' : 'building'
    const beforeId = putSet(shop, life, readAt, by, { kind: 'runout', phase, values, with: dial })
    if (move === undefined) return
    const movedAt = moments[2 * index + 1]!
    const id = shop.newId(movedAt)
    putOn(shop, life, movedAt, by, (act) => logMove(act, life.id, { id, beforeId, ...move }))
  })
}

/** The last turn read anew of faults that lie at the limit: it still comes out inside. */
function endingAt(steps: readonly TruingStep[], faults: Faults, { sheet, chance }: Life): TruingStep[] {
  const last = { values: turnThat(isTrue, faults, sheet, 'Dial 4', chance.of('borderline')), dial: 'Dial 4' } as const
  return [...steps.slice(0, -1), last]
}

export function putWeld(shop: Shop, life: Life, hand: Hand, from: number): number {
  const work = allot(shop.diaries[hand], { from, hours: 0.6, jobId: life.id, work: 'welding' })
  const [at] = momentsIn(work, 1, life.chance)
  putOn(shop, life, at!, HANDS[hand], (act) =>
    weldPin(act, life.id, { id: shop.newId(at!), filler: '312 stainless, 1.6 mm', amps: 85, note: 'four tacks of 10 mm, outside face' }),
  )
  return endOfWork(work)
}

export interface Check {
  checker: Hand
  builder: Hand
  from: number
  faults: Faults
  borderline: boolean
  /** Of a report, whose limit nobody has to meet. */
  report?: boolean | undefined
}

/** The second reading, blind; where it is over, the builder's third. Answers when the readings were in. */
export function putCheck(shop: Shop, life: Life, check: Check): number {
  const { checker, builder, from, faults, borderline, report = false } = check
  const { sheet, chance } = life
  const own = chance.of('check')
  const work = allot(shop.diaries[checker], { from, hours: own.between(0.18, 0.34), jobId: life.id, work: 'checking' })
  const [at] = momentsIn(work, 1, own)
  const dial = 'Dial 4'
  const values = turnThat((figures) => report || borderline !== isTrue(figures), faults, sheet, dial, own)
  putSet(shop, life, at!, HANDS[checker], { kind: 'runout', phase: 'second', values, with: dial })
  if (report || isTrue(workedOut(values, sheet, dial))) return endOfWork(work)
  const again = allot(shop.diaries[builder], { from: endOfWork(work) + 5 * MINUTE, hours: 0.2, jobId: life.id, work: 'checking' })
  const [third] = momentsIn(again, 1, own)
  putSet(shop, life, third!, HANDS[builder], {
    kind: 'runout',
    phase: 'third',
    values: turnThat(isTrue, faults, sheet, dial, own),
    with: dial,
  })
  return endOfWork(again)
}

export function sheetMaker(shop: Shop, chance: Chance): SheetMaker {
  return {
    random: (count) => chance.bytes(count),
    checkPage: (number, code) => `${shop.address}/check?number=${number}&code=${code}`,
  }
}

/** The sheet, made and signed by whoever read it last. Answers its id. */
export function putSheet(shop: Shop, life: Life, at: number, signer: Hand): string {
  const id = shop.newId(at)
  const maker = sheetMaker(shop, life.chance.of('sheet'))
  put(shop, at, HANDS[signer], (act: Act) => issueSheet(act, life.id, { id }, maker))
  return id
}
