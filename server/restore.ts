/** `npm run restore -- FILE [--book demo]`: puts a backup into an empty book, and says done only when all of it is there. */
import path from 'node:path'
import { readPlace, runPlainly } from './command-line.ts'
import { claimBook, mustBeWhole, restoreInto } from './features/backups/store.ts'

await runPlainly(async (say) => {
  const { config, files } = readPlace({}, 'FILE')
  const file = path.resolve(files[0]!)
  // Looked at before a database is started or made for it.
  await mustBeWhole(file)
  const book = await claimBook(config)
  try {
    const done = await restoreInto({ url: book.url, files: config.files }, file)
    say(
      `The ${done.book} of ${done.madeAt} is back: ${done.rows} rows, ${done.files} files and the audit chain up to row ${done.auditSeq} were compared with the backup and are all there.`,
    )
    if (done.brought.length > 0) say(`It was brought to this build: ${done.brought.join(', ')}.`)
    if (done.lacking !== '') say(`▲ When it was written: ${done.lacking}`)
    return 0
  } finally {
    await book.close()
  }
})
