/** The built screens on the real service, in a browser. */
import path from 'node:path'
import type { Browser, Page, Request } from 'playwright-core'
import { afterAll } from 'vitest'
import { startApp, type TestApp } from './app.ts'
import { launch } from './chromium.ts'

export interface Screens extends TestApp {
  address: string
  browser: Browser
  /** Opens a page of its own for one person at one size; faults of the page are collected and fail the test that asks. `through` is the address of a proxy before the service. */
  open(options?: { width?: number; height?: number; timezone?: string; through?: string }): Promise<OpenPage>
}

export interface OpenPage {
  page: Page
  /** What the page threw, logged as an error, or asked of another host. */
  faults: string[]
  /** Until the page stands and has drawn what it asked for: nothing on its way for a moment, the live stream left aside. */
  atRest(): Promise<void>
}

const STILL_MS = 100
const LOOK_MS = 20

export async function startScreens(): Promise<Screens> {
  const started = await startApp({ publicUrl: '', webFolder: path.resolve(import.meta.dirname, '../../dist/web'), realTime: true })
  await started.app.listen({ port: 0, host: '127.0.0.1' })
  const bound = started.app.server.address()
  if (bound === null || typeof bound === 'string') throw new Error('the service is not listening')
  const address = `http://127.0.0.1:${bound.port}`
  const browser = await launch()
  afterAll(() => browser.close())
  return {
    ...started,
    address,
    browser,
    async open({ width = 1280, height = 800, timezone = 'UTC', through = address } = {}) {
      const context = await browser.newContext({
        viewport: { width, height },
        baseURL: through,
        timezoneId: timezone,
        locale: 'en-GB',
        acceptDownloads: true,
      })
      context.setDefaultTimeout(15_000)
      const page = await context.newPage()
      const faults: string[] = []
      page.on('pageerror', (error) => faults.push(`threw ${error.message}`))
      page.on('request', (request) => {
        if (!request.url().startsWith(through) && !/^(data|blob):/.test(request.url())) faults.push(`asked ${request.url()}`)
      })
      const onItsWay = new Set<Request>()
      page.on('request', (request) => {
        if (!new URL(request.url()).pathname.startsWith('/api/live')) onItsWay.add(request)
      })
      page.on('requestfinished', (request) => onItsWay.delete(request))
      page.on('requestfailed', (request) => onItsWay.delete(request))
      const isStill = async () => onItsWay.size === 0 && (await page.evaluate("document.querySelector('main') !== null"))
      const atRest = async () => {
        for (let still = 0; still < STILL_MS; still = (await isStill()) ? still + LOOK_MS : 0) await page.waitForTimeout(LOOK_MS)
      }
      return { page, faults, atRest }
    },
  }
}
