import { type ChildProcess, spawn } from 'node:child_process'
import { chmodSync, mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, describe, expect, test, vi } from 'vitest'
import { ConfigTrouble, readConfig } from '#server/config.ts'
import { bookVersion, builtVersion } from '#server/plugins/book-version.ts'
import { buildScreens } from '#server/plugins/screens.ts'

const root = path.resolve(import.meta.dirname, '../../..')
const data = mkdtempSync(path.join(tmpdir(), 'throwbook-start-'))
// The database may run under another account, which has to pass through the folder.
chmodSync(data, 0o755)
afterAll(() => rmSync(data, { recursive: true, force: true }))

interface Started {
  child: ChildProcess
  address: string
  said: () => string
}

/** Starts the book and waits until it says what is wanted of it. */
function start(until: RegExp): Promise<Started> {
  const child = spawn(process.execPath, ['--import', 'tsx', 'server/main.ts'], {
    cwd: root,
    env: { ...process.env, DATA_DIR: data, PORT: '0' },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let said = ''
  return new Promise((resolve, reject) => {
    const hear = (chunk: Buffer) => {
      said += chunk.toString()
      const address = /open at (http\S+)/.exec(said)?.[1]
      if (address !== undefined && until.test(said)) resolve({ child, address, said: () => said })
    }
    child.stdout.on('data', hear)
    child.stderr.on('data', hear)
    child.once('exit', (code) => reject(new Error(`ended with ${code}: ${said}`)))
  })
}

const CODE = /one-time code: ([0-9A-F]{12})/

function ended(child: ChildProcess, signal: NodeJS.Signals): Promise<number | null> {
  return new Promise((resolve) => {
    child.once('exit', resolve)
    child.kill(signal)
  })
}

describe('own book', () => {
  test('starts with one command, says its address and a one-time code, is ready, refuses a second server, and closes gracefully', async () => {
    const first = await start(CODE)
    expect(await (await fetch(`${first.address}/api/ready`)).json()).toEqual({ ok: true })
    expect((await fetch(`${first.address}/counter`)).headers.get('content-type')).toContain('text/html')
    expect((await fetch(`${first.address}/assets/not-there.js`)).status).toBe(404)
    await expect(start(CODE)).rejects.toThrow('open already in another process')
    expect(await ended(first.child, 'SIGTERM')).toBe(0)
  })

  test('opens again after the server was killed, at once and with what it held', async () => {
    const first = await start(CODE)
    const code = CODE.exec(first.said())?.[1]
    const made = await fetch(`${first.address}/api/set-up`, {
      method: 'POST',
      headers: { 'content-type': 'application/json', origin: first.address },
      body: JSON.stringify({ code, shop: 'Kettle Row', name: 'Ewa', signIn: 'ewa', password: 'a few long words' }),
    })
    expect(made.status).toBe(200)
    const cookie = made.headers.get('set-cookie')?.split(';')[0] ?? ''
    await ended(first.child, 'SIGKILL')
    const second = await start(/open at/)
    expect((await fetch(`${second.address}/api/session`, { headers: { cookie } })).status).toBe(200)
    expect(second.said()).not.toContain('one-time code: ')
    expect(await ended(second.child, 'SIGTERM')).toBe(0)
  })
})

describe('screens', () => {
  test('are built by the first start of a tree that has none', async () => {
    const out = path.join(data, 'web')
    // As the database's client leaves it in a running book.
    vi.stubGlobal('__dirname', data)
    await buildScreens(root, out)
    vi.unstubAllGlobals()
    expect(builtVersion(out)).toBe(bookVersion(root))
    expect(readFileSync(path.join(out, 'index.html'), 'utf8')).toMatch(/assets\/.+\.js/)
  })
})

describe('environment', () => {
  test('all faults are said at once, in words', () => {
    const read = () => readConfig({ PORT: '70000', DATABASE_URL: 'mysql://x', PUBLIC_URL: 'book' }, 'book', root)
    expect(read).toThrow(ConfigTrouble)
    expect(read).toThrow(/PORT.*\n.*DATABASE_URL.*\n.*PUBLIC_URL/)
    expect(() => readConfig({ TLS_CERT: 'x' }, 'book', root)).toThrow('go together')
  })

  test('empty values are taken as not set', () => {
    expect(readConfig({ PORT: '', PUBLIC_URL: '' }, 'demo', root)).toMatchObject({ port: 4180, host: '127.0.0.1', publicUrl: undefined })
  })
})
