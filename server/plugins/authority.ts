/**
 * A shop's own authority, for https on its own network without a name that the world knows: one certificate that the
 * tablets are told to trust, and one signed by it that this server shows.
 */
import { X509Certificate } from 'node:crypto'
import { chmodSync, existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs'
import { isIP } from 'node:net'
import path from 'node:path'
import type { FastifyInstance } from 'fastify'

/** It cannot be made as asked; the message says what to do about it. */
export class AuthorityTrouble extends Error {
  override name = 'AuthorityTrouble'
}

const DAY_MS = 86_400_000
/** Ten years for the authority, which is put on every tablet by hand; 397 days for the server, as public ones have. */
const DAYS = { authority: 3_650, server: 397, renewWhenLeft: 60 } as const

export function authorityFiles(folder: string) {
  const at = (name: string) => path.join(folder, name)
  return { cert: at('authority.crt'), key: at('authority.key'), serverCert: at('server.crt'), serverKey: at('server.key') }
}

export interface Issued {
  /** Whether the authority was made now; the server's certificate was made now, or still holds. */
  authority: 'made' | 'kept'
  server: 'made' | 'kept'
  names: string[]
  endsOn: string
  /** SHA-256 of the authority's certificate, as devices show it. */
  fingerprint: string
}

/** Makes the authority once and never again, and a certificate for these names when there is none that holds long enough. */
export async function issue(folder: string, names: readonly string[], now: Date): Promise<Issued> {
  const wanted = [...new Set(names.map(asName))]
  const files = authorityFiles(folder)
  const there = [files.cert, files.key].filter((file) => existsSync(file))
  if (there.length === 1)
    throw new AuthorityTrouble(
      `Half of the authority is in ${folder}: only ${path.basename(there[0] ?? '')}. Bring the other file back from where the folder is kept, or move the folder away and put a new authority on every tablet.`,
    )
  if (wanted.length === 0 && !existsSync(files.serverCert))
    throw new AuthorityTrouble('Say the names that the tablets will call, as: npm run authority -- book.shop.lan 192.168.1.20')
  mkdirSync(folder, { recursive: true, mode: 0o700 })
  chmodSync(folder, 0o700)
  const authority = there.length === 2 ? 'kept' : 'made'
  if (authority === 'made') await makeAuthority(folder, wanted[0] ?? 'this shop', now)
  const own = new X509Certificate(readFileSync(files.cert))
  if (new Date(own.validTo).getTime() - now.getTime() < DAYS.server * DAY_MS)
    throw new AuthorityTrouble(
      `The authority itself runs out on ${own.validTo}. Move ${folder} away, run this again, and put the new authority on every tablet.`,
    )
  const shown = existsSync(files.serverCert) ? new X509Certificate(readFileSync(files.serverCert)) : undefined
  const has = shown === undefined ? [] : namesIn(shown)
  const forNames = wanted.length > 0 ? wanted : has
  const holds =
    shown?.checkIssued(own) === true && forNames.every((name) => has.includes(name)) && daysLeft(shown, now) >= DAYS.renewWhenLeft
  if (!holds) await makeServer(folder, forNames, now)
  const server = new X509Certificate(readFileSync(files.serverCert))
  return {
    authority,
    server: holds ? 'kept' : 'made',
    names: namesIn(server),
    endsOn: new Date(server.validTo).toISOString().slice(0, 10),
    fingerprint: own.fingerprint256,
  }
}

/** At a start on the shop's own certificate: makes the next one for the same names in good time. */
export async function renewIfDue(folder: string, certFile: string, now: Date): Promise<string[]> {
  const files = authorityFiles(folder)
  if (path.resolve(certFile) !== files.serverCert || !existsSync(files.serverCert) || !existsSync(files.key)) return []
  const { server, endsOn } = await issue(folder, [], now)
  return server === 'made' ? [`The certificate of this server was renewed by the shop’s own authority; it holds to ${endsOn}.`] : []
}

/** Lets a tablet fetch the authority’s certificate, which is no secret, from the server itself. */
export function offerAuthority(app: FastifyInstance, folder: string): void {
  const { cert } = authorityFiles(folder)
  if (!existsSync(cert)) return
  app.get('/authority.crt', { schema: { hide: true } }, (_request, reply) =>
    reply
      .type('application/x-x509-ca-cert')
      .header('content-disposition', 'attachment; filename="throwbook-authority.crt"')
      .header('cache-control', 'no-cache')
      .send(readFileSync(cert)),
  )
}

const HOST = /^(?=.{1,253}$)[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?(\.[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?)*$/

function asName(given: string): string {
  const name = given.trim().toLowerCase()
  if (isIP(name) === 0 && !HOST.test(name))
    throw new AuthorityTrouble(
      `${given} is no host name and no address. Write it as book.shop.lan or 192.168.1.20, without https:// and port.`,
    )
  return plain(name)
}

/** An IPv6 address can be written in more than one way; browsers write the short one (RFC 5952). */
function plain(name: string): string {
  return isIP(name) === 6 ? new URL(`http://[${name}]`).hostname.slice(1, -1) : name
}

function namesIn(certificate: X509Certificate): string[] {
  return (certificate.subjectAltName ?? '')
    .split(', ')
    .map((one) => /^(?:DNS|IP Address):(.+)$/.exec(one)?.[1]?.toLowerCase())
    .filter((one) => one !== undefined)
    .map(plain)
}

function daysLeft(certificate: X509Certificate, now: Date): number {
  return (new Date(certificate.validTo).getTime() - now.getTime()) / DAY_MS
}

function until(now: Date, days: number) {
  // Begins a day back, for tablets whose clocks are slow.
  return { notBeforeDate: new Date(now.getTime() - DAY_MS), notAfterDate: new Date(now.getTime() + days * DAY_MS) }
}

const KIND = { keyType: 'ec', curve: 'P-256', algorithm: 'sha256' } as const

async function makeAuthority(folder: string, of: string, now: Date): Promise<void> {
  // A large library that only this needs.
  const { generate } = await import('selfsigned')
  const made = await generate([{ name: 'commonName', value: `Throwbook authority of ${of}` }], {
    ...KIND,
    ...until(now, DAYS.authority),
    extensions: [
      { name: 'basicConstraints', cA: true, pathLenConstraint: 0, critical: true },
      { name: 'keyUsage', keyCertSign: true, cRLSign: true, critical: true },
    ],
  })
  const files = authorityFiles(folder)
  // `wx`: an authority that is on the tablets is never written over.
  writeFileSync(files.key, made.private, { mode: 0o600, flag: 'wx' })
  writeFileSync(files.cert, made.cert, { mode: 0o600, flag: 'wx' })
}

async function makeServer(folder: string, names: readonly string[], now: Date): Promise<void> {
  const { generate } = await import('selfsigned')
  const files = authorityFiles(folder)
  const made = await generate([{ name: 'commonName', value: names[0] ?? 'throwbook' }], {
    ...KIND,
    ...until(now, DAYS.server),
    ca: { key: readFileSync(files.key, 'utf8'), cert: readFileSync(files.cert, 'utf8') },
    extensions: [
      { name: 'basicConstraints', cA: false, critical: true },
      { name: 'keyUsage', digitalSignature: true, critical: true },
      { name: 'extKeyUsage', serverAuth: true },
      {
        name: 'subjectAltName',
        altNames: names.map((name) => (isIP(name) === 0 ? ({ type: 2, value: name } as const) : ({ type: 7, ip: name } as const))),
      },
    ],
  })
  writeFileSync(files.serverKey, made.private, { mode: 0o600 })
  writeFileSync(files.serverCert, made.cert, { mode: 0o600 })
}
