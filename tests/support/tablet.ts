/** A bench tablet on a network that can be lost: a browser that keeps its storage, in the hand of one who signs in on it. */
import { readdirSync, readFileSync } from 'node:fs'
import { mkdtemp, rm } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import path from 'node:path'
import type { BrowserContext, Locator, Page } from 'playwright-core'
import { afterAll, expect, vi } from 'vitest'
import type { Screens } from './browser.ts'
import { launchKept } from './chromium.ts'
import { type CuttingProxy, startCuttingProxy } from './cutting-proxy.ts'

export const HAND = {
  signIn: 'jonas',
  name: 'Jonas Achterberg',
  role: 'bench',
  maySign: false,
  password: 'copper hammer and lead block',
} as const

export interface Lying {
  key: string
  state: string
}

export interface Tablet {
  proxy: CuttingProxy
  /** The page that is open now; another one after the browser was killed. */
  readonly page: Page
  open(): Promise<void>
  signIn(): Promise<void>
  /** As a battery does that falls out; resolves once the browser is gone. */
  kill(): Promise<void>
  /** What says how many wait. */
  waits(count: number): Locator
  /** Everything in the tablet's own databases, as text. */
  storage(): Promise<string>
  /** What waits for the book, or was not taken by it. */
  waiting(): Promise<Lying[]>
  /** Until these answers on a job lie on the tablet. */
  keeps(jobId: string, ...reads: string[]): Promise<void>
  /** A crank is opened once with the network, and what its screens showed lies on the tablet. */
  openOnce(jobId: string): Promise<void>
}

/** Makes the hand, opens the tablet and signs in. Flaky networks break at the same places every time. */
export async function startTablet(screens: Screens): Promise<Tablet> {
  let seed = 20_261_125
  const random = () => {
    seed = (seed * 1_103_515_245 + 12_345) % 2_147_483_648
    return seed / 2_147_483_648
  }
  const proxy = await startCuttingProxy(screens.address, random)
  const folder = await mkdtemp(path.join(tmpdir(), 'tablet-'))
  let context: BrowserContext
  let page: Page
  afterAll(async () => {
    await context?.close().catch(() => undefined)
    await proxy.close()
    await rm(folder, { recursive: true, force: true, maxRetries: 5 })
  })
  const storage = () => page.evaluate(ALL_STORED) as Promise<string>
  const tablet: Tablet = {
    proxy,
    get page() {
      return page
    },
    async open() {
      context = await launchKept(folder, proxy.address)
      context.setDefaultTimeout(15_000)
      page = context.pages()[0] ?? (await context.newPage())
    },
    async signIn() {
      await page.goto('/sign-in')
      await page.getByLabel('Name', { exact: true }).fill(HAND.signIn)
      await page.getByLabel('Password').fill(HAND.password)
      await page.getByRole('button', { name: 'Sign in' }).click()
      await page.waitForURL((url) => !url.pathname.startsWith('/sign-in'))
    },
    async kill() {
      killBrowserOf(folder)
      await vi.waitFor(() => expect(context.pages()).toHaveLength(0), { timeout: 10_000 })
    },
    waits: (count) => page.getByText(count === 0 ? /^$/ : `Saved on this tablet, ${count} waiting.`),
    storage,
    waiting: async () => JSON.parse(await storage())['throwbook-outbox/records'] as Lying[],
    async keeps(jobId, ...reads) {
      const lying = async () => readsOf(await storage(), jobId)
      await vi.waitFor(async () => expect(await lying()).toEqual(expect.arrayContaining(reads)), { timeout: 8_000, interval: 200 })
    },
    async openOnce(jobId) {
      await page.goto(`/bench/${jobId}/read/width`)
      await page.getByRole('group', { name: 'Keypad' }).waitFor()
      await tablet.keeps(jobId, 'job', 'measured')
    },
  }
  const owner = await screens.as('owner')
  await owner.post('/api/people', HAND).expect(201)
  await tablet.open()
  await tablet.signIn()
  await tablet.page.evaluate('navigator.serviceWorker.ready')
  return tablet
}

const ALL_STORED = `(async () => {
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
})()`

function readsOf(storage: string, jobId: string): (string | undefined)[] {
  const [kept] = JSON.parse(storage)['throwbook-reads/reads'] as { state: { queries: { queryKey: string[] }[] } }[]
  return (kept?.state.queries ?? []).filter((query) => query.queryKey[2] === jobId).map((query) => query.queryKey[3])
}

function killBrowserOf(folder: string): void {
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
