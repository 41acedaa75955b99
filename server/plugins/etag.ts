/** Versions as strong ETags (RFC 9110 §8.8.3, §13.1.1). The body carries `version`; the header repeats it. */
import type { FastifyInstance } from 'fastify'
import { Problem } from './errors.ts'

export function installEtags(app: FastifyInstance): void {
  app.addHook('preSerialization', async (_request, reply, payload) => {
    const version = (payload as { version?: unknown } | null)?.version
    if (typeof version === 'number' && reply.statusCode < 300) reply.header('etag', `"${version}"`)
    return payload
  })
}

/** The version a caller saw. A proxy that compresses may have weakened our own tag, so its weak form counts too. */
export function versionFromIfMatch(header: string | undefined): number {
  if (header === undefined) throw new Problem('precondition-required', 'Send If-Match with the version you saw, such as If-Match: "3".')
  const found = /^(?:W\/)?"(\d{1,9})(?:-[a-z]+)?"$/.exec(header.trim())
  if (!found) throw new Problem('validation', 'If-Match takes one version in quotes, such as "3".')
  return Number(found[1])
}
