import { createHash, randomBytes } from 'node:crypto'
import { copyFileSync, existsSync, readFileSync, truncateSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { gzipSync } from 'node:zlib'
import { beforeAll, describe, expect, test } from 'vitest'
import { entriesOf, SEAL_BYTES, tarWriter, whole } from '#prisma/book-file/tar.ts'
import { restoreInto } from '#server/features/backups/store.ts'
import { startApp } from '#tests/support/app.ts'
import { backUpOf, emptyBook, emptyDatabase, inDatabase, lookAtRows, oneCertified, ownFolder } from '#tests/support/backup-book.ts'
import { handsOf } from '#tests/support/bench-factories.ts'
import { addCustomer } from '#tests/support/factories.ts'

// B3: what is refused is refused before anything is changed, and in words.
const it = await startApp()
const folder = ownFolder()
const backup = path.join(folder, 'good.tbk')
const files = path.join(folder, 'files')
const broken = path.join(folder, 'broken.tbk')
let good: Buffer
let empty: string
let untouched: Record<string, string>

beforeAll(async () => {
  await oneCertified(await handsOf(it))
  await backUpOf(it, backup)
  good = readFileSync(backup)
  empty = await emptyBook()
  untouched = await lookAtRows(empty)
})

async function refusedWith(words: RegExp, url: string = empty, file: string = broken): Promise<void> {
  const before = url === empty ? untouched : await lookAtRows(url)
  await expect(restoreInto({ url, files }, file)).rejects.toMatchObject({ name: 'BackupTrouble', message: expect.stringMatching(words) })
  expect(await lookAtRows(url)).toEqual(before)
  expect(existsSync(files)).toBe(false)
}

async function refused(file: string): Promise<string> {
  return restoreInto({ url: empty, files }, file).then(
    () => 'taken',
    (error: Error) => error.message,
  )
}

/** The same backup with other entries, well sealed: as somebody would make one who knows the form. */
async function remade(change: (name: string, content: Buffer) => Buffer | null): Promise<void> {
  const parts: Buffer[] = []
  const tar = tarWriter({ write: async (bytes) => void parts.push(Buffer.from(bytes)) }, it.clock.now)
  const read = async (at: number, bytes: number) => good.subarray(at, at + bytes)
  for await (const entry of entriesOf(read, good.length - SEAL_BYTES)) {
    const content = change(entry.name, await whole(entry))
    if (content) await tar.add(entry.name, content)
  }
  await tar.seal()
  writeFileSync(broken, Buffer.concat(parts))
}

const manifestWith = (change: (manifest: { form: number; migrations: { name: string; checksum: string }[] }) => void) =>
  remade((name, content) => {
    if (name !== 'manifest.json') return content
    const manifest = JSON.parse(content.toString())
    change(manifest)
    return Buffer.from(JSON.stringify(manifest))
  })

describe('a file that is not whole', () => {
  test('is refused wherever it is cut', async () => {
    const cuts = [0, 1, 511, 512, 1500, ...Array.from({ length: 30 }, (_, part) => Math.floor((good.length * (part + 1)) / 31))]
    for (const cut of [...cuts, good.length - SEAL_BYTES, good.length - 1024, good.length - 1]) {
      copyFileSync(backup, broken)
      truncateSync(broken, cut)
      expect(await refused(broken), `cut at ${cut} of ${good.length}`).toMatch(/is cut short|is not a backup of a Throwbook|is damaged/)
    }
    expect(await lookAtRows(empty)).toEqual(untouched)
    copyFileSync(backup, broken)
    truncateSync(broken, Math.floor(good.length / 2))
    await refusedWith(/is cut short: its end is missing.*Nothing was changed/)
  })

  test('is refused with any byte altered, and with bytes added', async () => {
    for (const place of [...chosenPlaces(50), good.length - 1, good.length - SEAL_BYTES + 520]) {
      const altered = Buffer.from(good)
      altered[place] = (altered[place] ?? 0) ^ 0x01
      writeFileSync(broken, altered)
      expect(await refused(broken), `byte ${place} of ${good.length}`).toMatch(
        /is damaged|is not a backup of a Throwbook|is cut short|says “/,
      )
    }
    writeFileSync(broken, Buffer.concat([good, Buffer.alloc(512)]))
    expect(await refused(broken)).toMatch(/is cut short|is damaged/)
    expect(await lookAtRows(empty)).toEqual(untouched)
  })

  test('is refused where it lacks a file or a table that its manifest names, or holds another, though well sealed', async () => {
    await remade((name, content) => (name.startsWith('files/photos/') ? null : content))
    await refusedWith(/does not hold what its manifest names: the file photos\/..\/[0-9a-f]{64}\.jpg, the file photos.*Nothing was changed/)
    await remade((name, content) => (name.startsWith('tables/job/') ? null : content))
    await refusedWith(/does not hold what its manifest names: the table job\. /)
    await remade((name, content) => (name.startsWith('files/papers/') ? Buffer.concat([content.subarray(1), Buffer.from('x')]) : content))
    await refusedWith(/the file papers\//)
  })

  test('is refused where there is none, or where it is something else', async () => {
    await refusedWith(/There is no file .*none\.tbk/, empty, path.join(folder, 'none.tbk'))
    writeFileSync(broken, '-- PostgreSQL database dump\n'.repeat(400))
    await refusedWith(/is not a backup of a Throwbook/)
  })
})

function chosenPlaces(count: number): number[] {
  return Array.from({ length: count }, () => randomBytes(6).readUIntBE(0, 6) % good.length)
}

describe('a book that does not fit', () => {
  test('one with people in it stays as it is', async () => {
    const busy = await startApp()
    await addCustomer(busy)
    await busy.db.close()
    await refusedWith(/This book is not empty: in it are .*1 of person.*Nothing was changed/, busy.url, backup)
  })

  test('one that a server has open is left alone', async () => {
    const open = await startApp()
    await open.nobody().get('/api/door').expect(200)
    await refusedWith(/Something else is connected to this database .*Stop the server first/, open.url, backup)
  })

  test('a database of something else is left alone', async () => {
    const strange = await emptyDatabase()
    await inDatabase(strange, (client) => client.query('CREATE TABLE stock (part text PRIMARY KEY)'))
    await expect(restoreInto({ url: strange, files }, backup)).rejects.toThrow(/no Throwbook: the table stock/)
    const tables = await inDatabase(strange, (client) => client.query(`SELECT 1 FROM pg_tables WHERE schemaname = 'public'`))
    expect(tables.rowCount).toBe(1)
  })

  test('a backup of a newer build, of another line, or of a later form is refused', async () => {
    await manifestWith((manifest) => manifest.migrations.push({ name: '29990101000000_later', checksum: 'x' }))
    await refusedWith(/written by a newer build .*29990101000000_later.*Nothing was changed/)
    await manifestWith((manifest) => {
      manifest.migrations[0]!.checksum = 'another'
    })
    await refusedWith(/comes from a build of another line/)
    await manifestWith((manifest) => manifest.migrations.shift())
    await refusedWith(/comes from a build of another line/)
    await remade((name, content) => (name === 'READ-ME.txt' ? Buffer.from(content.toString().replace('form 1', 'form 2')) : content))
    await refusedWith(/says “Throwbook backup, form 2”; this build reads form 1/)
  })

  test('rows that the book does not allow undo everything, in a fresh database too', async () => {
    const orphan = randomBytes(16).toString('hex')
    await remadeWithRows('job_pass', `${orphan}\t${orphan}\tgone\tx\tx\tx\t\\N\t\\N\t${orphan}\t2026-11-24 09:00:00+00\t\\N\n`)
    await expect(restoreInto({ url: empty, files }, broken)).rejects.toMatchObject({ code: '23503' })
    expect(await lookAtRows(empty)).toEqual(untouched)
    const fresh = await emptyDatabase()
    await expect(restoreInto({ url: fresh, files }, broken)).rejects.toMatchObject({ code: '23503' })
    const left = await inDatabase(fresh, (client) => client.query(`SELECT 1 FROM pg_tables WHERE schemaname = 'public'`))
    expect(left.rowCount).toBe(0)
    expect(existsSync(files)).toBe(false)
  })
})

/** A backup whose manifest agrees with rows that no book can hold. */
async function remadeWithRows(table: string, rows: string): Promise<void> {
  await remade((name, content) => {
    if (name.startsWith(`tables/${table}/`)) return gzipSync(rows)
    if (name !== 'manifest.json') return content
    const manifest = JSON.parse(content.toString())
    const mark = manifest.tables.find((each: { name: string }) => each.name === table)
    Object.assign(mark, { rows: 1, bytes: rows.length, sha256: createHash('sha256').update(rows).digest('hex') })
    return Buffer.from(JSON.stringify(manifest))
  })
}
