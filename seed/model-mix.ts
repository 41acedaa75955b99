/** Which engines come in, why, and what it costs: the invented mix of the demo shop. */
import type { JobKind, WhyNow } from '#core/steps.ts'
import type { Chance } from './chance.ts'

export type Family = 'cross' | 'fourStroke' | 'vintage' | 'kart' | 'multi'

const MIX: readonly (readonly [Family, number])[] = [
  ['cross', 50],
  ['fourStroke', 25],
  ['vintage', 12],
  ['kart', 8],
  ['multi', 5],
]

const CODES: Readonly<Record<Family, readonly string[]>> = {
  cross: ['M64-C', 'T84-W', 'R124-X', 'R124-X', 'H143-E', 'H197-E', 'L249-X', 'R249-X', 'B293-E', 'Y272-T', 'B486-X', 'R49-P', 'Z122-S'],
  fourStroke: ['M108-4P', 'T149-4C', 'H249-4X', 'L349-4E', 'R449-4X', 'R449-4X', 'B498-4E'],
  vintage: ['D196-R', 'O244-T', 'O371-X', 'D346-4R', 'D497-4R', 'O651-4R'],
  kart: ['F99-K', 'F124-K', 'F124-K'],
  multi: ['Z347-2W', 'P594-2S', 'P594-2S', 'Y872-V'],
}

export function drawModel(chance: Chance): string {
  return chance.pick(CODES[chance.weighted(MIX)])
}

/** For the stories, which are of cranks with one throw. */
export function drawSingle(chance: Chance): string {
  return chance.pick(CODES[chance.weighted(MIX.filter(([family]) => family !== 'multi'))])
}

export function familyOf(code: string): Family {
  return (Object.keys(CODES) as Family[]).find((family) => CODES[family].includes(code)) ?? 'cross'
}

/** Why they come in, in a hundred. */
const REASONS: readonly (readonly [WhyNow, number])[] = [
  ['hours-up', 38],
  ['knock', 22],
  ['seized', 14],
  ['rust', 9],
  ['out-of-true', 6],
  ['dropped', 2],
  ['rod-broken', 3],
  ['not-known', 6],
]

export function drawReason(chance: Chance): WhyNow {
  return chance.weighted(REASONS)
}

/** Median of the worse full swing as received, mm; a rusty or worn crank swings like one that knocks. */
const SWINGS_MM: Partial<Readonly<Record<WhyNow, number>>> = { seized: 0.22, 'rod-broken': 0.22, dropped: 0.35, 'out-of-true': 0.22 }
const USUAL_SWING_MM = 0.06

export function drawSwingMm(why: WhyNow, chance: Chance): number {
  return Math.min(1.5, chance.lognormal(SWINGS_MM[why] ?? USUAL_SWING_MM, 0.45))
}

const LABOUR: Readonly<Record<Family, number>> = { cross: 190_00, fourStroke: 240_00, vintage: 280_00, kart: 160_00, multi: 480_00 }
const KIT: Readonly<Record<Family, number>> = { cross: 86_00, fourStroke: 118_00, vintage: 142_00, kart: 79_00, multi: 196_00 }
const SHARE: Readonly<Record<JobKind, number>> = { rebuild: 1, 'true-only': 0.5, 'weld-only': 0.45, 'check-and-report': 0.2 }

/** A price with tax in minor units, and what it is for. */
export function priceOf(job: { code: string; kind: JobKind; ownKit: boolean }): { totalMinor: number; text: string } {
  const family = familyOf(job.code)
  const labour = Math.round((LABOUR[family] * SHARE[job.kind]) / 500) * 500
  if (job.kind === 'true-only') return { totalMinor: labour, text: 'True the crank to our limit at both ends; certificate.' }
  if (job.kind === 'weld-only') return { totalMinor: labour, text: 'Weld the pin in four places, true again cold; certificate.' }
  if (job.kind === 'check-and-report') return { totalMinor: labour, text: 'Read both ends, width and play; report of runout.' }
  if (job.ownKit) return { totalMinor: labour, text: 'Press apart, fit your rod kit, press together, true; certificate.' }
  return { totalMinor: labour + KIT[family], text: 'Press apart, new rod kit, press together, true; certificate.' }
}

/** What people use such an engine for, and what they feed it. */
const USES: Readonly<Record<Family, readonly (readonly [use: string, oil: string])[]>> = {
  cross: [
    ['enduro', 'premix 40:1, full synthetic'],
    ['motocross', 'premix 32:1, castor blend'],
    ['trials', 'premix 60:1'],
    ['road', 'premix 50:1'],
  ],
  fourStroke: [
    ['enduro', '10W-50, changed every 8 h'],
    ['motocross', '10W-40, changed every 5 h'],
    ['road', '10W-40, once a year'],
  ],
  vintage: [
    ['road, summers', 'SAE 50, before every season'],
    ['vintage trials', 'straight 40'],
  ],
  kart: [['kart, club races', 'premix 20:1, castor']],
  multi: [
    ['snow, tours', 'oil injected'],
    ['road, summers', 'premix 50:1'],
  ],
}

export function drawUse(code: string, chance: Chance): { usedFor: string; oil: string } {
  const [usedFor, oil] = chance.pick(USES[familyOf(code)])
  return { usedFor, oil }
}
