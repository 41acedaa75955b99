/** Configuration → database → migrate → fill → web → listen → graceful close. The only process-level file. */
import { accessSync, constants, mkdirSync } from 'node:fs'
import path from 'node:path'
import { pathToFileURL } from 'node:url'
import { buildApp } from './app.ts'
import { type BookName, type Config, ConfigTrouble, readConfig } from './config.ts'
import { printSetUpCode } from './features/sessions/set-up-code.ts'
import { renewIfDue } from './plugins/authority.ts'
import { bookVersion, builtVersion } from './plugins/book-version.ts'
import { type Db, openBook } from './plugins/database.ts'
import { claimFolder } from './plugins/folder.ts'
import { forgetOldKeys } from './plugins/idempotency.ts'
import { buildScreens } from './plugins/screens.ts'
import { readTls, type Tls } from './plugins/tls.ts'
import { startWork } from './work.ts'

const root = path.dirname(import.meta.dirname)
const say = (line: string) => process.stdout.write(`${line}\n`)

/** Fills a fresh book before it is opened; the demo shop is one. */
export type Fill = (book: { db: Db; files: string; now: Date; say: (line: string) => void; address: string }) => Promise<void>

async function start(config: Config, fill?: Fill): Promise<void> {
  const free = config.databaseUrl === undefined ? await claimFolder(config.folder) : () => {}
  const { files } = config
  makeFolder(files)
  const tls = await certificateOf(config)
  const webFolder = path.join(root, 'dist', 'web')
  if (builtVersion(webFolder) !== bookVersion(root)) {
    say('Building the screens, once …')
    await buildScreens(root, webFolder)
  }
  const book = await openBook({ url: config.databaseUrl, folder: path.join(config.folder, 'pg') })
  for (const line of book.says) say(line)
  await fill?.({
    db: book.db,
    files,
    now: new Date(),
    say,
    address: config.publicUrl ?? `${tls ? 'https' : 'http'}://localhost:${config.port}`,
  })
  const app = await buildApp({
    db: book.db,
    clock: () => new Date(),
    files,
    publicUrl: config.publicUrl,
    trustProxy: config.trustProxy,
    tls,
    authority: config.authority,
    webFolder,
    logLevel: config.logLevel,
  })
  await forgetOldKeys(app)
  const work = await startWork(app, book, config, say)
  // Before it is said to be open: whoever hears that may close it at once.
  let closing = false
  const close = async () => {
    if (closing) return
    closing = true
    await app.close()
    await work.stop()
    await book.close()
    free()
    process.exit(0)
  }
  process.on('SIGTERM', close)
  process.on('SIGINT', close)
  await app.listen({ port: config.port, host: config.host })
  const address = app.server.address()
  const port = address && typeof address === 'object' ? address.port : config.port
  say(
    `\nThrowbook is open at ${config.publicUrl ?? `${config.tls ? 'https' : 'http'}://${config.host === '0.0.0.0' ? 'localhost' : config.host}:${port}`}`,
  )
  if (config.book === 'demo') say('Demo book. Sign in as counter, bench, bench2 or owner, each with the password throwbook-demo')
  else await printSetUpCode(app, say)
}

function makeFolder(files: string): void {
  try {
    mkdirSync(files, { recursive: true })
    accessSync(files, constants.W_OK)
  } catch (error) {
    throw new ConfigTrouble(
      `The folder of photos and papers, ${files} (FILES_URL or DATA_DIR), cannot be made or written (${(error as NodeJS.ErrnoException).code}). Make it, let this account write there, and start again.`,
    )
  }
}

/** Looked at before the database is opened, so that a wrong path costs no wait. */
async function certificateOf(config: Config): Promise<Tls | undefined> {
  if (config.tls === undefined) return undefined
  for (const line of await renewIfDue(config.authority, config.tls.certFile, new Date())) say(line)
  const { tls, says } = readTls(config.tls, new Date(), config.publicUrl)
  for (const line of says) say(line)
  return tls
}

export async function main(book: BookName, fill?: Fill): Promise<void> {
  try {
    await start(readConfig(process.env, book, root), fill)
  } catch (error) {
    const trouble = error as Error
    const plain = ['ConfigTrouble', 'BookTrouble', 'ClusterTrouble', 'FolderTrouble', 'TlsTrouble', 'AuthorityTrouble'].includes(
      trouble.name,
    )
    process.stderr.write(`${plain ? trouble.message : (trouble.stack ?? trouble.message)}\n`)
    process.exit(1)
  }
}

if (process.argv[1] !== undefined && import.meta.url === pathToFileURL(process.argv[1]).href) await main('book')
