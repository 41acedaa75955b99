import { readFileSync } from 'node:fs'
import path from 'node:path'
import { gzipSync } from 'node:zlib'
import { beforeAll, expect, test } from 'vitest'
import { handsOf, secondReading, truedRebuild } from '#tests/support/bench-factories.ts'
import { startScreens } from '#tests/support/browser.ts'
import { bookJob } from '#tests/support/factories.ts'

const WEB = path.resolve(import.meta.dirname, '../../dist/web')
/**
 * 180 kB, taken as 180 × 1000 bytes: JavaScript and CSS, each file gzipped by itself at the usual level, that the page asks for
 * when it is opened by somebody who never was here. Apart from it: the typefaces, and the files of all other pages, which
 * the worker fetches afterwards. What a hand opens later (a form behind a fold) comes later.
 */
const MOST_BYTES = 180_000
/** Checks by schema are the server's, and of the desk's forms; no bench page waits for their library. */
const ONLY_AT_THE_DESK = 'ZodError'

const screens = await startScreens()
const ids: Record<string, string> = {}
let cookie = ''
const weighed: Record<string, number> = {}

beforeAll(async () => {
  const hands = await handsOf(screens)
  cookie = hands.bench.cookie.replace('throwbook=', '')
  const trued = await truedRebuild(hands)
  await secondReading(hands, trued)
  Object.assign(ids, { trued: trued.id, booked: (await bookJob(screens)).id })
})

/** Where a bench hand goes, and the file of the page that must be among what was fetched. */
const ROUTES: [address: string, page: string][] = [
  ['/bench', 'bench'],
  ['/bench/{booked}', 'bench-job'],
  ['/bench/{booked}/read/width', 'bench-read'],
  ['/bench/{booked}/read/runout', 'bench-received'],
  ['/bench/{trued}/part', 'bench-part'],
  ['/bench/{trued}/kit', 'bench-kit'],
  ['/bench/{trued}/press', 'bench-press'],
  ['/bench/{trued}/true', 'bench-true'],
  ['/bench/{trued}/check', 'bench-check'],
  ['/bench/{trued}/sign', 'bench-sign'],
  ['/bench/waiting', 'bench-waiting'],
  ['/bench/instruments', 'instruments'],
  ['/bench/gauge-studies', 'gauge-studies'],
]

const fileOf = (page: string): string =>
  JSON.parse(readFileSync(path.join(WEB, '.vite/manifest.json'), 'utf8'))[`pages/${page}.tsx`].file as string

test.each(ROUTES)('%s loads at most 180 kB', async (route, name) => {
  const { page, faults, atRest } = await screens.open({ width: 820, height: 1180 })
  await page.context().addCookies([{ name: 'throwbook', value: cookie, url: screens.address }])
  // Without the worker, which fetches every other page as well, so that all opens without the network.
  await page.context().addInitScript('delete Navigator.prototype.serviceWorker')
  const asked = new Set<string>()
  page.on('request', (request) => {
    const { pathname } = new URL(request.url())
    if (/\.(js|css)$/.test(pathname)) asked.add(pathname.slice(1))
  })
  await page.goto(route.replaceAll(/\{(\w+)\}/g, (_, id: string) => ids[id] ?? id))
  await page.getByRole('heading', { level: 1 }).waitFor({ state: 'attached' })
  await atRest()
  expect(faults).toEqual([])
  expect([...asked]).toContain(fileOf(name))
  const files = [...asked].map((file) => ({ file, text: readFileSync(path.join(WEB, file)) }))
  weighed[route] = files.reduce((sum, { text }) => sum + gzipSync(text).length, 0)
  expect(weighed[route]).toBeLessThanOrEqual(MOST_BYTES)
  expect(files.filter(({ text }) => text.includes(ONLY_AT_THE_DESK)).map(({ file }) => file)).toEqual([])
  await page.context().close()
})

test('the styles of the house come before what a part says of its own look', () => {
  const shell = readFileSync(path.join(WEB, 'index.html'), 'utf8')
  const [first, ...others] = [...shell.matchAll(/href="\/(assets\/[^"]+\.css)"/g)].map(([, file]) =>
    readFileSync(path.join(WEB, file!), 'utf8'),
  )
  expect(first).toMatch(/^@font-face|^:root/)
  for (const other of others) expect(other).not.toContain(':root')
})

test('a page that stayed open over an upgrade says so instead of reading what it does not know', async () => {
  const { page } = await screens.open({ width: 820, height: 1180 })
  await page.context().addCookies([{ name: 'throwbook', value: cookie, url: screens.address }])
  const answered = page.waitForResponse((response) => response.url().endsWith('/api/instruments'))
  await page.goto('/bench/instruments')
  expect((await answered).headers()['book-version']).toMatch(/^[0-9a-f]{16}$/)
  await page.getByText('Add an instrument').waitFor()
  await page.route('**/api/instruments/*', async (route) => {
    const answer = await route.fetch()
    await route.fulfill({ response: answer, headers: { ...answer.headers(), 'book-version': 'of another one' } })
  })
  await page.locator('.register-rows a').first().click()
  await page.getByText('This page is older than the book. Load the page again.').waitFor()
  await page.context().close()
})

test('the sizes, for whoever reads the run', () => {
  expect(Object.keys(weighed)).toHaveLength(ROUTES.length)
  console.log(
    Object.entries(weighed)
      .map(([route, bytes]) => `${(bytes / 1000).toFixed(1).padStart(7)} kB  ${route}`)
      .join('\n'),
  )
})
