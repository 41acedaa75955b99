import { describe, expect, test } from 'vitest'
import type { Engine } from '#contract/engines.ts'
import type { WebLife } from '#contract/web-life.ts'
import { startApp } from '#tests/support/app.ts'
import { handsOf } from '#tests/support/bench-factories.ts'
import { addEngine } from '#tests/support/factories.ts'
import { TWIN_BUILD } from '#tests/support/twin-build.ts'
import { addTwinEngine, agreedTwin, partTwin, pressTwin } from '#tests/support/twin-factories.ts'

// The engines are invented; how such cranks are made up is common practice of the trade, no source.

const it = await startApp()
const h = await handsOf(it)
const owner = await it.as('owner')

async function sheetOf(id: string): Promise<Engine> {
  return (await owner.get(`/api/engines/${id}`).expect(200)).body as Engine
}

describe('how a crank is put together', () => {
  test('is kept on its sheet, copied with it, and taken away again', async () => {
    const twin = await addTwinEngine(it)
    expect(twin.build).toEqual(TWIN_BUILD)
    const { body: copy } = await owner.post(`/api/engines/${twin.id}/copies`, { maker: 'Zandrello', code: 'Z347-3W' }).expect(201)
    expect(copy.build).toEqual(TWIN_BUILD)
    const { body: plain } = await owner.patch(`/api/engines/${copy.id}`, { build: null }, copy.version).expect(200)
    expect(plain.build).toBeUndefined()
    expect((await sheetOf(copy.id)).build).toBeUndefined()
  })

  test('a change of something else leaves it as it is', async () => {
    const twin = await addTwinEngine(it)
    const { body } = await owner.patch(`/api/engines/${twin.id}`, { note: 'sled' }, twin.version).expect(200)
    expect(body.build).toEqual(TWIN_BUILD)
  })

  test('two rods on one pin are one throw: nothing of a twin is asked', async () => {
    const vee = await addEngine(it, { code: 'Y872-V', build: { throws: 1, rodsOnAPin: 2, phaseDeg: [0], trapped: [] } })
    expect(vee.build).toEqual({ throws: 1, rodsOnAPin: 2, phaseDeg: [0], trapped: [] })
  })

  test.each<[object, string]>([
    [{ throws: 7 }, '/build/throws'],
    [{ rodsOnAPin: 3 }, '/build/rodsOnAPin'],
    [{ phaseDeg: [0] }, '/build/phaseDeg'],
    [{ phaseDeg: [0, 361] }, '/build/phaseDeg/1'],
    [{ phaseDeg: [5, 180] }, '/build/phaseDeg/0'],
    [{ phaseLimitDeg: undefined }, '/build/phaseLimitDeg'],
    [{ centreLimitMm: 2 }, '/build/centreLimitMm'],
    [{ centre: undefined }, '/build/centre'],
    [{ trapped: [{ what: '', between: 'the webs' }] }, '/build/trapped/0/what'],
    [{ trapped: [TWIN_BUILD.trapped[0], { what: 'Centre bearing', between: 'there' }] }, '/build/trapped/1/what'],
  ])('%o is refused at %s', async (change, pointer) => {
    const twin = await addTwinEngine(it)
    const refused = await owner.patch(`/api/engines/${twin.id}`, { build: { ...TWIN_BUILD, ...change } }, twin.version).expect(400)
    expect(refused.body.errors.map((one: { pointer: string }) => one.pointer)).toContain(pointer)
    expect((await sheetOf(twin.id)).build).toEqual(TWIN_BUILD)
  })

  test('its throws stand once a crank was read by them; limits and parts may still change', async () => {
    const job = await agreedTwin(h)
    const sheet = await sheetOf(job.crank.engineId)
    const change = (build: object | null, version: number) => owner.patch(`/api/engines/${sheet.id}`, { build }, version)
    await change(null, sheet.version).expect(409)
    await change({ ...TWIN_BUILD, throws: 3, phaseDeg: [0, 120, 240] }, sheet.version).expect(409)
    await change({ ...TWIN_BUILD, centre: 'integral' }, sheet.version).expect(409)
    const { body } = await change({ ...TWIN_BUILD, phaseLimitDeg: 0.4, trapped: [] }, sheet.version).expect(200)
    expect(body.build).toMatchObject({ phaseLimitDeg: 0.4, trapped: [] })
  })

  test('another version meanwhile is refused', async () => {
    const twin = await addTwinEngine(it)
    await owner.patch(`/api/engines/${twin.id}`, { build: null }, twin.version).expect(200)
    await owner.patch(`/api/engines/${twin.id}`, { build: TWIN_BUILD }, twin.version).expect(412)
  })
})

describe('the life of the webs', () => {
  test('is told throw by throw, the first unless said', async () => {
    const job = await pressTwin(h, await partTwin(h, await agreedTwin(h)))
    const lifeOf = async (query = '') => (await owner.get(`/api/cranks/${job.crank.id}/web-life${query}`).expect(200)).body as WebLife
    const first = await lifeOf()
    expect([first.joint, first.joints, first.left.fits.length]).toEqual(['throw-1', ['throw-1', 'throw-2'], 1])
    expect((await lifeOf('?joint=throw-2')).joint).toBe('throw-2')
  })

  test('both throws pressed once count as one pressing of the crank', async () => {
    const job = await pressTwin(h, await partTwin(h, await agreedTwin(h)))
    const { body } = await owner.get(`/api/jobs/${job.id}`).expect(200)
    expect(body.crank.pressedHere).toEqual({ left: 1, right: 1 })
  })
})
