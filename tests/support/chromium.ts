/** A browser from the package tree, or the developer's own. */
import { existsSync } from 'node:fs'
import { type Browser, type BrowserContext, chromium } from 'playwright-core'

/** Browsers that a developer's own machine may have; elsewhere the one from npm is unpacked. */
const INSTALLED = ['/usr/bin/google-chrome', '/usr/bin/chromium', '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome']
const FLAGS = ['--no-sandbox', '--disable-gpu', '--disable-background-networking', '--disable-component-update', '--no-first-run']

async function executable(): Promise<string> {
  const { default: packaged } = await import('@sparticuz/chromium')
  if (process.platform === 'linux' && process.arch === 'x64') return packaged.executablePath()
  const own = INSTALLED.find((file) => existsSync(file))
  if (own === undefined) throw new Error('No browser found: install Chrome or Chromium for the browser tests.')
  return own
}

export async function launch(): Promise<Browser> {
  return chromium.launch({ executablePath: await executable(), args: FLAGS })
}

/** A browser that keeps its storage in a folder, as a tablet does from one day to the next. */
export async function launchKept(folder: string, baseURL: string): Promise<BrowserContext> {
  return chromium.launchPersistentContext(folder, {
    executablePath: await executable(),
    args: FLAGS,
    baseURL,
    viewport: { width: 820, height: 1180 },
    locale: 'en-GB',
    timezoneId: 'UTC',
  })
}
