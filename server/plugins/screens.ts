/** Serves the built web: files with a fingerprint in their name for ever, the shell for every other page. */
import { execFile } from 'node:child_process'
import { existsSync, readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import path from 'node:path'
import { promisify } from 'node:util'
import serveFiles from '@fastify/static'
import type { FastifyInstance } from 'fastify'
import { unknownAddress } from './errors.ts'
import { PATH_MEND, pathWords } from './way-in.ts'

export async function installScreens(app: FastifyInstance, folder: string | undefined): Promise<void> {
  const shell = folder === undefined ? undefined : path.join(folder, 'index.html')
  if (folder === undefined || shell === undefined || !existsSync(shell)) {
    app.setNotFoundHandler(unknownAddress)
    return
  }
  const page = readFileSync(shell, 'utf8')
  await app.register(serveFiles, {
    root: folder,
    wildcard: false,
    index: false,
    setHeaders: (reply, file) => {
      const fingerprinted = file.includes(`${path.sep}assets${path.sep}`)
      reply.header('cache-control', fingerprinted ? 'public, max-age=31536000, immutable' : 'no-cache')
    },
  })
  app.setNotFoundHandler((request, reply) => {
    const isPage = request.method === 'GET' && !request.url.startsWith('/api') && !/\.[a-z0-9]+($|\?)/i.test(request.url)
    if (!isPage) return unknownAddress(request, reply)
    const prefix = request.headers['x-forwarded-prefix']
    const words = typeof prefix === 'string' && /^\/[\w./-]+$/.test(prefix) ? underAPath(prefix) : page
    return reply.header('cache-control', 'no-cache').type('text/html; charset=utf-8').send(words)
  })
}

/** The screens would ask for their files in the wrong place and stay white, so a page without any says why. */
function underAPath(prefix: string): string {
  return `<!doctype html><html lang="en"><head><meta charset="utf-8"><title>Throwbook</title></head><body><h1>The book cannot be opened here</h1><p>${pathWords(prefix)}</p><p>${PATH_MEND}</p></body></html>\n`
}

const run = promisify(execFile)

/**
 * Builds the screens where nobody has, or where they are older than the book. `root` is the folder of the package. In a
 * process of its own: the database's client sets a global that the build stumbles over.
 */
export async function buildScreens(root: string, outDir: string): Promise<void> {
  const vite = path.join(path.dirname(createRequire(import.meta.url).resolve('vite/package.json')), 'bin/vite.js')
  await run(process.execPath, [vite, 'build', '--logLevel', 'error', '--outDir', outDir, '--emptyOutDir'], { cwd: root })
}
