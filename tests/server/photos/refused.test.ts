import { randomUUID } from 'node:crypto'
import { deflateSync } from 'node:zlib'
import { describe, expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'
import { bookJob } from '#tests/support/factories.ts'
import { filesKept, picture, type Upload, upload } from '#tests/support/photo-upload.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const job = await bookJob(it)

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
    const files = filesKept(it)
    const given = await make()
    const answer = await upload(it, counter, job.id, given)
    expect([answer.status, answer.headers['content-type']]).toEqual([status, 'application/problem+json; charset=utf-8'])
    expect(answer.body.errors.map((error: { code: string }) => error.code)).toContain(code)
    expect(filesKept(it)).toEqual(files)
  })

  test('one over the limit, and another body than a form', async () => {
    const files = filesKept(it)
    const large = await upload(it, counter, job.id, { bytes: Buffer.alloc(15 * 1024 * 1024 + 1, 1) })
    expect([large.status, large.body.type]).toEqual([413, '/problems/too-large'])
    const json = await upload(it, counter, job.id, { bytes: Buffer.from('x'), contentType: 'application/json' })
    expect(json.status).toBe(400)
    const text = await upload(it, counter, job.id, { bytes: Buffer.from('x'), contentType: 'text/plain' })
    expect([text.status, text.body.type]).toEqual([415, '/problems/unsupported-media'])
    const cut = await upload(it, counter, job.id, { bytes: await picture(200, 200).jpeg().toBuffer(), cutAt: 400 })
    expect(cut.status).toBe(400)
    expect(filesKept(it)).toEqual(files)
  })

  test('a caption that cannot be stored, and a name that climbs out of the folder is not asked', async () => {
    const bytes = await picture(44, 44).jpeg().toBuffer()
    const nul = await upload(it, counter, job.id, { bytes, fields: [['caption', 'a\u0000b']] })
    expect([nul.status, nul.body.errors[0].pointer]).toEqual([400, '/caption'])
    const climbing = await upload(it, counter, job.id, { bytes, name: '../../../../etc/passwd.jpg' })
    expect(climbing.status).toBe(201)
    expect(filesKept(it).every((name) => /^[0-9a-f]{64}(\.thumb)?\.jpg$/.test(name))).toBe(true)
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
