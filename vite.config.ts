import { readFileSync } from 'node:fs'
import path from 'node:path'
import react from '@vitejs/plugin-react'
import sharp from 'sharp'
import { defineConfig, type Plugin } from 'vite'
import { VitePWA } from 'vite-plugin-pwa'
import { bookVersion, VERSION_FILE } from './server/plugins/book-version.ts'

const PAPER = '#f3f5f2'

/** The mark as the pictures that a home screen wants. The round one leaves the rim that may be cut away. */
function markIcons(root: string): Plugin {
  const draw = (side: number, rim: number) => {
    const inner = Math.round(side * (1 - 2 * rim))
    return sharp(readFileSync(path.join(root, 'web/mark.svg')), { density: 1200 })
      .resize(inner, inner)
      .extend({
        top: Math.floor((side - inner) / 2),
        bottom: Math.ceil((side - inner) / 2),
        left: Math.floor((side - inner) / 2),
        right: Math.ceil((side - inner) / 2),
        background: PAPER,
      })
      .png()
      .toBuffer()
  }
  return {
    name: 'throwbook-mark-icons',
    apply: 'build',
    async generateBundle() {
      for (const [name, side, rim] of [
        ['mark-192', 192, 0],
        ['mark-512', 512, 0],
        ['mark-round', 512, 0.15],
      ] as const)
        this.emitFile({ type: 'asset', fileName: `icons/${name}.png`, source: await draw(side, rim) })
    },
  }
}

/** Tells the page which contract and core it was built with, and leaves the same word for the server. */
function ofThisVersion(root: string): Plugin {
  const version = bookVersion(root)
  return {
    name: 'throwbook-of-this-version',
    apply: 'build',
    config: () => ({ define: { 'import.meta.env.BOOK_VERSION': JSON.stringify(version) } }),
    generateBundle() {
      this.emitFile({ type: 'asset', fileName: VERSION_FILE, source: version })
    },
  }
}

export default defineConfig({
  root: 'web',
  publicDir: false,
  plugins: [
    react(),
    ofThisVersion(import.meta.dirname),
    markIcons(import.meta.dirname),
    VitePWA({
      strategies: 'injectManifest',
      srcDir: '.',
      filename: 'sw.ts',
      // The page starts its worker by itself (web/lib/outbox/new-version.ts) and says when a newer one is ready.
      injectRegister: null,
      registerType: 'prompt',
      injectManifest: {
        globPatterns: ['index.html', 'assets/**/*.{js,css,woff2,svg}'],
        // Files with a fingerprint in their name need no second one.
        dontCacheBustURLsMatching: /^assets\//,
      },
      manifest: {
        id: '/',
        name: 'Throwbook',
        short_name: 'Throwbook',
        description: 'The shop book of a workshop that rebuilds pressed-together crankshafts',
        lang: 'en',
        start_url: '/',
        scope: '/',
        display: 'standalone',
        background_color: PAPER,
        theme_color: PAPER,
        icons: [
          { src: '/icons/mark-192.png', sizes: '192x192', type: 'image/png' },
          { src: '/icons/mark-512.png', sizes: '512x512', type: 'image/png' },
          { src: '/icons/mark-round.png', sizes: '512x512', type: 'image/png', purpose: 'maskable' },
        ],
      },
    }),
  ],
  server: { port: 5180, proxy: { '/api': 'http://127.0.0.1:4180' } },
  build: {
    outDir: '../dist/web',
    emptyOutDir: true,
    // The server reads which hashed files exist, so that they can be kept for a year and the page never.
    manifest: true,
    // Old bench tablets keep the browser they came with.
    target: ['es2022', 'chrome109', 'safari16.4', 'firefox115'],
    // Small files as data: addresses would need a wider content policy.
    assetsInlineLimit: 0,
    // What lies beneath the first page is asked for at once; the same lists for all pages would weigh 4 kB on each of them.
    modulePreload: { resolveDependencies: (_file, beneath, { hostType }) => (hostType === 'html' ? beneath : []) },
    rolldownOptions: {
      output: {
        // What a dozen pages share is one file: it packs better than thirty small ones.
        codeSplitting: {
          groups: [
            // First, as main.tsx has it: what a part says of its own look comes after.
            { name: 'styles', test: /\/web\/styles\/[^?]*\.css$/, priority: 3 },
            { name: 'styles', test: /\/web\/[^?]*\.css$/, minShareCount: 12, priority: 2 },
            { name: 'parts', test: /\/web\/[^?]*\.tsx?$/, minShareCount: 12, priority: 1 },
          ],
        },
      },
    },
  },
})
