import type { WayInFault } from '#contract/way-in.ts'

/** One request as it reached the book, and what the browser says of the page that it came from. */
export interface Arrival {
  /** Origin of the page in the browser. */
  seen: string
  /** As the book takes them, after the headers of proxies that it believes. */
  protocol: string
  host: string
  /** Who opened the connection: the last proxy, or the browser itself. */
  peer: string
  forwardedProto: string | undefined
  forwardedPrefix: string | undefined
  publicUrl: string | undefined
}

/**
 * What keeps people from signing in, or will: a proxy that does not say how the browser came, and an address that is not
 * the book's. The browser knows how it came, the book knows what arrived; where the two differ something between them is set wrong.
 */
export function faultsOfWayIn(at: Arrival): WayInFault[] {
  const seen = new URL(at.seen)
  const faults = [protocolFault(at, seen.protocol === 'https:'), hostFault(at, seen.host), pathFault(at)].filter(
    (fault) => fault !== undefined,
  )
  if (faults.length === 0 && at.publicUrl !== undefined && new URL(at.publicUrl).origin !== seen.origin)
    faults.push({
      code: 'other-address',
      says: `This book’s own address is ${at.publicUrl}; you opened ${seen.origin}.`,
      mend: `Open ${at.publicUrl}, or set PUBLIC_URL to the address that people use: links and QR codes carry it.`,
    })
  return faults
}

function protocolFault({ protocol, forwardedProto, peer }: Arrival, cameByHttps: boolean): WayInFault | undefined {
  if (cameByHttps === (protocol === 'https')) return undefined
  if (!cameByHttps)
    return {
      code: 'says-https',
      says: 'You came by plain http, but the proxy in front says https: the browser then refuses to keep a sign-in.',
      mend: 'Open the book’s https address, or let the proxy send X-Forwarded-Proto: http where it serves http.',
    }
  const said = forwardedProto?.split(',').at(-1)?.trim()
  if (said === undefined)
    return {
      code: 'proto-missing',
      says: 'You came by https, but the proxy in front does not tell the book so.',
      mend: `Let the proxy send the header X-Forwarded-Proto: https, and start the book with TRUST_PROXY=${peer}.`,
    }
  if (said === 'https')
    return {
      code: 'proto-not-believed',
      says: `The proxy says that you came by https, but the book does not believe what ${peer} says.`,
      mend: `Start the book with TRUST_PROXY=${peer}.`,
    }
  return {
    code: 'proto-http',
    says: 'You came by https, but the last proxy before the book says http.',
    mend: 'Let it pass X-Forwarded-Proto on as it came from the proxy that serves https.',
  }
}

function hostFault({ host }: Arrival, seenHost: string): WayInFault | undefined {
  if (host === seenHost) return undefined
  return {
    code: 'host-changed',
    says: `You opened ${seenHost}, but the proxy in front tells the book ${host}.`,
    mend: 'Let the proxy pass the header Host on as it came from the browser.',
  }
}

function pathFault({ forwardedPrefix }: Arrival): WayInFault | undefined {
  if (forwardedPrefix === undefined || forwardedPrefix === '' || forwardedPrefix === '/') return undefined
  return { code: 'path-in-front', says: pathWords(forwardedPrefix), mend: PATH_MEND }
}

export function pathWords(prefix: string): string {
  return `The proxy puts the book under the path ${prefix}, where its pages do not find each other.`
}

export const PATH_MEND = 'Give the book a host name or a port of its own, as https://book.example, without a path (X-Forwarded-Prefix).'
