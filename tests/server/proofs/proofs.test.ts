import { mkdirSync, readdirSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { afterEach, beforeAll, describe, expect, inject, test } from 'vitest'
import type { Proofs } from '#contract/proofs.ts'
import { prepareRoles } from '#prisma/migrate.ts'
import { startBackground } from '#server/features/background/worker.ts'
import { backupName, toDrop } from '#server/features/proofs/backup-names.ts'
import { nightId, proveIfDue } from '#server/features/proofs/nightly.ts'
import { prove } from '#server/features/proofs/prove.ts'
import { proofTasks } from '#server/features/proofs/tasks.ts'
import { lastTimeOfDay } from '#server/plugins/shop-day.ts'
import { startApp } from '#tests/support/app.ts'
import { bookOf, inDatabase, oneCertified, ownFolder } from '#tests/support/backup-book.ts'
import { handsOf } from '#tests/support/bench-factories.ts'

const it = await startApp()
const h = await handsOf(it)
const folder = path.join(ownFolder(), 'backups')
const proving = () => ({ db: it.db, book: bookOf(it), folder, clock: () => it.clock.now })
// The days that pass here end every session, so somebody signs in anew.
const standing = async () => (await (await it.as('owner')).get('/api/proofs').expect(200)).body as Proofs

beforeAll(async () => {
  await oneCertified(h)
})
afterEach(() => inDatabase(it.url, (client) => client.query('DELETE FROM proof')))

const id = (last: number) => `00000000-0000-7000-8000-${String(last).padStart(12, '0')}`

describe('drill', () => {
  // B6
  test('writes a backup, puts it back, compares, and the owner sees when that last held and when it is too long ago', async () => {
    expect(await standing()).toEqual({ lastHeld: null, overdue: true, underWay: null, nightAt: '02:10', rows: [] })
    const proof = await prove(proving(), id(1))
    expect(proof).toMatchObject({
      kind: 'drill',
      held: true,
      says: expect.stringMatching(
        /Put back into a scratch database: \d+ rows of \d+ tables, 3 files and the audit chain up to row \d+ are all there\./,
      ),
    })
    const { lastHeld, overdue, rows } = await standing()
    expect(lastHeld).toEqual(proof)
    expect(overdue).toBe(false)
    expect(rows.map((row) => [row.kind, row.held]).sort()).toEqual([
      ['backup', true],
      ['drill', true],
    ])
    expect(readdirSync(folder)).toContain(lastHeld?.file)
    const { rows: left } = await inDatabase(it.url, (client) =>
      client.query(`SELECT datname FROM pg_database WHERE datname LIKE 'throwbook_drill_%'`),
    )
    expect(left).toEqual([])
    it.clock.pass(48 * 60 + 1)
    expect((await standing()).overdue).toBe(true)
  })

  test('that finds a photo gone, or a chain broken, did not hold and says so', async () => {
    const [photo] = await it.db.prisma.photo.findMany({ select: { sha256: true } })
    const place = path.join(it.app.files, 'photos', photo!.sha256.slice(0, 2), `${photo!.sha256}.jpg`)
    const kept = readFileSync(place)
    rmSync(place)
    expect(await prove(proving(), id(2))).toMatchObject({ held: false, says: expect.stringContaining('not on the disk') })
    writeFileSync(place, kept)
    await inDatabase(it.url, (client) =>
      client.query(`ALTER TABLE audit_row DISABLE TRIGGER never_changed; UPDATE audit_row SET action = action || '.' WHERE seq = 3`),
    )
    expect(await prove(proving(), id(3))).toMatchObject({ held: false, says: expect.stringContaining('the audit chain breaks at row 3') })
    await inDatabase(it.url, (client) =>
      client.query(
        `UPDATE audit_row SET action = rtrim(action, '.') WHERE seq = 3; ALTER TABLE audit_row ENABLE ALWAYS TRIGGER never_changed`,
      ),
    )
    expect((await standing()).lastHeld).toBeNull()
    expect(await prove(proving(), id(4))).toMatchObject({ held: true })
  })

  test('on a full disk is noted as not held, with why, and keeps the backup before it', async () => {
    await prove(proving(), id(5))
    const before = readdirSync(folder)
    it.clock.pass(1)
    const through = () => ({
      write: async () => {
        throw Object.assign(new Error('no space'), { code: 'ENOSPC' })
      },
    })
    expect(await prove({ ...proving(), through }, id(6))).toMatchObject({
      held: false,
      says: 'No backup was written, so there was none to put back.',
    })
    const { rows } = await standing()
    expect(rows.find((row) => row.kind === 'backup' && row.held === false)?.says).toMatch(/is full: no backup was written/)
    expect(readdirSync(folder)).toEqual(before)
  })

  test('two at once: the second does not touch what the first is at', async () => {
    const both = await Promise.all([prove(proving(), id(7)), prove(proving(), id(8))])
    expect(both.map((proof) => proof?.held).sort()).toEqual([false, true])
    expect(both.find((proof) => !proof?.held)?.says).toContain('Another drill of this book is under way')
    expect(await prove(proving(), id(7))).toBeNull()
  })
})

describe('the night’s drill', () => {
  test('runs once after the hour of the night by the clock of the shop, and again the next night', async () => {
    await proveIfDue(proving())
    const { rows } = await standing()
    expect(rows.filter((row) => row.kind === 'drill')).toMatchObject([
      { id: nightId(lastTimeOfDay(it.clock.now, 'UTC', '02:10')), held: true },
    ])
    await proveIfDue(proving())
    expect((await standing()).rows).toHaveLength(2)
    it.clock.pass(24 * 60)
    await proveIfDue(proving())
    expect((await standing()).rows).toHaveLength(4)
  })

  test('one that was cut off goes on under its own id; a book without people is left alone', async () => {
    const night = nightId(lastTimeOfDay(it.clock.now, 'UTC', '02:10'))
    await it.db.prisma.proof.create({ data: { id: night, kind: 'drill', startedAt: it.clock.now } })
    expect((await standing()).underWay).toMatchObject({ id: night })
    await proveIfDue(proving())
    expect((await standing()).rows.find((row) => row.id === night)).toMatchObject({ held: true })
    const fresh = await startApp()
    await proveIfDue({ ...proving(), db: fresh.db, book: bookOf(fresh) })
    expect(await fresh.db.prisma.proof.count()).toBe(0)
  })

  test('the hour is the shop’s, also in the nights when clocks change', () => {
    const last = (at: string, zone: string) => lastTimeOfDay(new Date(at), zone, '02:10').toISOString()
    expect(last('2026-11-25T09:00:00Z', 'Europe/Berlin')).toBe('2026-11-25T01:10:00.000Z')
    expect(last('2026-11-25T00:30:00Z', 'Europe/Berlin')).toBe('2026-11-24T01:10:00.000Z')
    expect(last('2026-11-25T00:30:00Z', 'Asia/Kathmandu')).toBe('2026-11-24T20:25:00.000Z')
    // 29 March 2026: 02:10 is left out and counts an hour later; 25 October: it comes twice, the first counts.
    expect(last('2026-03-29T12:00:00Z', 'Europe/Berlin')).toBe('2026-03-29T01:10:00.000Z')
    expect(last('2026-10-25T12:00:00Z', 'Europe/Berlin')).toBe('2026-10-25T00:10:00.000Z')
  })
})

describe('old backups of the night', () => {
  const nightOf = (day: string) => backupName('book', new Date(`${day}T01:10:00Z`), true)
  const days = Array.from({ length: 500 }, (_, ago) => new Date(Date.parse('2026-11-25') - ago * 86_400_000).toISOString().slice(0, 10))

  test('go but for seven nights, the first of each month for a year, and the last that held', () => {
    const names = days.map(nightOf)
    const now = new Date('2026-11-25T02:00:00Z')
    const held = '2026-09-17'
    const gone = new Set(toDrop(names, 'book', new Set([nightOf(held)]), now))
    const kept = days.filter((day) => !gone.has(nightOf(day)))
    const firsts = ['11', '10', '09', '08', '07', '06', '05', '04', '03', '02', '01'].map((month) => `2026-${month}-01`)
    expect(kept.sort()).toEqual([...days.slice(0, 7), ...firsts, '2025-12-01', held].sort())
  })

  test('only those of the night and of this book go', () => {
    const hand = days.map((day) => backupName('book', new Date(`${day}T08:00:00Z`), false))
    const demo = days.map((day) => backupName('demo', new Date(`${day}T01:10:00Z`), true))
    expect(toDrop([...hand, ...demo, 'notes.txt'], 'book', new Set(), new Date('2026-11-25T02:00:00Z'))).toEqual([])
  })

  test('and half-written ones of yesterday go after a drill', async () => {
    mkdirSync(folder, { recursive: true })
    writeFileSync(path.join(folder, 'throwbook-book-2020-01-01T0110Z-night.tbk.0a1b2c3d.part'), 'x')
    utimesSync(path.join(folder, 'throwbook-book-2020-01-01T0110Z-night.tbk.0a1b2c3d.part'), 0, 0)
    await prove(proving(), id(20))
    expect(readdirSync(folder).filter((name) => name.endsWith('.part'))).toEqual([])
  })
})

describe('asking for one', () => {
  test('is the owner’s; without background work it says what to do instead', async () => {
    await it.nobody().get('/api/proofs').expect(401)
    await (await it.as('counter')).get('/api/proofs').expect(403)
    await (await it.as('bench')).post('/api/proofs').expect(403)
    const owner = await it.as('owner')
    await owner.post('/api/proofs', { now: true }).expect(400)
    const refused = await owner.post('/api/proofs')
    expect(refused.status).toBe(503)
    expect(refused.body.detail).toContain('npm run drill')
    expect((await standing()).rows).toEqual([])
  })

  test('is answered at once and done in the background; a second asking meanwhile is refused', async () => {
    const heard: string[] = []
    const owner = await it.as('owner')
    await prepareRoles(it.url)
    const background = await startBackground({ url: it.url, roles: inject('roles') }, proofTasks(proving()), {
      warn: (line) => heard.push(line),
    })
    try {
      const asked = await owner.post('/api/proofs', {}, 'prove-it-now').expect(202)
      expect(asked.body).toMatchObject({ kind: 'drill', startedAt: it.clock.now.toISOString() })
      const second = await owner.post('/api/proofs')
      const again = await owner.post('/api/proofs', {}, 'prove-it-now')
      expect([second.status, second.body.type]).toEqual([409, '/problems/conflict-state'])
      expect(again.body.id).toBe(asked.body.id)
      await expect.poll(async () => (await standing()).rows.find((row) => row.id === asked.body.id)?.held, { timeout: 20_000 }).toBe(true)
      expect((await standing()).underWay).toBeNull()
      expect(heard).toEqual([])
    } finally {
      await background.stop()
    }
  })
})
