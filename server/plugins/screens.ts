/** Serves the built web: files with a fingerprint in their name for ever, the shell for every other page. */
import { existsSync, readFileSync } from 'node:fs'
import path from 'node:path'
import serveFiles from '@fastify/static'
import type { FastifyInstance } from 'fastify'
import { unknownAddress } from './errors.ts'

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
    return reply.header('cache-control', 'no-cache').type('text/html; charset=utf-8').send(page)
  })
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
