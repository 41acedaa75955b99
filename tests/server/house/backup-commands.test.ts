import { type ChildProcess, spawn } from 'node:child_process'
import { readdirSync, readFileSync, statSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { expect, test } from 'vitest'
import type { Proofs } from '#contract/proofs.ts'
import { ownFolder } from '#tests/support/backup-book.ts'

// The commands as a person runs them, each a process of its own, on the PostgreSQL that comes along.
const root = path.resolve(import.meta.dirname, '../../..')
const data = ownFolder()
const [first, second] = [path.join(data, 'first'), path.join(data, 'second')]

function begin(file: string, folder: string, words: string[] = []): ChildProcess {
  return spawn(process.execPath, ['--import', 'tsx', `server/${file}.ts`, ...words], {
    cwd: root,
    env: { ...process.env, DATA_DIR: folder, PORT: '0', DATABASE_URL: '' },
    stdio: ['ignore', 'pipe', 'pipe'],
  })
}

/** Runs a command to its end. */
function run(file: string, folder: string, words: string[] = []): Promise<{ code: number | null; said: string }> {
  const child = begin(file, folder, words)
  let said = ''
  child.stdout?.on('data', (chunk: Buffer) => {
    said += chunk.toString()
  })
  child.stderr?.on('data', (chunk: Buffer) => {
    said += chunk.toString()
  })
  return new Promise((resolve) => child.once('close', (code) => resolve({ code, said })))
}

/** Starts the server and answers where it listens and what it said. */
function serve(folder: string, until: RegExp): Promise<{ child: ChildProcess; address: string; said: string }> {
  const child = begin('main', folder)
  let said = ''
  return new Promise((resolve, reject) => {
    const hear = (chunk: Buffer) => {
      said += chunk.toString()
      const address = /open at (http\S+)/.exec(said)?.[1]
      if (address !== undefined && until.test(said)) resolve({ child, address, said })
    }
    child.stdout?.on('data', hear)
    child.stderr?.on('data', hear)
    child.once('exit', (code) => reject(new Error(`ended with ${code}: ${said}`)))
  })
}

function stop(child: ChildProcess): Promise<number | null> {
  return new Promise((resolve) => {
    child.once('exit', resolve)
    child.kill('SIGTERM')
  })
}

test('a book is saved while it is open, proved, and put back where there was none', { timeout: 120_000 }, async () => {
  expect(await run('backup', first)).toEqual({
    code: 1,
    said: expect.stringContaining(`There is no book in ${path.join(first, 'book')} yet.`),
  })
  const server = await serve(first, /one-time code/)
  const made = await fetch(`${server.address}/api/set-up`, {
    method: 'POST',
    headers: { 'content-type': 'application/json', origin: server.address },
    body: JSON.stringify({
      code: /one-time code: ([0-9A-F]{12})/.exec(server.said)?.[1],
      shop: 'Kettle Row',
      name: 'Ewa',
      signIn: 'ewa',
      password: 'a few long words',
    }),
  })
  expect(made.status).toBe(200)
  const cookie = made.headers.get('set-cookie')?.split(';')[0] ?? ''

  const saved = await run('backup', first)
  expect(saved).toEqual({
    code: 0,
    said: expect.stringMatching(/throwbook-book-\S+Z\.tbk: \d+ rows of \d+ tables and 0 files, \d+ bytes, audit chain up to row 1\./),
  })
  const [name] = readdirSync(path.join(first, 'backups'))
  const backup = path.join(first, 'backups', name!)
  expect(statSync(backup).mode & 0o077).toBe(0)
  const elsewhere = path.join(data, 'elsewhere.tbk')
  expect((await run('backup', first, ['--to', elsewhere])).code).toBe(0)
  expect(await run('drill', first)).toEqual({ code: 0, said: expect.stringContaining('Put back into a scratch database') })
  const proofs = (await (await fetch(`${server.address}/api/proofs`, { headers: { cookie } })).json()) as Proofs
  expect(proofs.overdue).toBe(false)
  expect(proofs.rows.map((row) => row.kind).sort()).toEqual(['backup', 'backup', 'backup', 'drill'])

  expect((await run('restore', first, [elsewhere])).said).toContain('open already in another process')
  expect(await stop(server.child)).toBe(0)
  expect((await run('restore', first, [elsewhere])).said).toMatch(/This book is not empty: in it are .*1 of person/)

  const altered = readFileSync(elsewhere)
  altered[3000] = (altered[3000] ?? 0) ^ 1
  writeFileSync(path.join(data, 'altered.tbk'), altered)
  const refused = await run('restore', second, [path.join(data, 'altered.tbk')])
  expect(refused).toEqual({ code: 1, said: expect.stringMatching(/altered\.tbk is damaged.*Nothing was changed\.\n$/s) })
  expect(readdirSync(data)).not.toContain('second')
  expect((await run('restore', second)).said).toBe('Name one FILE.\n')
  expect((await run('restore', second, [elsewhere, '--book', 'shop'])).said).toContain('--book is book or demo')

  const back = await run('restore', second, [elsewhere])
  expect(back).toEqual({
    code: 0,
    said: expect.stringMatching(
      /^The book of \S+Z is back: \d+ rows, 0 files and the audit chain up to row 1 were compared .* all there\.\n$/,
    ),
  })
  const again = await serve(second, /open at/)
  expect(again.said).not.toContain('one-time code')
  expect(await (await fetch(`${again.address}/api/session`, { headers: { cookie } })).json()).toMatchObject({ name: 'Ewa' })
  expect(await stop(again.child)).toBe(0)
})
