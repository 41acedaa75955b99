import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, expect, test } from 'vitest'
import { buildApp } from '#server/app.ts'
import { bookVersion, builtVersion, VERSION_FILE } from '#server/plugins/book-version.ts'
import { startApp } from '#tests/support/app.ts'

const it = await startApp()
const root = mkdtempSync(path.join(tmpdir(), 'throwbook-version-'))
afterAll(() => rmSync(root, { recursive: true, force: true }))

function write(file: string, text: string): void {
  mkdirSync(path.dirname(path.join(root, file)), { recursive: true })
  writeFileSync(path.join(root, file), text)
}

test('the version goes with what page and server share, and with nothing else', () => {
  write('server/contract/jobs.ts', 'one')
  write('server/core/bench/fit.ts', 'two')
  const first = bookVersion(root)
  expect(first).toMatch(/^[0-9a-f]{16}$/)
  write('server/features/jobs/store.ts', 'three')
  expect(bookVersion(root)).toBe(first)
  write('server/core/bench/fit.ts', 'too')
  const second = bookVersion(root)
  expect(second).not.toBe(first)
  write('server/core/bench/fit.ts', 'two')
  expect(bookVersion(root)).toBe(first)
  write('server/contract/kits.ts', '')
  expect(bookVersion(root)).not.toBe(first)
})

test('every answer under /api carries the version of the screens that are given out, refusals too; pages do not', async () => {
  const webFolder = path.join(root, 'web')
  write('web/index.html', '<!doctype html><title>Throwbook</title>')
  const ask = async (url: string) => {
    const app = await buildApp({ db: it.db, clock: () => it.clock.now, files: it.app.files, webFolder })
    const answer = await app.inject({ url })
    await app.close()
    return { status: answer.statusCode, version: answer.headers['book-version'] }
  }
  expect(builtVersion(webFolder)).toBeUndefined()
  expect(await ask('/api/health')).toEqual({ status: 200, version: undefined })
  write(`web/${VERSION_FILE}`, 'of-monday')
  expect(builtVersion(webFolder)).toBe('of-monday')
  expect(await ask('/api/health')).toEqual({ status: 200, version: 'of-monday' })
  expect(await ask('/api/jobs')).toEqual({ status: 401, version: 'of-monday' })
  expect(await ask('/counter')).toEqual({ status: 200, version: undefined })
})
