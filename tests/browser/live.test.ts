import { beforeAll, expect, test, vi } from 'vitest'
import { type Someone, signIn } from '#tests/browser/at-the-screens.ts'
import { startScreens } from '#tests/support/browser.ts'
import { addCustomer, bookJob } from '#tests/support/factories.ts'

const screens = await startScreens()
const PASSWORD = 'copper hammer and lead block'

beforeAll(async () => {
  const owner = await screens.as('owner')
  for (const [name, role] of [
    ['hana', 'counter'],
    ['jonas', 'bench'],
    ['ewa', 'owner'],
  ] as const)
    await owner.post('/api/people', { signIn: name, name, role, maySign: role === 'owner', password: PASSWORD }).expect(201)
})

/** Until the screens of so many browsers are live. */
const streams = (count: number) => vi.waitFor(() => expect(screens.app.live.count()).toBe(count), { timeout: 10_000, interval: 50 })

async function openForm({ page }: Someone, address: string): Promise<void> {
  await page.goto(address)
  await page.getByRole('button', { name: 'Change it' }).click()
}

test('what one changes the other sees within a second, and what the other is typing stays (G1)', async () => {
  const customer = await addCustomer(screens, { name: 'Hollis' })
  const [hana, ewa] = [await signIn(screens, 'hana', PASSWORD), await signIn(screens, 'ewa', PASSWORD)]
  const address = `/customers/${customer.id}`
  await openForm(hana, address)
  await hana.page.getByRole('textbox', { name: 'Phone' }).fill('0161 496 0777')
  await openForm(ewa, address)
  await ewa.page.getByLabel('Name', { exact: true }).fill('Hollis and daughter')
  await streams(2)
  const written = ewa.page.waitForResponse((answer) => answer.request().method() === 'PATCH' && answer.ok())
  await ewa.page.getByRole('button', { name: 'Write it so' }).click()
  await written
  const began = Date.now()
  await hana.page.getByRole('heading', { level: 1, name: 'Hollis and daughter' }).waitFor()
  expect(Date.now() - began).toBeLessThan(1_000)
  expect(await hana.page.getByRole('textbox', { name: 'Phone' }).inputValue()).toBe('0161 496 0777')
  await hana.page.context().close()
  await ewa.page.context().close()
})

test('figures half keyed at the bench outlive a change from the counter', async () => {
  const job = await bookJob(screens)
  const [jonas, hana] = [await signIn(screens, 'jonas', PASSWORD), await screens.as('counter')]
  await jonas.page.goto(`/bench/${job.id}/read/width`)
  await jonas.page.getByRole('group', { name: 'Keypad' }).waitFor()
  await streams(1)
  await jonas.page.keyboard.type('6398')
  const keyed = await jonas.page.locator('.keypad').textContent()
  const again = jonas.page.waitForResponse((answer) => answer.url().includes(`/api/jobs/${job.id}`))
  await hana.post(`/api/jobs/${job.id}/notes`, { says: 'They asked again' }).expect(201)
  await again
  await jonas.page.waitForTimeout(300)
  expect(await jonas.page.locator('.keypad').textContent()).toBe(keyed)
  expect(await jonas.page.locator('main').textContent()).toContain('63')
  await jonas.page.context().close()
})

test('eight tabs of a browser share one stream, and the last is as quick as the first (G4)', async () => {
  const hana = await signIn(screens, 'hana', PASSWORD)
  const tabs = [hana.page]
  for (let n = 1; n < 8; n++) {
    const page = await hana.page.context().newPage()
    await page.goto('/counter')
    tabs.push(page)
  }
  await streams(1)
  const last = tabs.at(-1)!
  const began = Date.now()
  expect(await last.evaluate("fetch('/api/session').then((answer) => answer.status)")).toBe(200)
  expect(Date.now() - began).toBeLessThan(1_000)
  const job = await bookJob(screens)
  await last.getByText(job.tag).first().waitFor({ timeout: 2_000 })
  // The tab with the stream goes; another takes it over and misses nothing.
  await tabs.shift()?.close()
  const next = await bookJob(screens)
  await last.getByText(next.tag).first().waitFor()
  await streams(1)
  await hana.page.context().close()
})

test('a session that is ended elsewhere opens the sign-in over the page at once, and what is typed stays', async () => {
  const customer = await addCustomer(screens, { name: 'Hollis' })
  const ewa = await signIn(screens, 'ewa', PASSWORD)
  await openForm(ewa, `/customers/${customer.id}`)
  await ewa.page.getByRole('textbox', { name: 'Phone' }).fill('0161 496 0778')
  await streams(1)
  await screens.db.pool.query("UPDATE session SET ended_at = now() WHERE person_id = (SELECT id FROM person WHERE sign_in = 'ewa')")
  const dialog = ewa.page.getByRole('dialog')
  await dialog.getByText('Signed out while you were here').waitFor({ timeout: 8_000 })
  await dialog.getByLabel('Password').fill(PASSWORD)
  await dialog.getByRole('button', { name: 'Sign in' }).click()
  await dialog.waitFor({ state: 'hidden' })
  expect(await ewa.page.getByRole('textbox', { name: 'Phone' }).inputValue()).toBe('0161 496 0778')
  await streams(1)
  await ewa.page.context().close()
})
