/** `npm run backup [-- --to FILE] [-- --book demo]`: writes one file with everything that the book holds, while it is open or shut. */
import path from 'node:path'
import { readPlace, runPlainly } from './command-line.ts'
import { backUp, noteWritten, reachBook } from './features/backups/store.ts'
import { backupName } from './features/proofs/backup-names.ts'

await runPlainly(async (say) => {
  const { config, values } = readPlace({ to: { type: 'string' } })
  const now = new Date()
  const to = values.to === undefined ? path.join(config.backups, backupName(config.book, now, false)) : path.resolve(values.to)
  const book = await reachBook(config)
  try {
    const written = await backUp({ name: config.book, url: book.url, files: config.files }, to, { now })
    await noteWritten(book.url, now, written)
    say(
      `${to}: ${written.rows} rows of ${written.tables} tables and ${written.files} files, ${written.bytes} bytes, audit chain up to row ${written.auditSeq}.`,
    )
    if (written.lacking === '') return 0
    say(`▲ ${written.lacking} The backup is without them.`)
    return 1
  } finally {
    await book.close()
  }
})
