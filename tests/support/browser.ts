/** The built screens on the real service, in a browser. */
import path from 'node:path'
import type { Browser, Page } from 'playwright-core'
import { afterAll } from 'vitest'
import { startApp, type TestApp } from './app.ts'
import { launch } from './chromium.ts'

export interface Screens extends TestApp {
  address: string
  browser: Browser
  /** Opens a page of its own for one person at one size; faults of the page are collected and fail the test that asks. */
  open(options?: { width?: number; height?: number; timezone?: string }): Promise<OpenPage>
}

export interface OpenPage {
  page: Page
  /** What the page threw, logged as an error, or asked of another host. */
  faults: string[]
}

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
    async open({ width = 1280, height = 800, timezone = 'UTC' } = {}) {
      const context = await browser.newContext({
        viewport: { width, height },
        baseURL: address,
        timezoneId: timezone,
        locale: 'en-GB',
        acceptDownloads: true,
      })
      context.setDefaultTimeout(15_000)
      const page = await context.newPage()
      const faults: string[] = []
      page.on('pageerror', (error) => faults.push(`threw ${error.message}`))
      page.on('request', (request) => {
        if (!request.url().startsWith(address) && !/^(data|blob):/.test(request.url())) faults.push(`asked ${request.url()}`)
      })
      return { page, faults }
    },
  }
}
