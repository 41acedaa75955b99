import { openBook } from '#server/plugins/database.ts'
const book = await openBook({ url: undefined, folder: '/tmp/seed-try/pg' })
try { for (const q of process.argv.slice(2)) { const r = await book.db.pool.query(q); console.log('--', q.slice(0,100)); console.table(r.rows.slice(0,80)) } } finally { await book.close() }
