import path from 'node:path'
import supertest from 'supertest'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { startCluster } from '#prisma/cluster.ts'
import { buildApp } from '#server/app.ts'
import { auditRows } from '#server/features/audit/store.ts'
import { verifyChain } from '#server/features/audit/verify.ts'
import { restoreInto } from '#server/features/backups/store.ts'
import { openBook } from '#server/plugins/database.ts'
import { startApp } from '#tests/support/app.ts'
import { backUpOf, bytesOf, emptyDatabase, lookAtBook, lookAtFiles, oneCertified, ownFolder } from '#tests/support/backup-book.ts'
import { handsOf } from '#tests/support/bench-factories.ts'

// B1: into a new cluster, on another port, whose databases sort by another language.
const it = await startApp()
const h = await handsOf(it)
const folder = ownFolder()
const backup = path.join(folder, 'b1.tbk')
const files = path.join(folder, 'files')
const password = 'a few long words'
let other: Awaited<ReturnType<typeof startCluster>>
let url: string
let written: Awaited<ReturnType<typeof backUpOf>>
let sheet: Awaited<ReturnType<typeof oneCertified>>

beforeAll(async () => {
  sheet = await oneCertified(h)
  await h.owner.post('/api/people', { name: 'Łucja Ő', signIn: 'lucja', role: 'counter', password }).expect(201)
  written = await backUpOf(it, backup)
  other = await startCluster(path.join(folder, 'other'))
  url = await emptyDatabase(other.url(), `LOCALE_PROVIDER icu ICU_LOCALE 'sv-SE' LOCALE 'C'`)
})
afterAll(() => other.stop())

describe('a backup put into a new cluster of another language', () => {
  test('is the same book: every table, sequence, trigger, right, file and the audit chain', async () => {
    const done = await restoreInto({ url, files }, backup)
    expect(done).toMatchObject({ book: 'book', brought: [], lacking: '', files: 3 })
    const [was, is] = [await lookAtBook(it.url), await lookAtBook(url)]
    expect(is).toEqual(was)
    const chain = await verifyChain(auditRows(it.db.pool))
    expect(chain.rows).toBeGreaterThan(10)
    expect([written.auditSeq, done.auditSeq]).toEqual([chain.rows, chain.rows])
    expect(Number(was.job_event?.split(' ')[0])).toBeGreaterThan(10)
    expect(was['sequence job_event_seq_seq']).toMatch(/^\d+$/)
    expect(was.structure).toContain('never_changed BEFORE DELETE OR UPDATE ON public.certificate')
    expect(lookAtFiles(files)).toEqual(lookAtFiles(it.app.files))
  })

  test('opens, lets its people in, goes on numbering, and draws the same certificate', async () => {
    const opened = await openBook({ url, folder: '' })
    expect(opened.says).toEqual([])
    const app = await buildApp({ db: opened.db, clock: () => it.clock.now, files, publicUrl: 'https://book.example' })
    await app.ready()
    const send = (method: 'get' | 'post', address: string) => supertest(app.server)[method](address).set('sec-fetch-site', 'same-origin')
    try {
      await send('post', '/api/session').send({ name: 'lucja', password: 'wrong words here' }).expect(401)
      const signedIn = await send('post', '/api/session').send({ name: 'lucja', password })
      expect(signedIn.status).toBe(200)
      // A session from before the backup goes on.
      expect((await send('get', '/api/session').set('cookie', h.owner.cookie)).status).toBe(200)
      const before = Number((await verifyChain(auditRows(opened.db.pool))).rows)
      const note = await send('post', `/api/jobs/${sheet.jobId}/notes`)
        .set('cookie', h.bench.cookie)
        .set('idempotency-key', 'after-the-restore')
        .send({ says: 'first note after it was put back' })
      expect(note.status).toBeLessThan(300)
      expect(await verifyChain(auditRows(opened.db.pool))).toMatchObject({ rows: before + 1, fault: null })
      const agent = { ...h.second, get: (address: string) => send('get', address).set('cookie', h.second.cookie) }
      expect((await bytesOf(agent, sheet.address)).equals(sheet.pdf)).toBe(true)
      expect((await bytesOf(agent, sheet.address.replace('A4', 'Letter'))).length).toBeGreaterThan(1000)
    } finally {
      await app.close()
      await opened.close()
    }
  })
})
