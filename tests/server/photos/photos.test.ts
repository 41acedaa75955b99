import { createHash, randomUUID } from 'node:crypto'
import { chmodSync, readdirSync, writeFileSync } from 'node:fs'
import path from 'node:path'
import { deflateSync } from 'node:zlib'
import sharp from 'sharp'
import { describe, expect, test } from 'vitest'
import { type Agent, startApp } from '#tests/support/app.ts'
import { bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench', { name: 'Marek' })
const job = await bookJob(it)

interface Upload {
  bytes?: Uint8Array
  name?: string
  type?: string
  field?: string
  fields?: [string, string][]
  key?: string
  contentType?: string
  /** Leaves out the end of the body, as when the line drops. */
  cutAt?: number
}

/** Sends the parts as a form of a browser does. */
async function upload(agent: Agent, jobId: string, given: Upload) {
  const { bytes, name = 'photo.jpg', type = 'image/jpeg', field = 'photo', fields = [], key = randomUUID() } = given
  const line = `line-${randomUUID()}`
  const parts = fields.map(([what, value]) =>
    Buffer.from(`--${line}\r\ncontent-disposition: form-data; name="${what}"\r\n\r\n${value}\r\n`),
  )
  if (bytes !== undefined) {
    parts.push(
      Buffer.from(`--${line}\r\ncontent-disposition: form-data; name="${field}"; filename="${name}"\r\ncontent-type: ${type}\r\n\r\n`),
    )
    parts.push(Buffer.from(bytes), Buffer.from('\r\n'))
  }
  parts.push(Buffer.from(`--${line}--\r\n`))
  const answer = await it.app.inject({
    method: 'POST',
    url: `/api/jobs/${jobId}/photos`,
    headers: {
      cookie: agent.cookie,
      'sec-fetch-site': 'same-origin',
      'idempotency-key': key,
      'content-type': given.contentType ?? `multipart/form-data; boundary=${line}`,
    },
    payload: Buffer.concat(parts).subarray(0, given.cutAt),
  })
  return { status: answer.statusCode, headers: answer.headers, body: answer.json() }
}

function fetchPicture(agent: Agent, address: string) {
  return it.app.inject({ method: 'GET', url: address, headers: { cookie: agent.cookie, 'sec-fetch-site': 'same-origin' } })
}

/** Names of all files kept so far, half-written ones too. */
function filesKept(): string[] {
  return readdirSync(it.app.files, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => entry.name)
    .sort()
}

/** A picture with a black stripe at its left edge, so that turning it can be seen. */
function picture(width: number, height: number, background = '#cc8844') {
  const stripe = { create: { width: Math.round(width / 4), height, channels: 3, background: 'black' } } as const
  return sharp({ create: { width, height, channels: 3, background } }).composite([{ input: stripe, left: 0, top: 0 }])
}

/** A PNG that says it is so large and holds next to nothing. */
function bombOf(width: number, height: number): Buffer {
  const chunk = (kind: string, data: Buffer) => {
    const body = Buffer.concat([Buffer.from(kind), data])
    const head = Buffer.alloc(4)
    head.writeUInt32BE(data.length)
    const tail = Buffer.alloc(4)
    tail.writeUInt32BE(crc32(body))
    return Buffer.concat([head, body, tail])
  }
  const header = Buffer.alloc(13)
  header.writeUInt32BE(width, 0)
  header.writeUInt32BE(height, 4)
  header.set([8, 0, 0, 0, 0], 8)
  return Buffer.concat([
    Buffer.from('\x89PNG\r\n\x1a\n', 'latin1'),
    chunk('IHDR', header),
    chunk('IDAT', deflateSync(Buffer.alloc(1000))),
    chunk('IEND', Buffer.alloc(0)),
  ])
}

function crc32(bytes: Uint8Array): number {
  let sum = 0xffffffff
  for (const byte of bytes) {
    sum ^= byte
    for (let bit = 0; bit < 8; bit++) sum = sum & 1 ? (sum >>> 1) ^ 0xedb88320 : sum >>> 1
  }
  return (sum ^ 0xffffffff) >>> 0
}

describe('a photo of a job', () => {
  test('is drawn anew, smaller, turned the way it was held, and without the place where it was taken', async () => {
    const sent = await picture(3000, 1000)
      .jpeg()
      .withExif({ IFD0: { Model: 'Invented camera' }, IFD3: { GPSLatitudeRef: 'N', GPSLatitude: '51/1 30/1 0/1' } })
      .withMetadata({ orientation: 6 })
      .toBuffer()
    expect((await sharp(sent).metadata()).orientation).toBe(6)
    const { status, body } = await upload(counter, job.id, {
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
    const got = await fetchPicture(bench, `/api/photos/${body.id}`)
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
    const thumb = await sharp((await fetchPicture(counter, `/api/photos/${body.id}?size=thumb`)).rawPayload).metadata()
    expect([thumb.width, thumb.height]).toEqual([160, 480])
  })

  test('is named by what is in it, and the history and the audit chain say that it was taken', async () => {
    const { body } = await upload(bench, job.id, { bytes: await picture(300, 200, 'blue').png().toBuffer(), type: 'image/png' })
    const rows = await it.db.pool.query('SELECT sha256, bytes FROM photo WHERE id = $1', [body.id])
    const bytes = (await fetchPicture(bench, `/api/photos/${body.id}`)).rawPayload
    expect(rows.rows[0]).toEqual({ sha256: createHash('sha256').update(bytes).digest('hex'), bytes: bytes.length })
    expect(filesKept()).toContain(`${rows.rows[0].sha256}.jpg`)
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
    const first = await upload(counter, job.id, sent)
    const files = filesKept()
    const repeat = await upload(counter, job.id, sent)
    expect([repeat.status, repeat.body, repeat.headers.replayed]).toEqual([201, first.body, 'yes'])
    const again = await upload(counter, job.id, { ...sent, key: randomUUID() })
    expect([again.status, again.body]).toEqual([201, first.body])
    expect(filesKept()).toEqual(files)
    const other = await upload(counter, job.id, { ...sent, bytes: await picture(640, 480, 'red').jpeg().toBuffer() })
    expect([other.status, other.body.type]).toEqual([422, '/problems/idempotency-mismatch'])
  })

  test('is listed in the order taken, and struck out with a reason is shown no more', async () => {
    const own = await bookJob(it)
    const second = await upload(counter, own.id, {
      bytes: await picture(50, 50).jpeg().toBuffer(),
      fields: [
        ['occurredAt', '2026-11-24T08:40:00Z'],
        ['caption', 'second'],
      ],
    })
    const first = await upload(counter, own.id, {
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
    expect((await fetchPicture(bench, `/api/photos/${first.body.id}`)).statusCode).toBe(404)
    await bench.post(`/api/photos/${first.body.id}/strike`, { reason: 'again' }).expect(404)
    expect((await bench.get(`/api/jobs/${own.id}/events`)).body.rows[0].says).toBe('The photo “first” was struck out: another crank')
    expect((await fetchPicture(bench, `/api/photos/${second.body.id}`)).statusCode).toBe(200)
  })
})

describe('what is no photo is refused in words and leaves nothing behind', () => {
  const cases: [string, () => Promise<Upload>, number, string][] = [
    ['an empty file', async () => ({ bytes: new Uint8Array() }), 400, 'empty'],
    ['a page named .jpg', async () => ({ bytes: Buffer.from('<html><script>alert(1)</script></html>') }), 400, 'kind'],
    [
      'a drawing with a script',
      async () => ({ bytes: Buffer.from('<svg xmlns="http://www.w3.org/2000/svg"><script/></svg>'), type: 'image/svg+xml' }),
      400,
      'kind',
    ],
    ['a HEIC picture', async () => ({ bytes: Buffer.from('\0\0\0\x18ftypheic\0\0\0\0mif1heic', 'latin1') }), 400, 'kind'],
    ['a picture cut off on the way', async () => ({ bytes: (await picture(900, 700).jpeg().toBuffer()).subarray(0, 2000) }), 400, 'broken'],
    [
      'a JPEG in its first bytes alone',
      async () => ({ bytes: Buffer.concat([Buffer.from([0xff, 0xd8, 0xff]), Buffer.alloc(500, 'php')]) }),
      400,
      'broken',
    ],
    ['a small file that says it has 900 million pixels', async () => ({ bytes: bombOf(30_000, 30_000), type: 'image/png' }), 400, 'pixels'],
    [
      'another picture than announced',
      async () => ({ bytes: await picture(31, 31).jpeg().toBuffer(), fields: [['sha256', 'a'.repeat(64)]] }),
      400,
      'differs',
    ],
    ['no file', async () => ({ fields: [['caption', 'nothing']] }), 400, 'invalid_type'],
    [
      'a part of another name',
      async () => ({ bytes: await picture(30, 30).jpeg().toBuffer(), fields: [['role', 'owner']] }),
      400,
      'unrecognized_keys',
    ],
    [
      'the same part twice',
      async () => ({
        bytes: await picture(30, 30).jpeg().toBuffer(),
        fields: [
          ['caption', 'a'],
          ['caption', 'b'],
        ],
      }),
      400,
      'twice',
    ],
  ]
  test.each(cases)('%s', async (_what, make, status, code) => {
    const files = filesKept()
    const given = await make()
    const answer = await upload(counter, job.id, given)
    expect([answer.status, answer.headers['content-type']]).toEqual([status, 'application/problem+json; charset=utf-8'])
    expect(answer.body.errors.map((error: { code: string }) => error.code)).toContain(code)
    expect(filesKept()).toEqual(files)
  })

  test('one over the limit, and another body than a form', async () => {
    const files = filesKept()
    const large = await upload(counter, job.id, { bytes: Buffer.alloc(15 * 1024 * 1024 + 1, 1) })
    expect([large.status, large.body.type]).toEqual([413, '/problems/too-large'])
    const json = await upload(counter, job.id, { bytes: Buffer.from('x'), contentType: 'application/json' })
    expect(json.status).toBe(400)
    const text = await upload(counter, job.id, { bytes: Buffer.from('x'), contentType: 'text/plain' })
    expect([text.status, text.body.type]).toEqual([415, '/problems/unsupported-media'])
    const cut = await upload(counter, job.id, { bytes: await picture(200, 200).jpeg().toBuffer(), cutAt: 400 })
    expect(cut.status).toBe(400)
    expect(filesKept()).toEqual(files)
  })

  test('a caption that cannot be stored, and a name that climbs out of the folder is not asked', async () => {
    const bytes = await picture(44, 44).jpeg().toBuffer()
    const nul = await upload(counter, job.id, { bytes, fields: [['caption', 'a\u0000b']] })
    expect([nul.status, nul.body.errors[0].pointer]).toEqual([400, '/caption'])
    const climbing = await upload(counter, job.id, { bytes, name: '../../../../etc/passwd.jpg' })
    expect(climbing.status).toBe(201)
    expect(filesKept().every((name) => /^[0-9a-f]{64}(\.thumb)?\.jpg$/.test(name))).toBe(true)
  })

  test('multipart is taken by this route alone', async () => {
    const answer = await it.app.inject({
      method: 'POST',
      url: '/api/customers',
      headers: {
        cookie: counter.cookie,
        'sec-fetch-site': 'same-origin',
        'idempotency-key': randomUUID(),
        'content-type': 'multipart/form-data; boundary=x',
      },
      payload: '--x--\r\n',
    })
    expect(answer.statusCode).toBe(415)
  })
})

describe('who and where', () => {
  test('nobody without sign-in; an unknown job and an unknown photo are not there', async () => {
    const bytes = await picture(20, 20).jpeg().toBuffer()
    expect((await upload(it.nobody(), job.id, { bytes })).status).toBe(401)
    expect((await upload(counter, randomUUID(), { bytes })).status).toBe(404)
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
    const answer = await upload(counter, job.id, { bytes })
    Object.assign(it.app, { files })
    chmodSync(blocked, 0o600)
    expect(answer.status).toBe(500)
    expect((await it.db.pool.query('SELECT count(*) FROM photo')).rows).toEqual(before.rows)
  })
})
