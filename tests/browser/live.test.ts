import { beforeAll, expect, test, vi } from 'vitest'
import { type Someone, signIn, signInAt } from '#tests/browser/at-the-screens.ts'
import { startScreens } from '#tests/support/browser.ts'
import { startCuttingProxy } from '#tests/support/cutting-proxy.ts'
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
  await jonas.page.getByText('63.98 mm').waitFor()
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

/** Everything that the page's streams told it by number, and everything that it said to its hand, each time that it did. */
const HEARD = `
  const Plain = window.EventSource
  window.heard = []
  window.said = []
  window.EventSource = class extends Plain {
    constructor(address) {
      super(address)
      this.addEventListener('message', ({ data }) => window.heard.push(JSON.parse(data).seq))
      this.addEventListener('all', () => window.heard.push('everything'))
    }
  }
  new MutationObserver((changes) => {
    for (const { target } of changes) {
      const place = (target instanceof Element ? target : target.parentElement)?.closest('[role=status], [role=alert]')
      if (place?.textContent) window.said.push(place.textContent)
    }
  }).observe(document, { childList: true, characterData: true, subtree: true })`

test('a stream that is cut while five hundred things change: all are told once and in order, and the list is the book’s again (G2)', async () => {
  const proxy = await startCuttingProxy(screens.address, () => 1)
  const owner = await screens.as('owner')
  const jobs = [await bookJob(screens), await bookJob(screens), await bookJob(screens), await bookJob(screens)]
  const opened = await screens.open({ through: proxy.address })
  await opened.page.context().addInitScript(HEARD)
  const { page } = await signInAt(opened, 'hana', PASSWORD)
  await page.getByText(jobs[0]!.tag).first().waitFor()
  await streams(1)
  const listed = () =>
    page.evaluate(
      "[...document.querySelectorAll('.book tbody tr')].map((row) => [row.querySelector('.tag').textContent, /shelf \\d+/.exec(row.textContent)?.[0]])",
    ) as Promise<[string, string | undefined][]>
  const numbers = async (after: number) => {
    const { rows } = await screens.db.pool.query('SELECT seq::float8 AS seq FROM audit_row WHERE seq > $1 ORDER BY seq', [after])
    return (rows as { seq: number }[]).map((row) => row.seq)
  }
  const [before = 0] = (await numbers(0)).slice(-1)

  proxy.network = 'gone'
  await streams(0)
  await page.evaluate('void (window.heard.length = window.said.length = 0)')
  // In turn, so that none of them meets the limit on requests of one person.
  const hands = [owner, await screens.as('counter'), await screens.as('bench'), await screens.as('owner')]
  for (let n = 0; n < 500; n++) await hands[(n >> 2) % 4]!.post(`/api/jobs/${jobs[n % 4]!.id}/place`, { place: `shelf ${n}` }).expect(200)
  const changed = await numbers(before)
  expect(changed).toHaveLength(500)
  expect((await listed()).filter(([, shelf]) => shelf !== undefined)).toEqual([])

  proxy.network = 'whole'
  await streams(1)
  const book = (await owner.get('/api/jobs').expect(200)).body.rows as { tag: string; place?: string }[]
  const standing = book.map((row) => [row.tag, row.place])
  expect(standing.map(([, place]) => place)).toEqual(expect.arrayContaining(['shelf 496', 'shelf 497', 'shelf 498', 'shelf 499']))
  await vi.waitFor(async () => expect(await listed()).toEqual(standing), { timeout: 10_000, interval: 100 })
  await vi.waitFor(async () => expect(await page.evaluate('window.heard')).toEqual(changed), { timeout: 10_000, interval: 100 })
  const said = (await page.evaluate('window.said')) as string[]
  expect(said).toEqual([...new Set(said)])
  await page.context().close()
  await proxy.close()
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
