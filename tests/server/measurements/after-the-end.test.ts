/** What lay on a tablet while the crank was signed elsewhere (O5 of the catalogue): kept, seen, and counted for nothing. */
import { expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'
import { handsOf, SET_UP, secondReading, truedRebuild, turnOf } from '#tests/support/bench-factories.ts'

const it = await startApp()
const h = await handsOf(it)

async function signedWhileATabletWasAway() {
  const job = await truedRebuild(h)
  it.clock.pass(1)
  const readAt = it.clock.now.toISOString()
  await secondReading(h, job)
  it.clock.pass(1)
  const sheet = (await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(201)).body as { id: string }
  it.clock.pass(30)
  return { job, readAt, sheet }
}

const runout = { kind: 'runout', phase: 'built', setup: SET_UP, instrumentId: '', values: turnOf({ swingMm: 0.3 }) }
const setOf = (occurredAt?: string) => ({ ...runout, instrumentId: h.dial.id, ...(occurredAt === undefined ? {} : { occurredAt }) })

test('a set read before the signing comes in late, struck out with why; what was sealed and the gate stay as they are', async () => {
  const { job, readAt, sheet } = await signedWhileATabletWasAway()
  const before = (await h.second.get(`/api/jobs/${job.id}/gate`).expect(200)).body
  const sealedBefore = await it.db.prisma.certificate.findUniqueOrThrow({ where: { id: sheet.id } })
  const landed = (await h.bench.post(`/api/jobs/${job.id}/measurements`, setOf(readAt)).expect(201)).body
  expect(landed.struck).toMatchObject({ because: expect.stringMatching(/only after the crank was signed/) })
  const bench = (await h.bench.get(`/api/jobs/${job.id}/measurements`).expect(200)).body
  expect(bench.measurements.filter((set: { id: string }) => set.id === landed.id)).toHaveLength(1)
  expect((await h.second.get(`/api/jobs/${job.id}/gate`).expect(200)).body).toEqual(before)
  expect(await it.db.prisma.certificate.findUniqueOrThrow({ where: { id: sheet.id } })).toEqual(sealedBefore)
  const events = (await h.owner.get(`/api/jobs/${job.id}/events`).expect(200)).body.rows as { kind: string }[]
  expect(events.slice(0, 2).map((event) => event.kind)).toEqual(['struck', 'read'])
})

test('sent again under its key it lands once', async () => {
  const { job, readAt } = await signedWhileATabletWasAway()
  const key = 'the-tablet-s-own-key-01'
  const first = await h.bench.post(`/api/jobs/${job.id}/measurements`, setOf(readAt), key).expect(201)
  const again = await h.bench.post(`/api/jobs/${job.id}/measurements`, setOf(readAt), key).expect(201)
  expect(again.body).toEqual(first.body)
})

test('what is read after the signing is refused, and so is any move of before', async () => {
  const { job, readAt } = await signedWhileATabletWasAway()
  const refused = await h.bench.post(`/api/jobs/${job.id}/measurements`, setOf()).expect(409)
  expect(refused.body.detail).toMatch(/is signed, and its paper says what was read/)
  const pressing = { direction: 'together', side: 'left', peakTonnes: 6, occurredAt: readAt }
  await h.bench.post(`/api/jobs/${job.id}/pressings`, pressing).expect(409)
})

test('taken a step back, the crank is open again, and the late set still counts for nothing', async () => {
  const { job, readAt } = await signedWhileATabletWasAway()
  await h.bench.post(`/api/jobs/${job.id}/measurements`, setOf(readAt)).expect(201)
  await h.owner.post(`/api/jobs/${job.id}/steps/back`, { to: 'trued', reason: 'looked at again' }).expect(200)
  const gate = (await h.owner.get(`/api/jobs/${job.id}/gate`).expect(200)).body as { missing: { code: string }[] }
  expect(gate.missing.map((one) => one.code)).not.toContain('runout-left-over-house')
})
