/** `npm run audit [-- demo] [-- --head HEX]`: walks the audit chain of a book and says whether it holds. */
import path from 'node:path'
import { readConfig } from './config.ts'
import { auditRows } from './features/audit/store.ts'
import { verifyChain } from './features/audit/verify.ts'
import { openBook } from './plugins/database.ts'
import { claimFolder } from './plugins/folder.ts'

const words = process.argv.slice(2)
const config = readConfig(process.env, words.includes('demo') ? 'demo' : 'book', path.dirname(import.meta.dirname))
const anchor = words.includes('--head') ? words[words.indexOf('--head') + 1] : undefined
const free = config.databaseUrl === undefined ? await claimFolder(config.folder) : () => {}
const book = await openBook({ url: config.databaseUrl, folder: path.join(config.folder, 'pg') })
const report = await verifyChain(auditRows(book.db.pool), anchor)
await book.close()
free()
process.stdout.write(
  report.fault
    ? `The chain breaks at row ${report.fault.seq}: ${report.fault.says}.\n`
    : `The chain holds: ${report.rows} rows, head ${report.head}.\n`,
)
process.exitCode = report.fault ? 1 : 0
