import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { connect } from 'node:tls'
import type { FastifyInstance } from 'fastify'
import { afterAll, describe, expect, test } from 'vitest'
import type { WayInFault } from '#contract/way-in.ts'
import { type AppOptions, buildApp } from '#server/app.ts'
import { ConfigTrouble, readConfig } from '#server/config.ts'
import { authorityFiles, issue } from '#server/plugins/authority.ts'
import { readTls } from '#server/plugins/tls.ts'
import { startApp } from '#tests/support/app.ts'
import { bookJob } from '#tests/support/factories.ts'
import { startServer } from '#tests/support/server-process.ts'
import { ask, type ProxyOptions, type SmallProxy, startProxy } from '#tests/support/small-proxy.ts'

const it = await startApp()
const folder = mkdtempSync(path.join(tmpdir(), 'throwbook-network-'))
const authority = path.join(folder, 'authority')
await issue(authority, ['127.0.0.1', 'book.shop.lan'], new Date())
const files = authorityFiles(authority)
const ca = readFileSync(files.cert, 'utf8')
const { tls } = readTls({ certFile: files.serverCert, keyFile: files.serverKey }, new Date(), undefined)

const webFolder = path.join(folder, 'web')
mkdirSync(path.join(webFolder, 'assets'), { recursive: true })
writeFileSync(path.join(webFolder, 'index.html'), readFileSync(path.resolve(import.meta.dirname, '../../../web/index.html')))

const PASSWORD = 'copper hammer and lead block'
const owner = await it.as('owner')
await owner.post('/api/people', { signIn: 'hana', name: 'Hana', role: 'counter', password: PASSWORD }).expect(201)

const apps: FastifyInstance[] = []
const proxies: SmallProxy[] = []
afterAll(async () => {
  for (const proxy of proxies) await proxy.close()
  for (const app of apps) await app.close()
  rmSync(folder, { recursive: true, force: true })
})

/** A server on the same book, set as the test says, and where it listens. */
async function serve(options: Partial<AppOptions> = {}): Promise<string> {
  const app = await buildApp({ db: it.db, clock: () => it.clock.now, files: it.app.files, webFolder, ...options })
  apps.push(app)
  return app.listen({ port: 0, host: '127.0.0.1' })
}

async function behind(target: string, options: ProxyOptions): Promise<string> {
  const proxy = await startProxy(target, options)
  proxies.push(proxy)
  return proxy.address
}

/** Signs in as a browser at this address would, and asks again with the cookie that it would send back. */
async function signIn(address: string, more: Record<string, string> = {}) {
  const answer = await ask(`${address}/api/session`, {
    method: 'POST',
    body: { name: 'hana', password: PASSWORD },
    headers: { origin: address, ...more },
    ca,
  })
  const cookie = answer.cookies[0] ?? ''
  // A browser keeps a Secure cookie from a page that came by https only (RFC 6265bis §5.5).
  const keeps = cookie !== '' && (!cookie.includes('Secure') || address.startsWith('https'))
  const next = await ask(`${address}/api/session`, { headers: keeps ? { cookie: cookie.split(';')[0] ?? '' } : {}, ca })
  return { status: answer.status, cookie, next: next.status, hsts: answer.headers['strict-transport-security'] }
}

async function faults(address: string, seen = address): Promise<WayInFault[]> {
  const answer = await ask(`${address}/api/way-in?seen=${encodeURIComponent(seen)}`, { ca })
  expect(answer.status).toBe(200)
  return answer.body.faults as WayInFault[]
}

const forwarding =
  (proto: string): NonNullable<ProxyOptions['headers']> =>
  (given) => ({ ...given, 'x-forwarded-proto': proto })

describe('ways in (S10)', () => {
  test('plain http, straight: signed in with a cookie that http keeps, nothing to say', async () => {
    const address = await serve()
    const { cookie, ...rest } = await signIn(address)
    expect(rest).toEqual({ status: 200, next: 200, hsts: undefined })
    expect(cookie).toMatch(/^throwbook=[\w-]{43}; Path=\/; HttpOnly; SameSite=Strict$/)
    expect(await faults(address)).toEqual([])
  })

  test('https by the server itself: a cookie bound to the host, TLS 1.2 at least', async () => {
    const address = await serve({ tls })
    const { cookie, ...rest } = await signIn(address)
    expect(rest).toEqual({ status: 200, next: 200, hsts: 'max-age=31536000; includeSubDomains' })
    expect(cookie).toMatch(/^__Host-throwbook=[\w-]{43}; Path=\/; HttpOnly; Secure; SameSite=Strict$/)
    expect(await faults(address)).toEqual([])
    expect(await handshake(address, 'TLSv1.1')).toMatch(/protocol version/i)
    expect(await handshake(address, 'TLSv1.2')).toBe('TLSv1.2')
  })

  test('a TLS proxy that says so and is believed: as https itself', async () => {
    const address = await behind(await serve({ trustProxy: ['127.0.0.1'] }), { tls, headers: forwarding('https') })
    const { cookie, ...rest } = await signIn(address)
    expect(rest).toMatchObject({ status: 200, next: 200 })
    expect(cookie).toMatch(/^__Host-throwbook=.*Secure/)
    expect(await faults(address)).toEqual([])
  })

  test('a TLS proxy that does not say so: signed in without a loop, and the header and the setting are named', async () => {
    const address = await behind(await serve({ trustProxy: ['127.0.0.1'] }), { tls })
    const { cookie, ...rest } = await signIn(address)
    expect(rest).toMatchObject({ status: 200, next: 200 })
    // https is not certain, so no cookie is given that plain http would lose.
    expect(cookie).not.toMatch(/Secure|__Host-/)
    const [fault, ...more] = await faults(address)
    expect(more).toEqual([])
    expect(fault).toMatchObject({ code: 'proto-missing', mend: expect.stringContaining('X-Forwarded-Proto: https') })
    expect(fault?.mend).toContain('TRUST_PROXY=127.0.0.1')
  })

  test('a TLS proxy that says so and is not believed: TRUST_PROXY is named with the address to put there', async () => {
    const address = await behind(await serve(), { tls, headers: forwarding('https') })
    expect(await signIn(address)).toMatchObject({ status: 200, next: 200 })
    expect(await faults(address)).toMatchObject([{ code: 'proto-not-believed', mend: 'Start the book with TRUST_PROXY=127.0.0.1.' }])
  })

  test('of two proxies the inner one says http: that is named', async () => {
    const address = await behind(await serve({ trustProxy: ['127.0.0.1'] }), { tls, headers: forwarding('http') })
    expect(await signIn(address)).toMatchObject({ status: 200, next: 200 })
    expect(await faults(address)).toMatchObject([{ code: 'proto-http' }])
  })

  test('a proxy on plain http that says https: the browser keeps no sign-in, and the reason is said', async () => {
    const address = await behind(await serve({ trustProxy: ['127.0.0.1'] }), { headers: forwarding('https') })
    expect(await signIn(address)).toMatchObject({ status: 200, next: 401 })
    expect(await faults(address)).toMatchObject([{ code: 'says-https', mend: expect.stringContaining('https address') }])
  })

  test('a proxy that changes Host: named, and no sign-in for a browser that says nothing else of itself', async () => {
    const changed: ProxyOptions = { headers: (given) => ({ ...given, host: 'inner:4180' }) }
    const address = await behind(await serve(), changed)
    expect(await faults(address)).toMatchObject([{ code: 'host-changed', mend: expect.stringContaining('header Host') }])
    expect(await signIn(address)).toMatchObject({ status: 403 })
    // Browsers that say where a request comes from are let in by that alone.
    expect(await signIn(address, { 'sec-fetch-site': 'same-origin' })).toMatchObject({ status: 200, next: 200 })
  })

  test('PUBLIC_URL is let in by its origin, and another address is told of it', async () => {
    const address = await serve({ publicUrl: 'https://book.example' })
    expect(await signIn(address, { origin: 'https://book.example' })).toMatchObject({ status: 200 })
    expect(await signIn(address, { origin: 'https://book.example.evil' })).toMatchObject({ status: 403 })
    expect(await faults(address)).toMatchObject([{ code: 'other-address', mend: expect.stringContaining('PUBLIC_URL') }])
    expect(await faults(address, 'http://book.example:1')).toMatchObject([{ code: 'host-changed' }])
  })

  test('a path in front: the page says so in words, with the header and without it', async () => {
    const target = await serve()
    const told = await behind(target, { prefix: '/book', headers: (given) => ({ ...given, 'x-forwarded-prefix': '/book' }) })
    const page = await ask(`${told}/book/sign-in`)
    expect(page.headers['content-type']).toBe('text/html; charset=utf-8')
    expect(page.text).toContain('under the path /book')
    expect(page.text).not.toContain('<script')
    expect(await faultsUnder(`${told}/book`)).toMatchObject([{ code: 'path-in-front' }])
    const untold = await behind(target, { prefix: '/book' })
    // The screens never arrive, since the page asks for them beside the path; what stays on it names the cause.
    expect((await ask(`${untold}/book/sign-in`)).text).toContain('a proxy puts')
    expect((await ask(`${untold}/assets/index.js`)).status).toBe(404)
    const odd = await ask(`${target}/sign-in`, { headers: { 'x-forwarded-prefix': '/"><script>alert(1)</script>' } })
    expect(odd.text).not.toContain('alert(1)')
  })

  test('what is no origin is refused in the usual form', async () => {
    expect((await ask(`${await serve()}/api/way-in?seen=nowhere`)).body).toMatchObject({ type: '/problems/validation' })
  })
})

async function faultsUnder(address: string): Promise<WayInFault[]> {
  const seen = new URL(address).origin
  return (await ask(`${address}/api/way-in?seen=${encodeURIComponent(seen)}`)).body.faults as WayInFault[]
}

function handshake(address: string, version: 'TLSv1.1' | 'TLSv1.2'): Promise<string> {
  const { hostname, port } = new URL(address)
  return new Promise((resolve) => {
    const socket = connect(
      // The client itself would not offer 1.1 at the usual level.
      { host: hostname, port: Number(port), ca, minVersion: version, maxVersion: version, ciphers: 'DEFAULT@SECLEVEL=0' },
      () => {
        resolve(socket.getProtocol() ?? '')
        socket.destroy()
      },
    )
    socket.once('error', (error) => resolve(error.message))
  })
}

describe('addresses', () => {
  const wrong = (address: string, forwarded: string) =>
    ask(`${address}/api/session`, {
      method: 'POST',
      body: { name: 'hana', password: 'not this one at all' },
      headers: { origin: address, 'x-forwarded-for': forwarded },
      ca,
    })
  const subjects = async () => (await it.db.prisma.signInFailure.findMany({ select: { subject: true } })).map((row) => row.subject)

  test('a forged X-Forwarded-For counts for nothing, straight or through the proxy (L5)', async () => {
    const straight = await serve({ trustProxy: ['10.0.0.1'] })
    expect((await wrong(straight, '6.6.6.6')).status).toBe(401)
    const proxied = await behind(await serve({ trustProxy: ['127.0.0.1'] }), {
      // A proxy adds the address that it sees to whatever came.
      headers: (given) => ({ ...given, 'x-forwarded-for': `${given['x-forwarded-for']}, 192.0.2.7`, host: given.host }),
    })
    expect((await wrong(proxied, '6.6.6.6')).status).toBe(401)
    expect((await subjects()).sort()).toEqual(['password hana 127.0.0.1', 'password hana 192.0.2.7'])
  })

  test('a guesser cannot get more guesses by forging addresses', async () => {
    const address = await serve()
    const answers = []
    for (let n = 0; n < 12; n++) answers.push((await wrong(address, `10.9.8.${n}`)).status)
    expect(answers.filter((status) => status === 429).length).toBeGreaterThanOrEqual(2)
  })

  test('links and codes carry PUBLIC_URL, else the address of the request', async () => {
    const job = await bookJob(it)
    const cookie = { cookie: owner.cookie, 'sec-fetch-site': 'same-origin' }
    const link = async (address: string, key: string) =>
      (
        await ask(`${address}/api/jobs/${job.id}/link`, {
          method: 'POST',
          headers: { ...cookie, 'idempotency-key': key },
          body: {},
        })
      ).body.url as string
    const plain = await serve()
    expect(await link(plain, 'link-straight')).toMatch(new RegExp(`^${plain}/crank/`))
    expect(await link(await serve({ publicUrl: 'https://book.example' }), 'link-public')).toMatch(/^https:\/\/book\.example\/crank\//)
  })
})

test('a server started anew knows who is signed in (S11)', async () => {
  it.clock.pass(20)
  const first = await serve()
  const { cookie } = await signIn(first)
  await apps.pop()?.close()
  const second = await serve()
  expect((await ask(`${second}/api/session`, { headers: { cookie: cookie.split(';')[0] ?? '' } })).status).toBe(200)
})

describe('settings of the network', () => {
  const read = (env: Record<string, string>) => readConfig(env, 'book', folder)

  test('PUBLIC_URL takes no path, TRUST_PROXY no count, FILES_URL a folder; each refusal says how it looks', () => {
    expect(() => read({ PUBLIC_URL: 'https://example.org/book' })).toThrow(/PUBLIC_URL: carries a path/)
    expect(read({ PUBLIC_URL: 'https://book.example/' }).publicUrl).toBe('https://book.example')
    for (const given of ['1', 'true', 'proxy.lan', '10.0.0.0/33', '127.0.0.1, x', '10.0.0.0/8/8'])
      expect(() => read({ TRUST_PROXY: given }), given).toThrow(/TRUST_PROXY: lists addresses/)
    expect(read({ TRUST_PROXY: '127.0.0.1, 10.0.0.0/8,loopback, ::1' }).trustProxy).toEqual(['127.0.0.1', '10.0.0.0/8', 'loopback', '::1'])
    for (const given of ['s3://bucket/photos', 'https://files.example', 'relative/folder', 'file://elsewhere/share'])
      expect(() => read({ FILES_URL: given }), given).toThrow(ConfigTrouble)
    expect(() => read({ FILES_URL: 's3://bucket/photos' })).toThrow(/FILES_URL: names a folder/)
    expect(read({ FILES_URL: 'file:///srv/throwbook/files' }).files).toBe('/srv/throwbook/files')
    expect(read({ FILES_URL: '/srv/throwbook/files' }).files).toBe('/srv/throwbook/files')
    expect(read({ DATA_DIR: 'here' }).files).toBe(path.join(folder, 'here', 'book', 'files'))
  })

  test('a folder of photos that cannot be made keeps the server from starting, in words', async () => {
    const file = path.join(folder, 'a-file')
    writeFileSync(file, '')
    await expect(startServer({ FILES_URL: path.join(file, 'photos'), DATA_DIR: folder })).rejects.toThrow(
      /ended with 1: The folder of photos and papers, .*a-file\/photos .*cannot be made or written \(ENOTDIR\)/,
    )
  })

  test('every range that is taken as TRUST_PROXY is one that the server understands', async () => {
    await serve({ trustProxy: read({ TRUST_PROXY: '127.0.0.1,10.0.0.0/8,loopback,linklocal,uniquelocal,fd00::/8' }).trustProxy })
  })
})

test('a tablet may fetch all files of the screens in one second without shutting its address out of the book', async () => {
  await serve()
  const app = apps.at(-1)!
  const file = () => app.inject({ method: 'GET', url: '/', remoteAddress: '192.0.2.7' })
  const answers = await Promise.all(Array.from({ length: 900 }, file))
  expect(new Set(answers.map((one) => one.statusCode))).toEqual(new Set([200]))
  expect((await app.inject({ method: 'GET', url: '/api/door', remoteAddress: '192.0.2.7' })).statusCode).toBe(200)
})
