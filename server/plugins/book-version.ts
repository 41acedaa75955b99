/** Which contract and core a page was built with, so that one that stayed open over an upgrade does not read answers of another shape. */
import { createHash } from 'node:crypto'
import { existsSync, readdirSync, readFileSync } from 'node:fs'
import path from 'node:path'
import type { FastifyInstance } from 'fastify'

const SHARED = ['server/contract', 'server/core']

/** Fingerprint of all that page and server share; `root` is the folder of the package. */
export function bookVersion(root: string): string {
  const hash = createHash('sha256')
  for (const folder of SHARED) {
    const names = readdirSync(path.join(root, folder), { recursive: true, encoding: 'utf8' })
    for (const name of names.filter((one) => one.endsWith('.ts')).sort())
      hash.update(`${name}\n`).update(readFileSync(path.join(root, folder, name)))
  }
  return hash.digest('hex').slice(0, 16)
}

/** Where the build leaves it among the screens. */
export const VERSION_FILE = 'version.txt'

/** Version of the built screens in a folder; undefined where none lie. */
export function builtVersion(webFolder: string): string | undefined {
  const file = path.join(webFolder, VERSION_FILE)
  return existsSync(file) ? readFileSync(file, 'utf8') : undefined
}

/** Every answer under /api says which version of the screens this server gives out. */
export function installBookVersion(app: FastifyInstance, webFolder: string | undefined): void {
  const version = webFolder === undefined ? undefined : builtVersion(webFolder)
  if (version === undefined) return
  app.addHook('onRequest', async (request, reply) => {
    if (request.url.startsWith('/api')) reply.header('book-version', version)
  })
}
