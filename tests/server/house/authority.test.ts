import { execFileSync, spawnSync } from 'node:child_process'
import { X509Certificate } from 'node:crypto'
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs'
import { createServer } from 'node:https'
import type { AddressInfo } from 'node:net'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { afterAll, beforeEach, describe, expect, test } from 'vitest'
import { buildApp } from '#server/app.ts'
import { authorityFiles, issue, renewIfDue } from '#server/plugins/authority.ts'
import { readTls } from '#server/plugins/tls.ts'
import { startApp } from '#tests/support/app.ts'
import { ask } from '#tests/support/small-proxy.ts'

const NOW = new Date('2026-11-25T09:00:00Z')
const later = (days: number) => new Date(NOW.getTime() + days * 86_400_000)
const root = path.resolve(import.meta.dirname, '../../..')
const folders: string[] = []
let folder = ''
beforeEach(() => {
  folder = path.join(mkdtempSync(path.join(tmpdir(), 'throwbook-authority-')), 'authority')
  folders.push(path.dirname(folder))
})
afterAll(() => {
  for (const each of folders) rmSync(each, { recursive: true, force: true })
})

const certificate = (file: string) => new X509Certificate(readFileSync(file))

describe('an authority of the shop’s own', () => {
  test('is for signing alone, holds ten years, and signs a certificate for names and addresses', async () => {
    const made = await issue(folder, ['book.shop.lan', '192.168.1.20', 'FD00::1'], NOW)
    expect(made).toMatchObject({
      authority: 'made',
      server: 'made',
      endsOn: '2027-12-27',
      names: ['book.shop.lan', '192.168.1.20', 'fd00::1'],
    })
    const files = authorityFiles(folder)
    const [own, server] = [certificate(files.cert), certificate(files.serverCert)]
    expect([own.ca, server.ca]).toEqual([true, false])
    expect(own.verify(own.publicKey)).toBe(true)
    expect(server.verify(own.publicKey)).toBe(true)
    expect(server.checkIssued(own)).toBe(true)
    expect(server.keyUsage).toEqual(['1.3.6.1.5.5.7.3.1'])
    expect(server.checkHost('book.shop.lan')).toBe('book.shop.lan')
    expect(server.checkHost('other.shop.lan')).toBeUndefined()
    expect([server.checkIP('192.168.1.20'), server.checkIP('fd00::1')]).toEqual(['192.168.1.20', 'fd00::1'])
    // Platforms refuse certificates of a server that hold longer than 398 days.
    expect(new Date(server.validTo).getTime() - new Date(server.validFrom).getTime()).toBeLessThanOrEqual(398 * 86_400_000)
    expect(own.fingerprint256).toBe(made.fingerprint)
  })

  test('lies in a folder and files that its own account alone may read', async () => {
    await issue(folder, ['book.shop.lan'], NOW)
    expect(statSync(folder).mode & 0o777).toBe(0o700)
    expect(readdirSync(folder).sort()).toEqual(['authority.crt', 'authority.key', 'server.crt', 'server.key'])
    for (const file of readdirSync(folder)) expect(statSync(path.join(folder, file)).mode & 0o777, file).toBe(0o600)
  })

  test('is never made anew over one that is there; the certificate is kept until it is due or other names are asked', async () => {
    const files = authorityFiles(folder)
    await issue(folder, ['book.shop.lan', '192.168.1.20'], NOW)
    const [own, first] = [readFileSync(files.cert), readFileSync(files.serverCert)]
    expect(await issue(folder, ['192.168.1.20'], later(10))).toMatchObject({ authority: 'kept', server: 'kept' })
    expect(readFileSync(files.serverCert)).toEqual(first)
    expect(await issue(folder, ['new.shop.lan'], later(10))).toMatchObject({ authority: 'kept', server: 'made', names: ['new.shop.lan'] })
    expect(await issue(folder, [], later(397 - 61 + 10))).toMatchObject({ server: 'kept' })
    expect(await issue(folder, [], later(397 - 59 + 10))).toMatchObject({ server: 'made', names: ['new.shop.lan'] })
    expect(readFileSync(files.cert)).toEqual(own)
    rmSync(files.key)
    await expect(issue(folder, ['book.shop.lan'], NOW)).rejects.toThrow(/Half of the authority/)
    expect(existsSync(files.key)).toBe(false)
  })

  test('says what it cannot use, and when it runs out itself', async () => {
    await expect(issue(folder, [], NOW)).rejects.toThrow('Say the names')
    for (const name of ['https://book.shop.lan', 'book.shop.lan:4180', 'two words', 'a,CN=b', '-x', ''])
      await expect(issue(folder, [name], NOW), name).rejects.toThrow('no host name and no address')
    expect(existsSync(folder)).toBe(false)
    await issue(folder, ['book.shop.lan'], NOW)
    await expect(issue(folder, ['book.shop.lan'], later(3_300))).rejects.toThrow('runs out')
  })

  test('a start renews what it made itself, in good time, and leaves other certificates alone', async () => {
    await issue(folder, ['book.shop.lan'], NOW)
    const { serverCert } = authorityFiles(folder)
    expect(await renewIfDue(folder, serverCert, later(100))).toEqual([])
    expect(await renewIfDue(folder, serverCert, later(360))).toEqual([expect.stringContaining('it holds to 2028-12-')])
    expect(certificate(serverCert).checkHost('book.shop.lan')).toBe('book.shop.lan')
    expect(await renewIfDue(folder, '/etc/ssl/other.crt', later(2_000))).toEqual([])
  })

  test('a device that trusts it reaches the book, and fetches it from there', async () => {
    const it = await startApp()
    await issue(folder, ['127.0.0.1'], new Date())
    const files = authorityFiles(folder)
    const { tls } = readTls({ certFile: files.serverCert, keyFile: files.serverKey }, new Date(), 'https://127.0.0.1:4180')
    const app = await buildApp({ db: it.db, clock: () => it.clock.now, files: it.app.files, tls, authority: folder })
    const address = await app.listen({ port: 0, host: '127.0.0.1' })
    const ca = readFileSync(files.cert, 'utf8')
    const fetched = await ask(`${address}/authority.crt`, { ca })
    expect(fetched.text).toBe(ca)
    expect(fetched.headers['content-type']).toBe('application/x-x509-ca-cert')
    await expect(ask(`${address}/api/health`)).rejects.toThrow(/certificate/)
    for (const secret of ['/authority.key', '/server.key', '/authority/authority.key'])
      expect((await ask(`${address}${secret}`, { ca })).status).toBe(404)
    await app.close()
    const without = await buildApp({ db: it.db, clock: () => it.clock.now, files: it.app.files, authority: path.join(folder, 'none') })
    expect((await without.inject('/authority.crt')).statusCode).toBe(404)
    await without.close()
  })

  test('the command says where the files are and how devices come to trust it', () => {
    const env = { ...process.env, DATA_DIR: path.dirname(folder) }
    const run = (...names: string[]) =>
      spawnSync(process.execPath, ['--import', 'tsx', 'server/authority.ts', ...names], { cwd: root, env, encoding: 'utf8' })
    const { status, stdout } = run('book.shop.lan', '192.168.1.20')
    expect(status).toBe(0)
    for (const words of [
      `TLS_CERT=${folder}/server.crt`,
      `TLS_KEY=${folder}/server.key`,
      'PUBLIC_URL=https://book.shop.lan:4180',
      'Android',
      'iPad',
    ])
      expect(stdout).toContain(words)
    expect(stdout).toContain(certificate(authorityFiles(folder).cert).fingerprint256)
    const again = run('https://book.shop.lan')
    expect([again.status, again.stdout]).toEqual([1, ''])
    expect(again.stderr).toContain('without https://')
  })
})

describe('certificate and key of a server', () => {
  async function pair(names = ['book.shop.lan'], at = NOW) {
    await issue(folder, names, at)
    const { serverCert, serverKey } = authorityFiles(folder)
    return { certFile: serverCert, keyFile: serverKey }
  }

  test('serve when they fit; a name that is not PUBLIC_URL’s and an end that is near are said', async () => {
    const files = await pair()
    expect(readTls(files, NOW, 'https://book.shop.lan').says).toEqual([])
    expect(readTls(files, NOW, 'https://other.example:4180').says).toEqual([expect.stringContaining('does not name other.example')])
    expect(readTls(files, later(380), undefined).says).toEqual([expect.stringContaining('2027-12-27, in 17 days')])
    const { tls } = readTls(files, NOW, undefined)
    const server = createServer(tls).listen(0)
    expect((server.address() as AddressInfo).port).toBeGreaterThan(0)
    server.close()
  })

  test('are refused in words: missing, no certificate, no key, another’s key, locked, run out, not yet', async () => {
    const files = await pair()
    const other = path.join(path.dirname(folder), 'other')
    await issue(other, ['x.lan'], NOW)
    const odd = path.join(path.dirname(folder), 'odd.pem')
    writeFileSync(odd, 'not PEM')
    const locked = path.join(path.dirname(folder), 'locked.key')
    execFileSync(process.execPath, [
      '-e',
      `const c=require('crypto');require('fs').writeFileSync(process.argv[1],c.generateKeyPairSync('ec',{namedCurve:'P-256'}).privateKey.export({type:'pkcs8',format:'pem',cipher:'aes-256-cbc',passphrase:'x'}))`,
      locked,
    ])
    const read =
      (more: Partial<typeof files>, at = NOW) =>
      () =>
        readTls({ ...files, ...more }, at, undefined)
    expect(read({ certFile: '/nowhere/server.crt' })).toThrow('TLS_CERT names /nowhere/server.crt, which is not there.')
    expect(read({ keyFile: '/nowhere/server.key' })).toThrow('TLS_KEY names /nowhere/server.key, which is not there.')
    expect(read({ certFile: odd })).toThrow('There is no certificate in')
    expect(read({ keyFile: odd })).toThrow('There is no private key in')
    expect(read({ keyFile: authorityFiles(other).serverKey })).toThrow('is not the one of the certificate')
    expect(read({ keyFile: locked })).toThrow('locked with a passphrase')
    expect(read({}, later(398))).toThrow('ran out on 2027-12-27')
    expect(read({}, later(-3))).toThrow('holds from 2026-11-24 on')
  })

  test('keep a server from starting, in one plain line', async () => {
    const { certFile } = await pair()
    const { status, stderr } = spawnSync(process.execPath, ['--import', 'tsx', 'server/main.ts'], {
      cwd: root,
      env: { ...process.env, DATA_DIR: path.dirname(folder), TLS_CERT: certFile, TLS_KEY: '/nowhere/server.key', PORT: '0' },
      encoding: 'utf8',
    })
    expect(status).toBe(1)
    expect(stderr).toBe('TLS_KEY names /nowhere/server.key, which is not there. Look at the path and start again.\n')
  })
})
