/** Acts of the hand without the network that speak of what was taken before: a strike-out, the kit. */
import sharp from 'sharp'
import { expect, test, vi } from 'vitest'
import type { Bench } from '#contract/bench.ts'
import { takeWidth } from '#tests/browser/at-the-screens.ts'
import {
  agree,
  handsOf,
  measureAsReceived,
  partCrank,
  pressTogether,
  secondReading,
  takeRunout,
  truedRebuild,
} from '#tests/support/bench-factories.ts'
import { startScreens } from '#tests/support/browser.ts'
import { bookJob } from '#tests/support/factories.ts'
import { startTablet } from '#tests/support/tablet.ts'

const screens = await startScreens()
const tablet = await startTablet(screens)

test('a set struck out and a kit named without the network show at once, and reach the book behind what they speak of', async () => {
  const job = await bookJob(screens)
  await tablet.openOnce(job.id)
  tablet.proxy.network = 'gone'
  await takeWidth(tablet, 1)
  await tablet.page.getByRole('button', { name: 'Strike it out' }).click()
  await tablet.page.getByLabel('Why is it struck out?').fill('zeroed wrong')
  await tablet.page.getByRole('button', { name: 'Strike it out', exact: true }).last().click()
  await tablet.page.getByText('Struck out by you').waitFor()
  await tablet.waits(2).waitFor()
  await tablet.page.goto(`/bench/${job.id}/kit`)
  for (const [field, typed] of [
    ['Maker of the kit', 'Ardenlow'],
    ['Part number', 'K-1'],
    ['Lot, from the rod or the bag', 'A-2417'],
  ] as const)
    await tablet.page.getByLabel(field, { exact: true }).fill(typed)
  await tablet.page.getByRole('button', { name: 'Kit is in' }).click()
  await tablet.waits(3).waitFor()
  await tablet.page.goto(`/bench/${job.id}/kit`)
  await tablet.page.getByText('Named: Ardenlow K-1').waitFor()

  tablet.proxy.network = 'whole'
  await tablet.page.evaluate("window.dispatchEvent(new Event('online'))")
  await vi.waitFor(async () => expect(await tablet.waiting()).toEqual([]), { timeout: 15_000 })
  const { measurements, kit } = (await (await screens.as('owner')).get(`/api/jobs/${job.id}/measurements`).expect(200)).body as Bench
  expect(measurements.map((set) => set.struck)).toEqual([expect.objectContaining({ by: 'Jonas Achterberg', because: 'zeroed wrong' })])
  expect(kit).toMatchObject({ maker: 'Ardenlow', part: 'K-1', lot: 'A-2417', whose: 'ours' })
  await tablet.page.goto(`/bench/${job.id}/read/width`)
  await tablet.page.getByText('Struck out by Jonas Achterberg').waitFor()
})

test('a set of both ends struck out without the network is gone from the truing, and so is what was advised by it', async () => {
  const hands = await handsOf(screens)
  const job = await bookJob(screens)
  await measureAsReceived(hands, job)
  await agree(hands, job)
  await partCrank(hands, job)
  await pressTogether(hands, job)
  await takeRunout(hands, hands.bench, job, 'building', { swingMm: 0.1 })
  await tablet.page.goto(`/bench/${job.id}/true`)
  await tablet.page.getByRole('button', { name: 'Read again' }).waitFor()
  await tablet.keeps(job.id, 'truing')

  tablet.proxy.network = 'gone'
  await tablet.page.getByText('Sets and moves so far').click()
  await tablet.page.getByRole('button', { name: 'Strike out set 1' }).click()
  await tablet.page.getByLabel('Why does it not count?').fill('the dial slipped')
  await tablet.page.getByRole('button', { name: 'Strike it out' }).click()
  await tablet.waits(1).waitFor()
  await tablet.page.locator('[data-state="reading"]').waitFor()
  await tablet.page.reload()
  await tablet.page.locator('[data-state="reading"]').waitFor()
  expect(await tablet.page.getByText('Sets and moves so far').count()).toBe(0)

  tablet.proxy.network = 'whole'
  await tablet.page.evaluate("window.dispatchEvent(new Event('online'))")
  await vi.waitFor(async () => expect(await tablet.waiting()).toEqual([]), { timeout: 15_000 })
  const { measurements } = (await hands.owner.get(`/api/jobs/${job.id}/measurements`).expect(200)).body as Bench
  expect(measurements.filter((set) => set.struck !== undefined).map((set) => [set.phase, set.struck?.because])).toEqual([
    ['building', 'the dial slipped'],
  ])
})

test('a set keyed without the network on a crank that is signed elsewhere meanwhile lands late and struck out, with why (O5)', async () => {
  const hands = await handsOf(screens)
  const job = await truedRebuild(hands)
  await tablet.openOnce(job.id)
  tablet.proxy.network = 'gone'
  await takeWidth(tablet, 1)
  await secondReading(hands, job)
  await hands.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(201)
  tablet.proxy.network = 'whole'
  await tablet.page.evaluate("window.dispatchEvent(new Event('online'))")
  await vi.waitFor(async () => expect(await tablet.waiting()).toEqual([]), { timeout: 15_000 })
  const { measurements } = (await hands.owner.get(`/api/jobs/${job.id}/measurements`).expect(200)).body as Bench
  const struck = measurements.filter((set) => set.struck !== undefined)
  expect(struck).toMatchObject([
    { kind: 'width', by: 'Jonas Achterberg', struck: { because: expect.stringMatching(/after the crank was signed/) } },
  ])
  await tablet.page.goto(`/bench/${job.id}/read/width`)
  await tablet.page.getByText(/only after the crank was signed/).waitFor()
})

test('a photo and a note taken without the network lie on the tablet, and a killed browser loses neither (O1, O2)', async () => {
  const job = await bookJob(screens)
  await tablet.page.goto(`/bench/${job.id}`)
  await tablet.page.getByRole('region', { name: 'Photos' }).getByText('No photos yet').waitFor()
  await tablet.keeps(job.id, 'job')
  tablet.proxy.network = 'gone'
  const picture = await sharp({ create: { width: 320, height: 240, channels: 3, background: '#8a4b2a' } })
    .jpeg()
    .toBuffer()
  await tablet.page.getByLabel('Photos from files').setInputFiles({ name: 'left-bore.jpg', mimeType: 'image/jpeg', buffer: picture })
  await tablet.page.getByLabel('Photo 1 shows').fill('left bore, picked up')
  await tablet.page.getByRole('button', { name: 'Put 1 photo into the book' }).click()
  await tablet.waits(1).waitFor()
  await tablet.page.getByText('Write a line').click()
  await tablet.page.getByLabel('What to write into the history').fill('Left bore picked up, half a turn.')
  await tablet.page.getByRole('button', { name: 'Write it down' }).click()
  await tablet.waits(2).waitFor()

  await tablet.kill()
  await tablet.open()
  tablet.proxy.network = 'whole'
  await tablet.signIn()
  await tablet.page.goto('/bench')
  await vi.waitFor(async () => expect(await tablet.waiting()).toEqual([]), { timeout: 15_000 })
  const owner = await screens.as('owner')
  const photos = (await owner.get(`/api/jobs/${job.id}/photos`).expect(200)).body as { caption?: string; width: number }[]
  expect(photos).toMatchObject([{ caption: 'left bore, picked up', width: 320 }])
  const said = await screens.db.pool.query(`SELECT says FROM job_event WHERE job_id = $1 AND kind = 'note'`, [job.id])
  expect(said.rows).toEqual([{ says: 'Left bore picked up, half a turn.' }])
})
