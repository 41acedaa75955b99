import react from '@vitejs/plugin-react'
import { defineConfig } from 'vite'

export default defineConfig({
  root: 'web',
  publicDir: false,
  plugins: [react()],
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
  },
})
