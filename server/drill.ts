/** `npm run drill [-- --book demo]`: writes a backup, puts it into a scratch database, compares, and notes in the book whether it held. */
import { randomUUID } from 'node:crypto'
import { readPlace, runPlainly } from './command-line.ts'
import { reachBook } from './features/backups/store.ts'
import { prove } from './features/proofs/prove.ts'
import { openAsItIs } from './plugins/database.ts'

await runPlainly(async (say) => {
  const { config } = readPlace({})
  const book = await reachBook(config)
  const db = await openAsItIs(book.url)
  try {
    const at = { name: config.book, url: book.url, files: config.files }
    const proof = await prove({ db, book: at, folder: config.backups, clock: () => new Date() }, randomUUID())
    say(`${proof?.held ? '' : '▲ It did not hold. '}${proof?.says}`)
    return proof?.held ? 0 : 1
  } finally {
    await db.close()
    await book.close()
  }
})
