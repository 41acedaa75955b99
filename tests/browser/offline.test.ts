/** The bench in a dead corner: what is taken lies on the tablet, and reaches the book once, in order, whatever happens between. */
import { readdirSync, readFileSync } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import path from 'node:path'
import type { BrowserContext, Page } from 'playwright-core'
import { afterAll, beforeAll, expect, test, vi } from 'vitest'
import { keyIn } from '#tests/browser/at-the-screens.ts'
import { startScreens } from '#tests/support/browser.ts'
import { launchKept } from '#tests/support/chromium.ts'
import { startCuttingProxy } from '#tests/support/cutting-proxy.ts'
import { bookJob } from '#tests/support/factories.ts'
import { uuidv7 } from '#web/lib/id.ts'

const screens = await startScreens()
const PASSWORD = 'copper hammer and lead block'
/** Fixed, so that a flaky network breaks at the same places every time. */
let seed = 20_261_125
const random = () => {
  seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648
  return seed / 2_147_483_648
}
const proxy = await startCuttingProxy(screens.address, random)
const folder = await mkdtemp(path.join(tmpdir(), 'tablet-'))
let tablet: BrowserContext
let page: Page

afterAll(async () => {
  await tablet?.close().catch(() => undefined)
  await proxy.close()
  await rm(folder, { recursive: true, force: true, maxRetries: 5 })
})

async function openTablet(): Promise<void> {
  tablet = await launchKept(folder, proxy.address)
  tablet.setDefaultTimeout(15_000)
  page = tablet.pages()[0] ?? (await tablet.newPage())
}

async function signIn(): Promise<void> {
  await page.goto('/sign-in')
  await page.getByLabel('Name', { exact: true }).fill('jonas')
  await page.getByLabel('Password').fill(PASSWORD)
  await page.getByRole('button', { name: 'Sign in' }).click()
  await page.waitForURL((url) => !url.pathname.startsWith('/sign-in'))
}

beforeAll(async () => {
  const owner = await screens.as('owner')
  await owner
    .post('/api/people', { signIn: 'jonas', name: 'Jonas Achterberg', role: 'bench', maySign: false, password: PASSWORD })
    .expect(201)
  await openTablet()
  await signIn()
  await page.evaluate('navigator.serviceWorker.ready')
})

const someone = () => ({ page, faults: [], name: 'jonas' })
const waits = (count: number) => page.getByText(count === 0 ? /^$/ : `Saved on this tablet, ${count} waiting.`)
const sets = async (jobId: string) =>
  (
    await screens.db.pool.query(
      'SELECT m.kind, p.sign_in AS "by", m.occurred_at AS at FROM measurement m JOIN person p ON p.id = m.person_id WHERE m.job_id = $1 ORDER BY m.recorded_at, m.id',
      [jobId],
    )
  ).rows as { kind: string; by: string; at: Date }[]

/** Everything in the tablet's own databases, as text. */
const onTheTablet = () =>
  page.evaluate(`(async () => {
    const asked = (request) => new Promise((resolve, reject) => {
      request.onsuccess = () => resolve(request.result)
      request.onerror = () => reject(request.error)
    })
    const found = {}
    for (const { name } of await indexedDB.databases()) {
      const database = await asked(indexedDB.open(name))
      for (const store of database.objectStoreNames)
        found[name + '/' + store] = await asked(database.transaction(store).objectStore(store).getAll())
      database.close()
    }
    return JSON.stringify(found)
  })()`) as Promise<string>

interface Lying {
  key: string
  state: string
}

const waiting = async () => JSON.parse(await onTheTablet())['throwbook-outbox/records'] as Lying[]

/** Which answers on a job lie on the tablet. */
const readsOf = async (jobId: string) => {
  const [kept] = JSON.parse(await onTheTablet())['throwbook-reads/reads'] as { state: { queries: { queryKey: string[] }[] } }[]
  return (kept?.state.queries ?? []).filter((query) => query.queryKey[2] === jobId).map((query) => query.queryKey[3])
}

/** A crank is opened once with the network, and what its screens showed lies on the tablet. */
async function openOnce(jobId: string): Promise<void> {
  await page.goto(`/bench/${jobId}/read/width`)
  await page.getByRole('group', { name: 'Keypad' }).waitFor()
  await vi.waitFor(async () => expect(await readsOf(jobId)).toEqual(expect.arrayContaining(['job', 'measured'])), {
    timeout: 8_000,
    interval: 200,
  })
}

/** Width at four places, kept; how long until the tablet says that it is saved, ms. */
async function takeWidth(count: number): Promise<number> {
  await keyIn(someone(), ['6398', '6399', '6401', '6400'])
  await page.getByRole('button', { name: 'Keep this set' }).waitFor()
  return page.evaluate(`(async () => {
    const began = performance.now()
    const said = () => document.body.textContent.includes('Saved on this tablet, ${count} waiting.')
    const seen = new Promise((resolve) => {
      const look = new MutationObserver(() => { if (said()) resolve(performance.now() - began) })
      look.observe(document.body, { childList: true, subtree: true, characterData: true })
    })
    for (const button of document.querySelectorAll('button')) if (button.textContent === 'Keep this set') button.click()
    return seen
  })()`) as Promise<number>
}

function killBrowser(): void {
  for (const pid of readdirSync('/proc')) {
    if (!/^\d+$/.test(pid)) continue
    try {
      const line = readFileSync(`/proc/${pid}/cmdline`, 'utf8')
      if (line.includes(`--user-data-dir=${folder}`) && !line.includes('--type=')) process.kill(Number(pid), 'SIGKILL')
    } catch {
      // Ended in between.
    }
  }
}

test('with the network gone two sets are saved on the tablet, and a killed browser loses none (O1, O2)', async () => {
  const job = await bookJob(screens, { customer: { name: 'Hollis Quartermain', phone: '0161 496 0100' } })
  await openOnce(job.id)

  proxy.network = 'gone'
  expect(await takeWidth(1)).toBeLessThan(250)
  await page.getByRole('button', { name: 'Read another set' }).click()
  expect(await takeWidth(2)).toBeLessThan(250)
  await page.reload()
  await waits(2).waitFor()
  await page.getByText('Taken so far').waitFor()
  expect(await onTheTablet()).not.toMatch(/Hollis|Quartermain|Jonas|Achterberg/)

  killBrowser()
  await vi.waitFor(() => expect(tablet.pages()).toHaveLength(0), { timeout: 10_000 })
  await openTablet()
  // No network yet: the worker opens the book, and the crank with what was taken on it.
  await page.goto(`/bench/${job.id}/read/width`)
  await waits(2).waitFor()
  expect(await sets(job.id)).toHaveLength(0)

  proxy.network = 'whole'
  // A killed browser keeps no session: the hand signs in, and what waited goes out under its own name.
  await signIn()
  await page.goto('/bench')
  await vi.waitFor(async () => expect(await sets(job.id)).toHaveLength(2), { timeout: 15_000 })
  const taken = await sets(job.id)
  expect(taken.map((set) => set.by)).toEqual(['jonas', 'jonas'])
  expect(taken[0]!.at.getTime()).toBeLessThan(taken[1]!.at.getTime())
  await waits(0).first().waitFor({ state: 'attached' })
  expect(await waiting()).toEqual([])
})

test('an answer that is lost after the book has written it down doubles nothing (O3)', async () => {
  const job = await bookJob(screens)
  await openOnce(job.id)
  proxy.network = 'answers-lost'
  await takeWidth(1)
  await vi.waitFor(async () => expect(await sets(job.id)).toHaveLength(1), { timeout: 10_000 })
  await waits(1).waitFor()
  proxy.network = 'whole'
  await page.evaluate("window.dispatchEvent(new Event('online'))")
  await vi.waitFor(async () => expect(await waiting()).toEqual([]), { timeout: 15_000 })
  expect(await sets(job.id)).toHaveLength(1)
})

test('a hundred and sixty readings over a network that breaks three in ten arrive once and in order, and the screen never stops (O4)', async () => {
  const jobs = [await bookJob(screens), await bookJob(screens)]
  await page.goto('/bench')
  await page.getByRole('heading', { level: 1 }).waitFor()
  const [{ id: personId }] = (await screens.db.pool.query("SELECT id FROM person WHERE sign_in = 'jonas'")).rows as [{ id: string }]
  const records = jobs.flatMap((job, lane) =>
    Array.from({ length: 20 }, (_, n) => {
      const id = uuidv7(
        Date.now() - 60_000 + n * 1_000,
        Uint8Array.from({ length: 10 }, (_, at) => 16 * lane + n + at),
      )
      const occurredAt = new Date(Date.now() - 60_000 + n * 1_000).toISOString()
      const values = ['0', '90', '180', '270'].map((place) => ({ place, mm: 64, typed: '64.00', unit: 'mm' }))
      const body = { id, occurredAt, kind: 'width', phase: 'received', values }
      const sent = { method: 'POST', route: `/api/jobs/${job.id}/measurements`, body, shown: null, occurredAt }
      return {
        key: `key-${id}`,
        personId,
        lane: job.id,
        jobId: job.id,
        what: 'width',
        ...sent,
        tries: 0,
        notBefore: 0,
        state: 'waiting',
        schema: 1,
      }
    }),
  )
  proxy.network = 'flaky'
  await page.evaluate(`(async () => {
    window.longest = 0
    new PerformanceObserver((list) => { for (const entry of list.getEntries()) window.longest = Math.max(window.longest, entry.duration) }).observe({ type: 'longtask' })
    const database = await new Promise((resolve) => {
      const request = indexedDB.open('throwbook-outbox')
      request.onsuccess = () => resolve(request.result)
    })
    const records = database.transaction('records', 'readwrite').objectStore('records')
    for (const record of ${JSON.stringify(records)}) records.add(record)
    await new Promise((resolve) => { records.transaction.oncomplete = resolve })
    database.close()
    window.dispatchEvent(new Event('online'))
  })()`)
  for (const job of jobs) await vi.waitFor(async () => expect(await sets(job.id)).toHaveLength(20), { timeout: 60_000, interval: 300 })
  proxy.network = 'whole'
  await vi.waitFor(async () => expect(await waiting()).toEqual([]), {
    timeout: 30_000,
    interval: 300,
  })
  for (const job of jobs) {
    const times = (await sets(job.id)).map((set) => set.at.getTime())
    expect(times).toHaveLength(20)
    expect(times).toEqual([...times].sort((one, other) => one - other))
  }
  expect(await page.evaluate('window.longest')).toBeLessThan(250)
})

test('a crank that went on elsewhere meanwhile: readings land late, a step is parked with why and kept until the hand says (O5)', async () => {
  const job = await bookJob(screens)
  await openOnce(job.id)
  await page.goto(`/bench/${job.id}`)
  await page.getByRole('button', { name: 'Measured' }).waitFor()
  await vi.waitFor(async () => expect(await readsOf(job.id)).toContain('gate'), { timeout: 8_000, interval: 200 })
  proxy.network = 'gone'
  await page.goto(`/bench/${job.id}/read/width`)
  await takeWidth(1)
  await page.goto(`/bench/${job.id}`)
  await page.getByRole('button', { name: 'Measured' }).click()
  await waits(2).waitFor()
  const owner = await screens.as('owner')
  await owner.post(`/api/jobs/${job.id}/place`, { place: 'rack 2' }).expect(200)
  await owner.post(`/api/jobs/${job.id}/notes`, { says: 'Asked for again' }).expect(201)
  proxy.network = 'whole'
  await page.goto('/bench/waiting')
  const parked = page.getByRole('region', { name: 'The book did not take these' })
  await parked.getByText('called measured').waitFor()
  expect((await waiting()).map((record) => record.state)).toEqual(['parked'])
  const [landed, ...more] = (
    await screens.db.pool.query('SELECT occurred_at < recorded_at AS late FROM measurement WHERE job_id = $1', [job.id])
  ).rows as { late: boolean }[]
  expect(landed).toEqual({ late: true })
  expect(more).toEqual([])
  // It says why, and stays until it is dropped by hand.
  expect(await parked.getByRole('listitem').allTextContents()).toEqual(
    expect.arrayContaining([expect.stringMatching(/both ends|runout|end/i)]),
  )
  await page.reload()
  await parked.getByRole('button', { name: 'Drop it' }).click()
  await parked.getByRole('button', { name: 'Drop it for good' }).click()
  await parked.waitFor({ state: 'detached' })
  expect(await waiting()).toEqual([])
})

test('signing out with something waiting asks first, clears what was read, and leaves no name behind (O7)', async () => {
  const job = await bookJob(screens)
  await openOnce(job.id)
  proxy.network = 'gone'
  await takeWidth(1)
  await page.locator('.me-open').click()
  await page.getByRole('button', { name: 'Sign out' }).click()
  const dialog = page.getByRole('dialog')
  await dialog.getByRole('button', { name: 'Save as a file' }).waitFor()
  proxy.network = 'whole'
  await dialog.getByRole('button', { name: 'Sign out all the same' }).click()
  await page.getByLabel('Password').waitFor()
  await vi.waitFor(async () => expect(JSON.parse(await onTheTablet())['throwbook-reads/reads']).toEqual([]), { timeout: 8_000 })
  expect(await onTheTablet()).not.toMatch(/Jonas|Achterberg|Hollis/)
})
