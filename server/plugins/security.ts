/** Headers set by hand, the check against other sites, and the limits on how much and how often. */
import rateLimit from '@fastify/rate-limit'
import type { FastifyInstance, FastifyRequest } from 'fastify'
import { Problem } from './errors.ts'

export const REQUESTS_A_SECOND = 200

const POLICY = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self' blob: data:",
  "font-src 'self'",
  "connect-src 'self'",
  "manifest-src 'self'",
  "worker-src 'self'",
  "form-action 'self'",
  "base-uri 'none'",
  "frame-ancestors 'none'",
  "object-src 'none'",
].join('; ')

const HEADERS = {
  'content-security-policy': POLICY,
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'cross-origin-resource-policy': 'same-origin',
  'permissions-policy': 'camera=(), geolocation=(), microphone=(), payment=(), usb=()',
  'x-frame-options': 'DENY',
}

const UNSAFE = new Set(['POST', 'PUT', 'PATCH', 'DELETE'])

export async function installSecurity(app: FastifyInstance): Promise<void> {
  app.addHook('onRequest', async (request, reply) => {
    reply.headers(HEADERS)
    if (request.protocol === 'https') reply.header('strict-transport-security', 'max-age=31536000; includeSubDomains')
    if (request.url.startsWith('/api')) reply.header('cache-control', 'no-store')
    if (UNSAFE.has(request.method)) mustComeFromHere(request, app.publicUrl)
  })
  await app.register(rateLimit, {
    // Counted after sign-in is known: a person has a limit of their own, and a shop behind one address is not shut out.
    hook: 'preHandler',
    max: REQUESTS_A_SECOND,
    timeWindow: 1000,
    // A tablet that installs the screens fetches all their files in one second, and a shop's tablets share one address.
    allowList: (request) => !request.url.startsWith('/api/'),
    keyGenerator: (request) => request.signedIn?.id ?? request.ip,
    errorResponseBuilder: () => new Problem('rate-limited', 'Too many requests at once. Wait a second.', {}, 1),
  })
}

/**
 * Another site's page must not act with this person's cookie: the browser says where a request comes from
 * (Sec-Fetch-Site), and where it does not, Origin has to name this host or the book's own address. (OWASP Cross-Site Request Forgery Prevention
 * Cheat Sheet, 2026.) A request that says neither is not a browser with our cookie at work.
 */
function mustComeFromHere(request: FastifyRequest, publicUrl: string | undefined): void {
  const { 'sec-fetch-site': site, origin } = request.headers
  if (site !== undefined) {
    if (site === 'same-origin') return
  } else if (origin !== undefined && (hostOf(origin) === request.host || origin === publicUrl)) return
  throw new Problem('forbidden', 'This request does not come from the book’s own pages. Open the book itself and try again.')
}

function hostOf(origin: string): string | undefined {
  return URL.canParse(origin) ? new URL(origin).host : undefined
}
