import { createHash, randomUUID } from 'node:crypto'
import { writeFileSync } from 'node:fs'
import path from 'node:path'
import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'
import { bookJob } from '#tests/support/factories.ts'
import { fetchPicture, filesKept, picture, upload } from '#tests/support/photo-upload.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench', { name: 'Marek' })
const job = await bookJob(it)

describe('a photo of a job', () => {
  test('is drawn anew, smaller, turned the way it was held, and without the place where it was taken', async () => {
    const sent = await picture(3000, 1000)
      .jpeg()
      .withExif({ IFD0: { Model: 'Invented camera' }, IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 0/1' } })
      .withMetadata({ orientation: 6 })
      .toBuffer()
    expect((await sharp(sent).metadata()).orientation).toBe(6)
    const { status, body } = await upload(it, counter, job.id, {
      bytes: sent,
      fields: [
        ['caption', 'left end'],
        ['occurredAt', '2026-11-24T08:20:00Z'],
      ],
    })
    expect(status).toBe(201)
    expect(body).toMatchObject({
      step: 'booked',
      caption: 'left end',
      width: 800,
      height: 2400,
      by: 'Hana',
      at: '2026-11-24T08:20:00.000Z',
    })
    const got = await fetchPicture(it, bench, `/api/photos/${body.id}`)
    expect(got.statusCode).toBe(200)
    expect(got.headers).toMatchObject({
      'content-type': 'image/jpeg',
      'cache-control': 'private, max-age=31536000, immutable',
      'x-content-type-options': 'nosniff',
      'content-disposition': `attachment; filename="photo-${body.id}.jpg"`,
      'content-security-policy': "default-src 'none'; sandbox",
    })
    const kept = await sharp(got.rawPayload).metadata()
    expect([kept.width, kept.height, kept.format, kept.exif, kept.orientation]).toEqual([800, 2400, 'jpeg', undefined, undefined])
    expect(got.rawPayload.includes('Invented camera')).toBe(false)
    // Turned a quarter to the right, the stripe of the left edge lies at the top.
    const [top] = await sharp(got.rawPayload).extract({ left: 400, top: 100, width: 1, height: 1 }).raw().toBuffer()
    expect(top).toBeLessThan(20)
    const thumb = await sharp((await fetchPicture(it, counter, `/api/photos/${body.id}?size=thumb`)).rawPayload).metadata()
    expect([thumb.width, thumb.height]).toEqual([160, 480])
  })

  test('is named by what is in it, and the history and the audit chain say that it was taken', async () => {
    const { body } = await upload(it, bench, job.id, { bytes: await picture(300, 200, 'blue').png().toBuffer(), type: 'image/png' })
    const rows = await it.db.pool.query('SELECT sha256, bytes FROM photo WHERE id = $1', [body.id])
    const bytes = (await fetchPicture(it, bench, `/api/photos/${body.id}`)).rawPayload
    expect(rows.rows[0]).toEqual({ sha256: createHash('sha256').update(bytes).digest('hex'), bytes: bytes.length })
    expect(filesKept(it)).toContain(`${rows.rows[0].sha256}.jpg`)
    expect((await bench.get(`/api/jobs/${job.id}/events`)).body.rows[0]).toMatchObject({
      kind: 'photo',
      says: 'A photo was taken.',
      by: 'Marek',
    })
    const audit = await it.db.pool.query("SELECT action FROM audit_row WHERE entity = 'photo' AND entity_id = $1", [body.id])
    expect(audit.rows).toEqual([{ action: 'add photo' }])
  })

  test('once more is the same photo: one row, one file; and a repeat of the request answers the same', async () => {
    const sent = { bytes: await picture(640, 480, 'green').webp().toBuffer(), type: 'image/webp', key: randomUUID() }
    const first = await upload(it, counter, job.id, sent)
    const files = filesKept(it)
    const repeat = await upload(it, counter, job.id, sent)
    expect([repeat.status, repeat.body, repeat.headers.replayed]).toEqual([201, first.body, 'yes'])
    const again = await upload(it, counter, job.id, { ...sent, key: randomUUID() })
    expect([again.status, again.body]).toEqual([201, first.body])
    expect(filesKept(it)).toEqual(files)
    const other = await upload(it, counter, job.id, { ...sent, bytes: await picture(640, 480, 'red').jpeg().toBuffer() })
    expect([other.status, other.body.type]).toEqual([422, '/problems/idempotency-mismatch'])
  })

  test('is listed in the order taken, and struck out with a reason is shown no more', async () => {
    const own = await bookJob(it)
    const second = await upload(it, counter, own.id, {
      bytes: await picture(50, 50).jpeg().toBuffer(),
      fields: [
        ['occurredAt', '2026-11-24T08:40:00Z'],
        ['caption', 'second'],
      ],
    })
    const first = await upload(it, counter, own.id, {
      bytes: await picture(60, 60).jpeg().toBuffer(),
      fields: [
        ['occurredAt', '2026-11-24T08:30:00Z'],
        ['caption', 'first'],
      ],
    })
    const captions = async () =>
      (await bench.get(`/api/jobs/${own.id}/photos`).expect(200)).body.map((one: { caption: string }) => one.caption)
    expect(await captions()).toEqual(['first', 'second'])
    await bench.post(`/api/photos/${first.body.id}/strike`, {}).expect(400)
    await bench.post(`/api/photos/${first.body.id}/strike`, { reason: 'another crank' }).expect(204)
    expect(await captions()).toEqual(['second'])
    expect((await fetchPicture(it, bench, `/api/photos/${first.body.id}`)).statusCode).toBe(404)
    await bench.post(`/api/photos/${first.body.id}/strike`, { reason: 'again' }).expect(404)
    expect((await bench.get(`/api/jobs/${own.id}/events`)).body.rows[0].says).toBe('The photo “first” was struck out: another crank')
    expect((await fetchPicture(it, bench, `/api/photos/${second.body.id}`)).statusCode).toBe(200)
  })
})

describe('who and where', () => {
  test('nobody without sign-in; an unknown job and an unknown photo are not there', async () => {
    const bytes = await picture(20, 20).jpeg().toBuffer()
    expect((await upload(it, it.nobody(), job.id, { bytes })).status).toBe(401)
    expect((await upload(it, counter, randomUUID(), { bytes })).status).toBe(404)
    await counter.get(`/api/jobs/${randomUUID()}/photos`).expect(404)
    await counter.get(`/api/photos/${randomUUID()}`).expect(404)
    await it.nobody().get(`/api/jobs/${job.id}/photos`).expect(401)
  })

  test('where the folder cannot be written, no row is left', async () => {
    const before = await it.db.pool.query('SELECT count(*) FROM photo')
    const bytes = await picture(333, 222, 'purple').jpeg().toBuffer()
    const files = it.app.files
    // A file where the folder should be: nothing can be kept below it, whoever runs this.
    const blocked = path.join(files, 'blocked')
    writeFileSync(blocked, '')
    Object.assign(it.app, { files: blocked })
    const answer = await upload(it, counter, job.id, { bytes })
    Object.assign(it.app, { files })
    expect(answer.status).toBe(500)
    expect((await it.db.pool.query('SELECT count(*) FROM photo')).rows).toEqual(before.rows)
  })
})
