/** Recovers from the stored book, by the book's own sums where it has them, what the seed was given. Part of demo.test.ts, which fills the book. */
import { describe, expect, test } from 'vitest'
import { compare } from '#core/compare.ts'
import { rate } from '#core/rate.ts'
import { COMEBACK_SHARE } from '#seed/comebacks.ts'
import { BAD_LOT } from '#seed/engines.ts'
import { FAULT_MIX } from '#seed/faults.ts'
import { HANDS, type Hand } from '#seed/people.ts'
import { insideAtFirstCheck, LEVELS, MONSTERS, RATE, usualHours } from '#seed/skill.ts'
import type { Agent, TestApp } from '#tests/support/app.ts'
import {
  type Final,
  faultShares,
  finals,
  fitDifferences,
  lotsAtHome,
  medianOf,
  received,
  rows,
  sampleOf,
  shareOf,
  worstOf,
} from './recover.ts'

export function whatWentInComesOut(it: TestApp, owner: () => Agent): void {
  describe('what went into the demo shop comes out of it', () => {
    interface Learned {
      points: { n?: number; hours: number; engine: string; hollow?: string }[]
      line?: { power: Record<'exponentInterval' | 'firstHoursInterval', { low: number; high: number }> }
      level?: { hours: number; low: number; high: number }
      ready: {
        firstCheck: { count: number; of: number }
        movesFirstTen: number
        movesLastTen: number
        truingShareFirstTen: number
        truingShareLastTen: number
      }
    }
    const learned = async (hand: Hand) => (await owner().get(`/api/people/${HANDS[hand].id}/learning`).expect(200)).body as Learned
    const fitted = ({ points }: Learned) => points.filter(({ hollow, n }) => hollow === undefined && n !== undefined)
    /** How much a crank of the usual mix takes longer than its middle, as a logarithm: some fight back. */
    const fightsBack = MONSTERS.share * Math.log(MONSTERS.times)
    const usualLog = (hand: Hand, { n, engine }: Learned['points'][number]) =>
      Math.log(usualHours(hand, n!, engine.split(' ').at(-1)!)) + fightsBack

    test('the learner’s rate and his first hours, within the intervals of his own line', async () => {
      const own = await learned('jonas')
      const points = fitted(own)
      expect(points.length).toBeGreaterThan(45)
      expect(Math.max(...points.map(({ n }) => n!))).toBeGreaterThan(55)
      const { exponentInterval, firstHoursInterval } = own.line!.power
      expect(Math.log2(RATE)).toBeGreaterThan(exponentInterval.low)
      expect(Math.log2(RATE)).toBeLessThan(exponentInterval.high)
      // 6.2 h by the middle of his engines, since one takes longer than another.
      const byEngine = sampleOf(points.map((point) => usualLog('jonas', point) - Math.log(usualHours('jonas', point.n!, 'R124-X')))).mean
      const firstHours = LEVELS.jonas.hours * Math.exp(byEngine)
      expect(firstHours).toBeGreaterThan(firstHoursInterval.low)
      expect(firstHours).toBeLessThan(firstHoursInterval.high)
      expect(own.ready.movesFirstTen).toBeGreaterThan(10)
      expect(own.ready.movesLastTen).toBeLessThan(own.ready.movesFirstTen)
      expect(own.ready.truingShareLastTen).toBeLessThan(own.ready.truingShareFirstTen)
    })

    test.each(['marek', 'ewa'] as const)('the level of %s, who stands where the line is flat and gets no rate', async (hand) => {
      const own = await learned(hand)
      expect(own.line).toBeUndefined()
      const usual = Math.exp(sampleOf(fitted(own).map((point) => usualLog(hand, point))).mean)
      expect(usual).toBeGreaterThan(own.level!.low)
      expect(usual).toBeLessThan(own.level!.high)
      // Counted on from the cranks before the book, to about 700 and 300.
      expect(Math.abs(Math.max(...fitted(own).map(({ n }) => n!)) - LEVELS[hand].n)).toBeLessThan(20)
    })

    test('the bad lot: of all lots it alone stands out, and cranks come back of it ten times as often', async () => {
      const lots = await lotsAtHome(it)
      const all = { gone: lots.reduce((sum, { gone }) => sum + gone, 0), back: lots.reduce((sum, { back }) => sum + back, 0) }
      const against = ({ gone, back }: (typeof lots)[number]) => {
        const answer = compare({ a: { failures: back, total: gone }, b: { failures: all.back - back, total: all.gone - gone } })
        return answer.ok ? answer.value.p : 1
      }
      const byChance = lots.filter(({ back }) => back > 0).toSorted((one, other) => against(one) - against(other))
      expect(byChance[0]!.lot).toBe(BAD_LOT.lot)
      expect(against(byChance[0]!)).toBeLessThan(0.01)
      const bad = lots.find(({ lot }) => lot === BAD_LOT.lot)!
      mustHold({ failures: bad.back, total: bad.gone }, COMEBACK_SHARE.badLot)
      mustHold({ failures: all.back - bad.back, total: all.gone - bad.gone }, COMEBACK_SHARE.base)
    })

    test('the mix of the faults as received, within sampling error', async () => {
      const shares = faultShares(await received(it))
      for (const [name, share] of Object.entries(FAULT_MIX) as [keyof typeof FAULT_MIX, number][]) {
        const { count, mean, error } = sampleOf(shares[name])
        expect(count).toBeGreaterThan(60)
        expect(Math.abs(mean - share), name).toBeLessThan(3 * error)
      }
    })

    // Medians of the worse full swing by the reason: 0.06 mm of a knock, 0.22 of a seizure; scatter 0.45 in the logarithm.
    test.each([
      ['knock', 0.06],
      ['hours-up', 0.06],
      ['seized', 0.22],
    ])('how cranks come in: %s', async (why, medianMm) => {
      const swings = (await received(it)).filter((one) => one.why === why).map(({ figures }) => worstOf(figures))
      // Standard error of a median of a bell: 1.25 of that of the mean.
      expect(Math.abs(Math.log(medianOf(swings) / medianMm))).toBeLessThan((3 * 1.25 * 0.45) / Math.sqrt(swings.length))
    })

    test('the limits of the house: every crank is called true inside them, and is read again inside, or a third set was', async () => {
      const all = await finals(it)
      expect(all.length).toBeGreaterThan(330)
      for (const { tag, first, second, third } of all) {
        expect(shareOf(first), tag).toBeLessThanOrEqual(1 + 1e-9)
        expect(shareOf(third ?? second), tag).toBeLessThanOrEqual(1 + 1e-9)
      }
      // Half a bell of 0.3 of the limit below the limit: 1 − 0.3·√(2/π), and the few at the limit itself.
      const { mean, error } = sampleOf(all.map(({ first }) => shareOf(first)))
      expect(Math.abs(mean - (0.92 * (1 - 0.3 * Math.sqrt(2 / Math.PI)) + 0.08))).toBeLessThan(4 * error + 0.02)
    })

    test.each(['jonas', 'marek', 'ewa'] as const)('how often a crank of %s is true at first check', async (hand) => {
      const built = (await finals(it)).filter(({ builder, kind }: Final) => builder === HANDS[hand].name && kind === 'rebuild')
      mustHold(
        { failures: built.filter(({ second }) => shareOf(second) > 1 + 1e-9).length, total: built.length },
        1 - insideAtFirstCheck(hand),
      )
    })

    test('moves a crank: about 5 of a practised hand, about 14 of the learner', async () => {
      const moves = await rows<{ hand: string; count: number }>(
        it,
        `SELECT p.name AS hand, (SELECT count(*)::int FROM truing_move m WHERE m.job_id = j.id) AS count FROM job j
         JOIN job_step s ON s.job_id = j.id AND s.step = 'trued' AND s.undone_at IS NULL JOIN person p ON p.id = s.person_id WHERE j.kind = 'rebuild'`,
      )
      const of = (names: string[]) => sampleOf(moves.filter(({ hand }) => names.includes(hand)).map(({ count }) => count))
      expect(Math.abs(of(['Marek', 'Ewa']).mean - 5)).toBeLessThan(0.8)
      expect(Math.abs(of(['Jonas']).mean - 14)).toBeLessThan(3.2)
    })

    test('the right web of one model, which runs loose by 0.012', async () => {
      const { count, mean, error } = sampleOf(await fitDifferences(it, 'R449-4X'))
      expect(count).toBeGreaterThan(15)
      expect(Math.abs(mean + 0.012)).toBeLessThan(3 * error)
    })

    test('how long they wait: for a kit that is not in stock, and for their owner', async () => {
      const [kits] = await rows<{ waited: number; of: number }>(
        it,
        `SELECT count(*)::int AS of, count(*) FILTER (WHERE EXISTS (SELECT 1 FROM job_wait w WHERE w.job_id = j.id AND w.what = 'kit'))::int AS waited
       FROM job j JOIN kit_fitted f ON f.job_id = j.id AND f.struck_at IS NULL AND f.whose = 'ours' WHERE j.comeback_of_id IS NULL`,
      )
      mustHold({ failures: kits!.waited, total: kits!.of }, 0.38)
      const fetched = await rows<{ days: number }>(
        it,
        `SELECT extract(epoch FROM j.gone_at - t.at)::float8 / 86400 AS days FROM job j CROSS JOIN LATERAL (
         SELECT min(v.occurred_at) AS at FROM job_event v WHERE v.job_id = j.id AND v.kind = 'told' AND v.occurred_at >
           (SELECT max(s.at) FROM job_step s WHERE s.job_id = j.id AND s.step = 'signed')) t WHERE j.state = 'gone'`,
      )
      const days = fetched.map((one) => one.days)
      expect(medianOf(days)).toBeGreaterThan(2)
      expect(medianOf(days)).toBeLessThan(4.2)
      mustHold({ failures: days.filter((one) => one > 30).length, total: days.length }, 0.08)
    })

    /** The exact interval around what was counted holds what was put in (Clopper and Pearson, 99.9 %). */
    function mustHold(counted: { failures: number; total: number }, put: number): void {
      const answer = rate({ ...counted, confidence: 0.999 })
      if (!answer.ok) throw new Error(answer.detail)
      expect(put, JSON.stringify(counted)).toBeGreaterThan(answer.value.exact.low)
      expect(put, JSON.stringify(counted)).toBeLessThan(answer.value.exact.high)
    }
  })
}
