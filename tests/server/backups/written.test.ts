import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { beforeAll, describe, expect, test } from 'vitest'
import { openBackup } from '#prisma/book-file/read.ts'
import { backUp, restoreInto } from '#server/features/backups/store.ts'
import { startApp } from '#tests/support/app.ts'
import {
  backUpOf,
  bookOf,
  emptyDatabase,
  inDatabase,
  lookAtFiles,
  lookAtRows,
  oneCertified,
  ownFolder,
} from '#tests/support/backup-book.ts'
import { handsOf } from '#tests/support/bench-factories.ts'
import { bookingOf } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)
const folder = ownFolder()

beforeAll(async () => {
  await oneCertified(h)
})

describe('written while people work', () => {
  // B2: the copy is one instant of a book in which rows that refer to one another keep coming.
  test('is of one instant: every reference and the audit chain hold in what is put back', async () => {
    let stop = false
    let written = 0
    const writers = Array.from({ length: 4 }, async () => {
      while (!stop) {
        const answer = await h.counter.post('/api/jobs', await bookingOf(it))
        expect(answer.status).toBe(201)
        await h.counter.post(`/api/jobs/${answer.body.id}/quotes`, { totalMinor: 100, text: 'to look at' }).expect(201)
        written++
      }
    })
    const backups = []
    for (let one = 0; one < 3; one++) {
      const before = written
      while (written < before + 2) await new Promise((resume) => setTimeout(resume, 20))
      backups.push(await backUpOf(it, path.join(folder, `busy-${one}.tbk`)))
    }
    stop = true
    await Promise.all(writers)
    expect(backups.map((one) => one.rows)).toEqual([...backups.map((one) => one.rows)].sort((one, other) => one - other))
    expect(backups[2]!.auditSeq).toBeGreaterThan(backups[0]!.auditSeq)
    const url = await emptyDatabase()
    // Putting it back looks at every row, every reference and the chain up to its head, and refuses otherwise.
    const done = await restoreInto({ url, files: path.join(folder, 'busy files') }, path.join(folder, 'busy-1.tbk'))
    expect(done).toMatchObject({ rows: backups[1]!.rows, auditSeq: backups[1]!.auditSeq })
    const { rows } = await inDatabase(url, (client) =>
      client.query<{ jobs: number; last: number }>(
        `SELECT max(number) AS jobs, (SELECT last FROM counter WHERE name = 'tag') AS last FROM job`,
      ),
    )
    expect(rows[0]?.jobs).toBe(rows[0]?.last)
  })

  test('leaves the book as it is, and the same book gives the same bytes', async () => {
    const before = await lookAtRows(it.url)
    const [one, two] = [path.join(folder, 'one.tbk'), path.join(folder, 'two.tbk')]
    await backUpOf(it, one)
    await backUpOf(it, two)
    expect(await lookAtRows(it.url)).toEqual(before)
    expect(readFileSync(one).equals(readFileSync(two))).toBe(true)
  })
})

describe('a disk that is full', () => {
  // B5: a disk that takes so many bytes and no more stands behind the backup.
  test('wherever it fills, says so in words and leaves the backup before it, whole, and nothing else', async () => {
    const place = path.join(folder, 'full')
    mkdirSync(place)
    const to = path.join(place, 'book.tbk')
    const { bytes } = await backUpOf(it, to)
    const before = lookAtFiles(place)
    for (const room of [0, 1, 600, ...[0.1, 0.3, 0.5, 0.7, 0.9].map((share) => Math.floor(bytes * share)), bytes - 1]) {
      let left = room
      const through = (file: { write(bytes: Uint8Array): Promise<void> }) => ({
        write: async (chunk: Uint8Array) => {
          const fits = chunk.subarray(0, left)
          left -= fits.length
          await file.write(fits)
          if (fits.length < chunk.length) throw Object.assign(new Error('ENOSPC: no space left on device, write'), { code: 'ENOSPC' })
        },
      })
      await expect(backUp(bookOf(it), to, { now: it.clock.now, through })).rejects.toThrow(
        /disk that holds .* is full: no backup was written, and the ones before it are as they were/,
      )
      expect(lookAtFiles(place)).toEqual(before)
    }
  })
})

describe('files', () => {
  test('that the book names and the disk lacks, or holds altered, are named, and the rest is saved all the same', async () => {
    const files = path.join(folder, 'hurt')
    const whole = Object.keys(lookAtFiles(it.app.files))
    for (const name of whole) {
      mkdirSync(path.dirname(path.join(files, name)), { recursive: true })
      writeFileSync(path.join(files, name), readFileSync(path.join(it.app.files, name)))
    }
    const photo = whole.find((name) => name.endsWith('.jpg') && !name.includes('thumb'))!
    const paper = whole.find((name) => name.endsWith('.pdf'))!
    rmSync(path.join(files, photo))
    writeFileSync(path.join(files, paper), 'rotten')
    const to = path.join(folder, 'hurt.tbk')
    const written = await backUp({ ...bookOf(it), files }, to, { now: it.clock.now })
    expect(written.lacking).toContain(`1 of the files that the book names are not on the disk: ${photo}`)
    expect(written.lacking).toContain(`1 files were altered on the disk: ${paper}`)
    const backup = await openBackup(to)
    expect(backup.manifest.lacking).toHaveLength(2)
    await backup.close()
    expect((await restoreInto({ url: await emptyDatabase(), files: path.join(folder, 'hurt back') }, to)).lacking).toBe(written.lacking)
  })

  test('that nobody but the book made, or that are half written, are left out', async () => {
    const files = path.join(folder, 'odd')
    const name = 'a'.repeat(64)
    mkdirSync(path.join(files, 'photos', 'aa'), { recursive: true })
    for (const odd of ['notes.txt', `photos/aa/${name}.jpg.123.part`, `photos/aa/..${name}`]) writeFileSync(path.join(files, odd), 'x')
    const { files: taken } = await backUp({ ...bookOf(it), files }, path.join(folder, 'odd.tbk'), { now: it.clock.now })
    expect(taken).toBe(0)
    expect(readdirSync(files).sort()).toEqual(['notes.txt', 'photos'])
  })
})

test('a database without a book gives no backup and says why', async () => {
  await expect(
    backUp({ name: 'book', url: await emptyDatabase(), files: folder }, path.join(folder, 'none.tbk'), { now: it.clock.now }),
  ).rejects.toThrow('There is no book in this database')
})
