import { describe, expect, test } from 'vitest'
import type { Bench } from '#contract/bench.ts'
import { startApp } from '#tests/support/app.ts'
import { agree, codesOf, handsOf, measureAsReceived, partCrank, press, takePinAndBores } from '#tests/support/bench-factories.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)

async function partedWith(fits: { left: number; right: number }) {
  const job = await bookJob(it)
  await measureAsReceived(h, job)
  await agree(h, job)
  await partCrank(h, job)
  await takePinAndBores(h, job, fits)
  return job
}

async function bench(job: { id: string }): Promise<Bench> {
  return (await h.bench.get(`/api/jobs/${job.id}/measurements`).expect(200)).body as Bench
}

const halved = { side: 'right', choice: 'matched-half', because: 'a half of the same engine lies on the shelf' }

describe('what stop means', () => {
  test('is decided by the owner with a reason, and stands on the bench and in the history; no gate opens by it', async () => {
    const job = await partedWith({ left: 0.109, right: 0.06 })
    const missing = async () => codesOf((await h.bench.get(`/api/jobs/${job.id}/gate`).expect(200)).body)
    const before = await missing()
    expect(await bench(job)).not.toHaveProperty('fitStops')
    const answer = await h.owner.post(`/api/jobs/${job.id}/fit-stops`, halved).expect(201)
    expect(answer.body).toEqual({ ...halved, says: 'a matched used half, or a new web', by: 'Ewa', at: it.clock.now.toISOString() })
    expect((await bench(job)).fitStops).toEqual([answer.body])
    const [line] = (await h.bench.get(`/api/jobs/${job.id}/events`).expect(200)).body.rows
    expect(line).toMatchObject({
      kind: 'fit-stop',
      says: `The right web, too loose for its pin: a matched used half, or a new web. ${halved.because}`,
    })
    expect(await missing()).toEqual(before)
    const audit = await h.owner.get(`/api/audit?thing=job&id=${job.id}`).expect(200)
    expect(JSON.stringify(audit.body)).toContain('decide on a loose fit')
  })

  test('is the owner’s alone, and asks side, choice and reason', async () => {
    const job = await partedWith({ left: 0.109, right: 0.06 })
    const url = `/api/jobs/${job.id}/fit-stops`
    await h.bench.post(url, halved).expect(403)
    await h.counter.post(url, halved).expect(403)
    await it.nobody().post(url, halved).expect(401)
    for (const name of Object.keys(halved)) {
      const { [name as keyof typeof halved]: _, ...rest } = halved
      const answer = await h.owner.post(url, rest).expect(400)
      expect(answer.body.errors[0].pointer).toBe(`/${name}`)
    }
    await h.owner.post('/api/jobs/01930000-0000-7000-8000-00000000dead/fit-stops', halved).expect(404)
  })

  test('there is nothing to decide on a good web, or on one whose fit nobody knows', async () => {
    const job = await partedWith({ left: 0.109, right: 0.06 })
    const good = await h.owner.post(`/api/jobs/${job.id}/fit-stops`, { ...halved, side: 'left' }).expect(409)
    expect(good.body.detail).toContain('is good')
    const unknown = await bookJob(it)
    await h.owner.post(`/api/jobs/${unknown.id}/fit-stops`, halved).expect(409)
  })

  test('sent twice under one key is decided once', async () => {
    const job = await partedWith({ left: 0.109, right: 0.09 })
    const key = 'a-loose-right-web-1'
    for (const _ of [1, 2]) await h.owner.post(`/api/jobs/${job.id}/fit-stops`, halved, key).expect(201)
    expect((await bench(job)).fitStops).toHaveLength(1)
  })
})

describe('the gauge beside what the fit foretells', () => {
  test('answers at once what to look for: far below belled or wet, far above galled or cocked', async () => {
    const job = await partedWith({ left: 0.109, right: 0.112 })
    const go = async (side: string, peakTonnes: number) =>
      (await h.bench.post(`/api/jobs/${job.id}/pressings`, { direction: 'together', side, peakTonnes }).expect(201)).body
    // 0.109 in 34.903 over 21.8 goes at 7.0 to 11.7 t (Lamé, friction 0.12 to 0.20).
    expect(await go('left', 9.1)).toMatchObject({ gauge: { verdict: 'within' } })
    expect(await go('right', 3)).toMatchObject({ gauge: { verdict: 'far-below', says: expect.stringContaining('belled') } })
    expect(await go('right', 19)).toMatchObject({ gauge: { verdict: 'far-above', says: expect.stringContaining('cocked') } })
    await press(h, job, { direction: 'together', side: 'left', notReadBecause: 'the gauge stuck' })
    const { pressings } = await bench(job)
    expect(pressings.slice(-4).map((one) => one.gauge?.verdict)).toEqual(['within', 'far-below', 'far-above', undefined])
    // Going apart nothing is foretold: the old pin was not measured.
    expect(pressings[0]).not.toHaveProperty('gauge')
  })
})
