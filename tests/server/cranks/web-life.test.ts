import { describe, expect, test } from 'vitest'
import type { Job } from '#contract/jobs.ts'
import type { WebLife } from '#contract/web-life.ts'
import { startApp } from '#tests/support/app.ts'
import { agree, handsOf, measureAsReceived, partCrank, press, takePinAndBores } from '#tests/support/bench-factories.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)

/** One more rebuild of a crank with these fits, pressed together again and gone. */
async function rebuilt(crankId: string | null, fits: { left: number; right: number }): Promise<Job> {
  const job = await bookJob(it, crankId === null ? {} : { crank: { id: crankId } })
  await measureAsReceived(h, job)
  await agree(h, job)
  await partCrank(h, job)
  await takePinAndBores(h, job, fits)
  for (const side of ['left', 'right']) await press(h, job, { direction: 'together', side, peakTonnes: 9 })
  await it.db.pool.query("UPDATE job SET state = 'gone' WHERE id = $1", [job.id])
  return job
}

async function lifeOf(crankId: string): Promise<WebLife> {
  return (await h.bench.get(`/api/cranks/${crankId}/web-life`).expect(200)).body as WebLife
}

const shown = ({ fits }: WebLife['left']) => fits.map((fit) => [fit.pressings, Number(fit.interferenceMm.toFixed(4))])

describe('the life of the webs of a crank', () => {
  test('is its fits over all jobs here, by working figures until there are three, and a line from then on', async () => {
    const first = await rebuilt(null, { left: 0.118, right: 0.104 })
    const crankId = first.crank.id
    const early = await lifeOf(crankId)
    expect(early).toMatchObject({ crankId, engine: first.engine, pressedBefore: 1, shopFloorMm: 0.1, scrapFloorMm: 0.077 })
    expect(early.left).toMatchObject({ basis: 'working-figures', fits: [{ tag: first.tag, pressings: 1, pinOf: 'kit', galling: 'none' }] })
    // 0.018 over the floor of the shop: at worst 0.004 and then 0.002 each, eight; at best 0.002 and 0.001, seventeen (from memory).
    expect(early.left.untilShopFloor).toEqual({ low: 8, high: 17 })
    await rebuilt(crankId, { left: 0.115, right: 0.101 })
    await rebuilt(crankId, { left: 0.112, right: 0.098 })
    const { left, right } = await lifeOf(crankId)
    expect(shown(left)).toEqual([
      [1, 0.118],
      [2, 0.115],
      [3, 0.112],
    ])
    expect(left).toMatchObject({ basis: 'line', untilShopFloor: { low: 4, high: 4 }, untilScrapFloor: { low: 11, high: 11 } })
    expect(left.slopeMm).toBeCloseTo(-0.003, 9)
    expect(right).toMatchObject({ basis: 'line', untilShopFloor: { low: 0, high: 0 }, untilScrapFloor: { low: 7, high: 7 } })
  })

  test('begins anew where the owner had the half changed', async () => {
    const first = await rebuilt(null, { left: 0.118, right: 0.104 })
    const job = await bookJob(it, { crank: { id: first.crank.id } })
    await measureAsReceived(h, job)
    await agree(h, job)
    await partCrank(h, job)
    await takePinAndBores(h, job, { left: 0.116, right: 0.06 })
    it.clock.pass(1)
    await h.owner.post(`/api/jobs/${job.id}/fit-stops`, { side: 'right', choice: 'matched-half', because: 'loose' }).expect(201)
    await takePinAndBores(h, job, { left: 0.116, right: 0.119 })
    const life = await lifeOf(first.crank.id)
    expect(shown(life.left)).toEqual([
      [1, 0.118],
      [2, 0.116],
    ])
    expect(life.left).not.toHaveProperty('renewedAt')
    expect(shown(life.right)).toEqual([[1, 0.119]])
    expect(life.right.renewedAt).toEqual(expect.any(String))
  })

  test('of a crank that was never apart here says that nothing is known', async () => {
    const job = await bookJob(it)
    expect(await lifeOf(job.crank.id)).toMatchObject({ left: { basis: 'nothing', fits: [] }, right: { basis: 'nothing', fits: [] } })
  })

  test('is for everybody of the shop, holds nobody’s name, and knows what is not there', async () => {
    const job = await rebuilt(null, { left: 0.118, right: 0.104 })
    const url = `/api/cranks/${job.crank.id}/web-life`
    await h.counter.get(url).expect(200)
    await it.nobody().get(url).expect(401)
    expect(JSON.stringify(await lifeOf(job.crank.id))).not.toContain('Customer')
    await h.bench.get('/api/cranks/01930000-0000-7000-8000-00000000dead/web-life').expect(404)
    await h.bench.get('/api/cranks/no-id/web-life').expect(400)
  })
})
