/** Serves the built web: files with a fingerprint in their name for ever, the shell for every other page. */
import { existsSync, readFileSync } from 'node:fs'
import path from 'node:path'
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

/** Builds the screens where nobody has: the first start of a fresh tree. `root` is the folder of the package. */
export async function buildScreens(root: string, outDir: string): Promise<void> {
  const { build } = await import('vite')
  // The root given here stands above the one of the configuration file, so it names the web's folder too.
  await build({
    root: path.join(root, 'web'),
    configFile: path.join(root, 'vite.config.ts'),
    logLevel: 'error',
    build: { outDir, emptyOutDir: true },
  })
}
