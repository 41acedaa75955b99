/** Cranks with several throws in the demo shop: what is read of them as they come in, and how they come apart joint by joint. */
import type { PressingNew } from '#contract/pressings.ts'
import { hasSeveralThrows, type Joint, jointsOf, throwsOf } from '#core/crank-build.ts'
import type { Side } from '#core/runout-verdict.ts'
import { pressWeb } from '#server/features/pressings/commands.ts'
import type { Caller } from '#server/plugins/act.ts'
import type { Chance } from './chance.ts'
import { allot, endOfWork, momentsIn } from './diary.ts'
import { onStep } from './faults.ts'
import { micrometerFor } from './instruments.ts'
import { type Life, putOn, putSet, putStep, type SetWanted, type Shop } from './life.ts'
import type { ModelSheet } from './model-sheets.ts'
import { type Parts, partsOf } from './parts.ts'
import { HANDS, type Hand } from './people.ts'

const SIDES: readonly Side[] = ['left', 'right']
/** The middle is a smaller shaft than the pins, and goes lighter, t. Invented. */
const CENTRE_PEAK_T = { least: 2.6, most: 4.4 } as const

export function isTwin({ asAdded }: ModelSheet): boolean {
  return hasSeveralThrows(asAdded.build ?? null)
}

export function buildOf({ sheet }: Life) {
  return sheet.asAdded.build ?? null
}

/** Pin, bores and stack of one throw; the same whenever they are asked for. */
export function partsAt(life: Life, joint: Joint): Parts {
  return partsOf(life.sheet, {}, life.chance.of(`parts ${joint}`))
}

/** What is read throw by throw of a crank as it came in, and then of the whole. */
export function atEachThrow(life: Life, setsOf: (life: Life) => SetWanted[]): SetWanted[] {
  const whole = setsOf(life).filter((set) => set.kind === 'runout')
  const throws = throwsOf(buildOf(life)).flatMap((joint) =>
    setsOf({ ...life, chance: life.chance.of(joint) })
      .filter((set) => set.kind !== 'runout')
      .map((set) => ({ ...set, joint })),
  )
  const own = life.chance.of('angle as received')
  return [...throws, ...whole, anglesOf(life, 'received', 0.35, own), middleOf(life, 'received', 0.03, own)]
}

export function anglesOf({ sheet }: Life, phase: 'received' | 'built', scatterDeg: number, chance: Chance): SetWanted {
  const build = sheet.asAdded.build!
  const most = (build.phaseLimitDeg ?? 0.5) - 0.1
  const values = build.phaseDeg.slice(1).map((nominal, place) => {
    const off = scatterDeg * chance.normal()
    const mm = onStep(nominal + (phase === 'built' ? Math.min(most, Math.max(-most, off)) : off), 0.1)
    return { place: String(place + 2), mm, unit: 'deg' as const }
  })
  return { kind: 'phase', phase, values }
}

export function middleOf({ sheet }: Life, phase: 'received' | 'built', medianMm: number, chance: Chance): SetWanted {
  const build = sheet.asAdded.build!
  const most = phase === 'built' ? (build.centreLimitMm ?? 0.04) - 0.005 : 0.3
  const values = build.phaseDeg.slice(1).map((_, place) => ({
    place: String(place + 1),
    mm: onStep(Math.min(most, chance.lognormal(medianMm, 0.4)), 0.001),
  }))
  return { kind: 'centre', phase, values, with: 'Dial 4' }
}

export interface TwinParting {
  hand: Hand
  from: number
  hours: number
}

/** Every joint pressed apart, looked at and marked; the old pins and all bores measured. Answers when that was done. */
export function putTwinParting(shop: Shop, life: Life, { hand, from, hours }: TwinParting): number {
  const by = HANDS[hand]
  const joints = jointsOf(buildOf(life))
  const throws = throwsOf(buildOf(life))
  const work = allot(shop.diaries[hand], { from, hours, jobId: life.id, work: 'parting' })
  const moments = momentsIn(work, 2 * joints.length + 1 + 2 * throws.length, life.chance)
  const next = () => moments.shift()!
  // From the centre out.
  for (const joint of joints.toReversed())
    for (const side of SIDES)
      putPress(shop, life, next(), by, () => ({
        direction: 'apart',
        side,
        joint,
        peakTonnes: peakAt(life, joint, side, 'apart'),
        galling: 'none',
        crack: false,
        webMark: `${life.tag} ${joint.slice(-1)}${side === 'left' ? 'L' : 'R'}${joint.startsWith('centre') ? ' C' : ''}`,
      }))
  putStep(shop, life, next(), by, 'apart')
  for (const joint of throws) {
    const { oldPin, bores } = partsAt(life, joint)
    const micrometer = micrometerFor(life.sheet.figures.pinDiameterMm)
    putSet(shop, life, next(), by, {
      kind: 'pin',
      phase: 'building',
      joint,
      values: oldPin,
      with: micrometer,
      note: 'the pin that came out',
    })
    putSet(shop, life, next(), by, { kind: 'bore', phase: 'building', joint, values: bores, with: 'Bore gauge' })
  }
  return endOfWork(work)
}

export function peakAt(life: Life, joint: Joint, side: Side, direction: 'apart' | 'together'): number {
  if (joint.startsWith('throw')) return partsAt(life, joint)[direction][side]
  return onStep(life.chance.of(`${joint} ${side} ${direction}`).between(CENTRE_PEAK_T.least, CENTRE_PEAK_T.most), 0.1)
}

/** What is marked on a web begins with the tag, which is known once the crank is booked in. */
export function putPress(shop: Shop, life: Life, at: number, by: Caller, pressing: () => PressingNew): void {
  const id = shop.newId(at)
  putOn(shop, life, at, by, (act) => pressWeb(act, life.id, { ...pressing(), id }))
}
