/** `npm run pictures`: fills a demo shop beside the others, walks its screens and puts the README's pictures into web/pictures. */
import { chmodSync, mkdirSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { seedDemo } from '#seed/demo.ts'
import { TAG_ON_THE_BENCH } from '#seed/lay-out.ts'
import { DEMO_PASSWORD } from '#seed/people.ts'
import { buildApp } from '#server/app.ts'
import { openBook } from '#server/plugins/database.ts'
import { launch } from '#tests/support/chromium.ts'

const root = path.resolve(import.meta.dirname, '../..')
const out = path.join(root, 'web', 'pictures')
const folder = mkdtempSync(path.join(tmpdir(), 'throwbook-pictures-'))
chmodSync(folder, 0o755)
const files = path.join(folder, 'files')
mkdirSync(files)
mkdirSync(out, { recursive: true })

const book = await openBook({ url: undefined, folder: path.join(folder, 'pg') })
await seedDemo({ db: book.db, files, now: new Date(), say: (line) => process.stdout.write(`${line}\n`) })
const app = await buildApp({ db: book.db, clock: () => new Date(), files, webFolder: path.join(root, 'dist', 'web') })
const address = await app.listen({ port: 0, host: '127.0.0.1' })
const browser = await launch()

interface Shot {
  name: string
  who: string
  at: string
  width?: number
  height?: number
  mode?: 'bench' | 'sun'
}

async function idOf(tag: string): Promise<string> {
  const { rows } = await book.db.pool.query<{ id: string }>('SELECT id FROM job WHERE tag = $1', [tag])
  if (!rows[0]) throw new Error(`the demo has no ${tag}`)
  return rows[0].id
}

async function take({ name, who, at, width = 1280, height = 800, mode }: Shot): Promise<void> {
  const context = await browser.newContext({ viewport: { width, height }, baseURL: address, locale: 'en-GB', timezoneId: 'Europe/Berlin' })
  if (mode !== undefined) await context.addInitScript(`localStorage.setItem('throwbook.mode', '${mode}')`)
  // The live stream never rests, and the wait below is for a network at rest.
  await context.route('**/api/live*', (route) => route.abort())
  const page = await context.newPage()
  await page.request.post('/api/session', { data: { name: who, password: DEMO_PASSWORD }, headers: { origin: address } })
  await page.goto(at)
  await page.waitForLoadState('networkidle')
  await page.screenshot({ path: path.join(out, `${name}.png`) })
  await context.close()
}

const hollis = await idOf(TAG_ON_THE_BENCH)
const shots: Shot[] = [
  { name: 'book', who: 'counter', at: '/counter' },
  { name: 'booking', who: 'counter', at: '/counter/book-in' },
  { name: 'job', who: 'counter', at: `/jobs/${hollis}`, height: 1180 },
  { name: 'truing', who: 'bench', at: `/bench/${hollis}/true`, mode: 'bench' },
  { name: 'width', who: 'bench', at: `/bench/${hollis}/read/width`, mode: 'sun', width: 820, height: 1180 },
  { name: 'office', who: 'owner', at: '/office', height: 1180 },
  { name: 'learning', who: 'owner', at: '/office/learning/01930000-0000-7000-8000-000000000002' },
  { name: 'book-narrow', who: 'counter', at: '/counter', width: 390, height: 844 },
]
for (const shot of shots) await take(shot)

await browser.close()
await app.close()
await book.close()
rmSync(folder, { recursive: true, force: true })
