import { openBook } from '#server/plugins/database.ts'
import { mkdirSync, rmSync } from 'node:fs'
import { seedDemo } from './demo.ts'
const folder = '/tmp/seed-try'
rmSync(folder, { recursive: true, force: true }); mkdirSync(folder + '/files', { recursive: true })
const book = await openBook({ url: undefined, folder: folder + '/pg' })
const t = performance.now()
try { await seedDemo({ db: book.db, files: folder + '/files', now: new Date(process.argv[2] ?? '2026-11-24T09:00:00Z'), say: (l) => console.log(((performance.now() - t) / 1000).toFixed(1), l) }) }
catch (e) { console.log(e) ; console.log(JSON.stringify((e as any).extra)) }
finally { console.log('seconds', (performance.now() - t) / 1000); await book.close() }
