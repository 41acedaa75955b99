import { createHash, randomBytes } from 'node:crypto'
import { beforeAll, describe, expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'
import { handsOf, secondReading, truedRebuild } from '#tests/support/bench-factories.ts'
import { addCustomer, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const h = await handsOf(it)
const nobody = it.nobody()

async function linkOf(jobId: string): Promise<string> {
  const { url } = (await h.counter.post(`/api/jobs/${jobId}/link`, {}).expect(201)).body as { url: string }
  return url.split('/').at(-1) ?? ''
}

describe('your crank', () => {
  test('says where it is in plain words, and no name, phone or address', async () => {
    const customer = await addCustomer(it, { name: 'Anders Ångström', phone: '0161 496 0999', address: 'Mill Lane 9' })
    const job = await bookJob(it, { customer: { id: customer.id }, promisedOn: '2026-12-03' })
    const token = await linkOf(job.id)
    expect(Buffer.from(token, 'base64url').length).toBeGreaterThanOrEqual(16)
    const stored = await it.db.pool.query('SELECT 1 FROM public_link WHERE token_hash = sha256($1)', [Buffer.from(token)])
    expect(stored.rowCount).toBe(1)
    const answer = await nobody.get(`/api/public/crank/${token}`).expect(200)
    expect(answer.headers['x-robots-tag']).toContain('noindex')
    expect(answer.headers['cache-control']).toBe('no-store')
    expect(answer.body).toMatchObject({
      tag: job.tag,
      state: 'booked',
      headline: 'Your crank is here. We measure it next.',
      promisedOn: '2026-12-03',
    })
    for (const secret of ['Ångström', '0999', 'Mill Lane 9', customer.id, job.id]) expect(JSON.stringify(answer.body)).not.toContain(secret)
  })

  test('a new link ends the old one; guessed, ended and malformed ones look alike', async () => {
    const job = await bookJob(it)
    const old = await linkOf(job.id)
    const fresh = await linkOf(job.id)
    await nobody.get(`/api/public/crank/${fresh}`).expect(200)
    const answers = await Promise.all(
      [old, randomBytes(32).toString('base64url'), 'x'.repeat(43)].map((token) => nobody.get(`/api/public/crank/${token}`)),
    )
    for (const answer of answers) expect([answer.status, answer.body.detail]).toEqual([404, 'This link is not in the book.'])
  })
})

describe('check a certificate', () => {
  let number: string
  let code: string
  let sha256: string
  let id: string
  beforeAll(async () => {
    const job = await truedRebuild(h)
    await secondReading(h, job)
    it.clock.pass(1)
    const row = (await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(201)).body
    number = row.number
    code = row.checkCode
    id = row.id
    await h.second.get(`/api/certificates/${id}/paper.pdf`).expect(200)
    sha256 = (await it.db.prisma.certificatePaper.findFirstOrThrow({ where: { certificateId: id }, select: { sha256: true } })).sha256
  })
  const check = (body: object) => {
    it.clock.pass(2)
    return nobody.post('/api/public/check', body)
  }

  test('by number and code, however they are typed, and by the very file', async () => {
    const found = await check({ number, code }).expect(200)
    expect(found.body).toMatchObject({ number, standing: 'stands', files: [sha256] })
    expect(found.body.lines.length).toBeGreaterThanOrEqual(5)
    expect(JSON.stringify(found.body)).not.toMatch(/Customer|0161/)
    await check({ number: `No. ${Number(number)}`, code: code.toLowerCase().replace('-', ' ') }).expect(200)
    expect((await check({ sha256 }).expect(200)).body.number).toBe(number)
    await check({ sha256: createHash('sha256').update('another file').digest('hex') }).expect(404)
  })

  test('a wrong code and a number that was never given look alike', async () => {
    const [wrong, never] = await Promise.all([check({ number, code: '0000-0000' }), check({ number: '9999', code })])
    expect([wrong.status, never.status]).toEqual([404, 404])
    expect(wrong.body.detail).toBe(never.body.detail)
  })

  test('says when a sheet was replaced', async () => {
    const next = (await h.owner.post(`/api/certificates/${id}/corrections`, { reason: 'typing slip' }).expect(201)).body
    expect((await check({ number, code }).expect(200)).body).toMatchObject({ standing: 'replaced' })
    expect((await check({ number: next.number, code: next.checkCode }).expect(200)).body).toMatchObject({ standing: 'stands' })
  })

  test('guessing at one number is stopped after a hundred wrong codes a day, and at one address after ten a minute', async () => {
    await it.db.prisma.signInFailure.createMany({
      data: Array.from({ length: 100 }, () => ({ subject: `check ${number}`, at: it.clock.now })),
    })
    expect((await check({ number, code })).status).toBe(429)
    it.clock.pass(24 * 60)
    await check({ number, code }).expect(200)
    const flood = await Promise.all(Array.from({ length: 14 }, () => nobody.post('/api/public/check', { number, code })))
    expect(flood.some((answer) => answer.status === 429)).toBe(true)
  })
})
