/** Who is at the other end: sessions by cookie, enrolled devices, and the policy table enforced at every route. */
import { createHash, randomBytes } from 'node:crypto'
import cookie from '@fastify/cookie'
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { mayUse, POLICY } from '#contract/policy.ts'
import { type FoundSession, findSession } from '#server/features/sessions/store.ts'
import { Problem } from './errors.ts'

export interface SignedIn extends FoundSession {
  sessionHash: Uint8Array<ArrayBuffer>
}

declare module 'fastify' {
  interface FastifyRequest {
    signedIn: SignedIn | null
    /** The person signed in; throws 401 where nobody is. */
    caller(): SignedIn
  }
}

export const newToken = (): string => randomBytes(32).toString('base64url')
export const hashOf = (token: string): Uint8Array<ArrayBuffer> => new Uint8Array(createHash('sha256').update(token).digest())

function names(request: FastifyRequest): { session: string; device: string } {
  const prefix = request.protocol === 'https' ? '__Host-' : ''
  return { session: `${prefix}throwbook`, device: `${prefix}throwbook-tablet` }
}

function options(request: FastifyRequest) {
  return { path: '/', httpOnly: true, sameSite: 'strict', secure: request.protocol === 'https' } as const
}

export function giveSession(request: FastifyRequest, reply: FastifyReply, token: string): void {
  reply.setCookie(names(request).session, token, options(request))
}

export function takeSession(request: FastifyRequest, reply: FastifyReply): void {
  reply.clearCookie(names(request).session, options(request))
}

export function giveDevice(request: FastifyRequest, reply: FastifyReply, token: string): void {
  reply.setCookie(names(request).device, token, { ...options(request), maxAge: 400 * 86_400 })
}

export function deviceToken(request: FastifyRequest): string | undefined {
  return request.cookies[names(request).device]
}

export async function installAuth(app: FastifyInstance): Promise<void> {
  await app.register(cookie)
  app.decorateRequest('signedIn', null)
  app.decorateRequest('caller', function caller(this: FastifyRequest) {
    if (!this.signedIn) throw new Problem('signed-out', 'Sign in and try again; nothing you typed is lost.')
    return this.signedIn
  })
  const unlisted: string[] = []
  app.addHook('onRoute', (route) => {
    for (const method of [route.method].flat()) {
      if (method === 'HEAD' || method === 'OPTIONS' || !route.url.startsWith('/api/')) continue
      if (POLICY[`${method} ${route.url}`] === undefined) unlisted.push(`${method} ${route.url}`)
    }
  })
  app.addHook('onReady', async () => {
    if (unlisted.length > 0) throw new Error(`no row in the policy table for ${unlisted.join(', ')}`)
  })
  app.addHook('onRequest', async (request) => {
    const url = request.routeOptions.url
    if (url === undefined || !url.startsWith('/api/')) return
    const access = POLICY[`${request.method === 'HEAD' ? 'GET' : request.method} ${url}`]
    const token = request.cookies[names(request).session]
    if (token !== undefined) request.signedIn = await recognise(app, token, isUse(request))
    if (access === undefined || mayUse(access, request.signedIn?.role)) return
    if (!request.signedIn) request.caller()
    throw new Problem(
      'forbidden',
      `This is not for the ${request.signedIn?.role === 'counter' ? 'counter' : request.signedIn?.role}. Ask the owner.`,
    )
  })
}

/**
 * Whether a request shows that somebody is there, and so puts off the end of an idle session. What a page asks by itself
 * while nobody touches it says so (`Unattended: yes`), and the live stream is nobody's hand.
 */
function isUse(request: FastifyRequest): boolean {
  return request.headers.unattended === undefined && request.routeOptions.url !== '/api/live'
}

async function recognise(app: FastifyInstance, token: string, isUse: boolean): Promise<SignedIn | null> {
  const hash = hashOf(token)
  const found = await findSession(app.db, hash, app.clock(), isUse)
  return found ? { ...found, sessionHash: hash } : null
}
