/** Calls some weeks after a crank went home: does it run? Most do, and without asking nobody would know. */
import { recordFollowUp } from '#server/features/comebacks/call-commands.ts'
import { DAY, dayOf, openAfter } from './days.ts'
import { putOn, type Shop } from './life.ts'
import { HANA } from './people.ts'

/** Of every hundred that went home so many were rung. */
const RUNG = 0.75
const SAID = ['Runs well.', 'Starts better than before.', 'No noise, no oil lost.', 'Run in by the book; no complaints.', undefined]

/** Not those that came back: of them more is known. */
export function putCalls(shop: Shop): void {
  for (const life of shop.lives) {
    const { id, goneAt, kind, chance, cameBack } = life
    const own = chance.of('call')
    if (goneAt === undefined || cameBack || kind === 'check-and-report' || !own.happens(RUNG)) continue
    const at = openAfter(goneAt + own.between(23, 100) * DAY, own.between(0, 4))
    if (at > shop.now) continue
    const says = own.pick(SAID)
    const ridden = own.happens(0.85)
      ? { hours: Math.round(own.lognormal(12, 0.6)), hoursHow: 'declared' as const }
      : { hoursHow: 'unknown' as const }
    const call = { id: shop.newId(at), day: dayOf(at), runs: true, ...ridden, ...(says === undefined ? {} : { says }) }
    putOn(shop, life, at, HANA, (act) => recordFollowUp(act, id, call))
  }
}
