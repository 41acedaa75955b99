/** Acts of the hand without the network that speak of what was taken before: a strike-out, the kit. */
import { expect, test, vi } from 'vitest'
import type { Bench } from '#contract/measurements.ts'
import { takeWidth } from '#tests/browser/at-the-screens.ts'
import { agree, handsOf, measureAsReceived, partCrank, pressTogether, takeRunout } from '#tests/support/bench-factories.ts'
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
