import { createHash } from 'node:crypto'
import type supertest from 'supertest'
import { beforeAll, describe, expect, test } from 'vitest'
import { canonicalJson } from '#core/canonical-json.ts'
import type { CertificateData } from '#core/certificate.ts'
import { auditRows } from '#server/features/audit/store.ts'
import { verifyChain } from '#server/features/audit/verify.ts'
import { startApp } from '#tests/support/app.ts'
import { handsOf, SET_UP, secondReading, take, truedRebuild, turnOf } from '#tests/support/bench-factories.ts'
import { bookJob } from '#tests/support/factories.ts'
import { readCodes, readPdf } from '#tests/support/read-pdf.ts'

const it = await startApp()
const h = await handsOf(it)

interface Row {
  id: string
  number: string
  checkCode: string
  seal: { value: string }
  replaces?: string
  replacedBy?: string
}

async function readyToSign() {
  const job = await truedRebuild(h)
  await secondReading(h, job)
  it.clock.pass(1)
  return job
}

async function sign(jobId: string): Promise<Row> {
  return (await h.second.post(`/api/jobs/${jobId}/certificates`, {}).expect(201)).body as Row
}

const sealed = async (id: string) => {
  const { data } = await it.db.prisma.certificate.findUniqueOrThrow({ where: { id }, select: { data: true } })
  return { text: data, data: JSON.parse(data) as CertificateData }
}

const bytesOf = async (agent: typeof h.bench, address: string) =>
  (await agent.get(address).buffer(true).parse(binary).expect(200)).body as Buffer

function binary(response: supertest.Response, done: (error: Error | null, body: Buffer) => void): void {
  const chunks: Buffer[] = []
  // The answer is the stream itself while it is being parsed; its type does not say so.
  const stream = response as unknown as NodeJS.ReadableStream
  stream.on('data', (chunk: Buffer) => chunks.push(chunk))
  stream.on('end', () => done(null, Buffer.concat(chunks)))
}

const textOf = async (pdf: Buffer) => (await readPdf(pdf)).pages.map((page) => page.text).join('\n')

describe('before signing', () => {
  test('the second reader sees no line of the first reading until their own set is in', async () => {
    const job = await truedRebuild(h)
    const hidden = (await h.second.get(`/api/jobs/${job.id}/certificate`).expect(200)).body
    expect(hidden).toMatchObject({ mayIssue: false, issued: [] })
    expect(hidden.plain).toBeUndefined()
    expect(JSON.stringify(hidden)).not.toMatch(/0\.01\d/)
    await h.second.post(`/api/jobs/${job.id}/certificates`, {}).expect(409)
    await secondReading(h, job)
    it.clock.pass(1)
    const ready = (await h.second.get(`/api/jobs/${job.id}/certificate`).expect(200)).body
    expect(ready).toMatchObject({ mayIssue: true, missing: [] })
    expect(ready.plain).toMatch(/^On our bench on 24 November 2026 the left end swung/)
    expect(ready.lines[0].verdict).toBe('within')
  })

  test('a limit that was carried to another place, and a keyway that was skipped, are said beside the end', async () => {
    const job = await bookJob(it, { kind: 'check-and-report' })
    const setup = { ...SET_UP, dialLeftMm: 90, surfaceLeft: 'taper 1:5', skippedLeftDeg: [90] }
    const values = turnOf({ swingMm: 0.02 }, setup).filter((value) => value.place !== 'left' || value.atDeg !== 90)
    await take(h, h.owner, job, { kind: 'runout', phase: 'received', setup, instrumentId: h.dial.id, values })
    const { lines } = (await h.owner.get(`/api/jobs/${job.id}/certificate`).expect(200)).body
    // Limit × distance ÷ distance on the sheet: 0.02 and 0.03 at 45 are twice that at 90.
    expect(lines[0].notes).toEqual([
      'taper 1:5, keyway skipped',
      'we allow 0.020 at 45 mm out, which is 0.040 here',
      'the maker allows 0.030 at 45 mm out, which is 0.060 here',
    ])
    expect(lines[1].notes).toEqual(['plain 20 mm', 'the maker allows 0.030 at 50 mm out from its support'])
  })

  test('a hand without the mark may not sign, and a job that is not true cannot be', async () => {
    const job = await readyToSign()
    expect((await h.bench.post(`/api/jobs/${job.id}/certificates`, {})).status).toBe(403)
    await sign(job.id)
    expect((await h.second.post(`/api/jobs/${job.id}/certificates`, {})).body.type).toBe('/problems/conflict-state')
  })
})

describe('a sheet', () => {
  let row: Row
  let jobId: string
  beforeAll(async () => {
    const job = await readyToSign()
    jobId = job.id
    row = await sign(job.id)
  })

  test('seals what was measured over its RFC 8785 form, without the name of a customer', async () => {
    const { text, data } = await sealed(row.id)
    expect(text).toBe(canonicalJson(data))
    expect(row.seal.value).toBe(createHash('sha256').update(text, 'utf8').digest('hex'))
    const { customer } = (await h.owner.get(`/api/jobs/${jobId}`)).body
    expect(text).not.toContain(customer.name)
    expect(text).not.toContain(customer.phone)
    expect(data).toMatchObject({
      heading: 'certificate',
      kit: { maker: 'Ardenlow', lot: 'A-2417', from: 'ours' },
      pressings: { left: 2, right: 2 },
      pressing: { leftTonnes: 9.1, rightTonnes: 8.9, lubricant: 'oil' },
      built: [{ by: 'Jonas' }],
      signed: { by: 'Marek' },
      again: { by: 'Marek', samePerson: false },
      bookHead: expect.stringMatching(/^[0-9a-f]{64}$/),
    })
    expect(data.fit?.left).toMatchObject({ stepMm: 0.001 })
    // The budget of each end is sealed with the rule in words, greatest part first: the left dial stands on a taper.
    expect(data).toMatchObject({ form: 'throwbook-certificate-2', worth: { coverage: 0.9545, rule: 'full-guard', warm: false } })
    expect(data.worth?.statement).toContain('“Within” means that the figure and its give-or-take together do not pass the limit')
    const { left, right } = data.worth!
    expect(left?.k).toBe(2)
    expect(left?.parts.map((part) => part.name)).toContain('way along the taper')
    expect(right?.parts.map((part) => part.name)).not.toContain('way along the taper')
    for (const end of [left, right]) {
      const shares = end!.parts.map((part) => part.share)
      expect(shares).toEqual([...shares].sort((one, other) => other - one))
      expect(2 * Math.hypot(...end!.parts.map((part) => part.standardMm))).toBeCloseTo(
        data[end === left ? 'left' : 'right'].giveOrTakeMm!,
        9,
      )
    }
  })

  test('verdict by its own rule and its own dial: 0.01 dial ±0.008, limit 0.020, reading 0.014 is in the doubt band', async () => {
    const job = await truedRebuild(
      { ...h, dial: (await h.owner.post('/api/instruments', { name: 'dial 3', kind: 'dial', stepMm: 0.01 }).expect(201)).body },
      { swingMm: 0.0137 },
    )
    await secondReading(h, job, { swingMm: 0.0137 })
    it.clock.pass(1)
    const preview = (await h.second.get(`/api/jobs/${job.id}/certificate`).expect(200)).body
    // The first set was read with the coarse dial; its figures decide the sheet, and its gate is still the reading itself.
    expect(preview.missing).toEqual([])
    const left = preview.lines[0] as { giveOrTake: string; verdict: string }
    expect(left.giveOrTake).toMatch(/0\.01|0\.008/)
    expect(left.verdict).toBe('in the doubt band')
    // By the simple rule, which the owner may choose, the same figure is within; the sheet is judged on the day it is made.
    const { version, ...settings } = (await h.owner.get('/api/settings').expect(200)).body
    await h.owner.put('/api/settings', { ...settings, guardRule: 'simple' }, version).expect(200)
    const simple = (await h.second.get(`/api/jobs/${job.id}/certificate`).expect(200)).body
    expect(simple.lines[0].verdict).toBe('within')
    await h.owner.put('/api/settings', settings, version + 1).expect(200)
  })

  test('prints on A4 and Letter, the same bytes each time, and its QR leads to the check page', async () => {
    const a4 = await bytesOf(h.second, `/api/certificates/${row.id}/paper.pdf?paper=A4`)
    const again = await bytesOf(h.owner, `/api/certificates/${row.id}/paper.pdf?paper=A4`)
    const letter = await bytesOf(h.owner, `/api/certificates/${row.id}/paper.pdf?paper=Letter`)
    expect(again.equals(a4)).toBe(true)
    expect(letter.equals(a4)).toBe(false)
    const text = await textOf(a4)
    expect(text).toContain(row.number)
    expect(text).toContain(row.checkCode)
    expect(await readCodes(a4)).toContain(`https://book.example/check?number=${row.number}&code=${row.checkCode}`)
    const kept = await it.db.prisma.certificatePaper.findMany({ where: { certificateId: row.id }, select: { sha256: true, paper: true } })
    expect(kept.find((paper) => paper.paper === 'A4')?.sha256).toBe(createHash('sha256').update(a4).digest('hex'))
  })

  test('a correction has its own number and reason, the old one says by which it was replaced; a void keeps its number', async () => {
    expect((await h.second.post(`/api/certificates/${row.id}/corrections`, { reason: 'lot misread' })).status).toBe(403)
    const next = (await h.owner.post(`/api/certificates/${row.id}/corrections`, { reason: 'lot misread on the bag' }).expect(201))
      .body as Row
    expect(next.replaces).toBe(row.number)
    expect(Number(next.number)).toBeGreaterThan(Number(row.number))
    expect((await sealed(next.id)).data.replaces).toEqual({ number: row.number, reason: 'lot misread on the bag' })
    const chain = (await h.owner.get(`/api/jobs/${jobId}/certificate`).expect(200)).body.issued as Row[]
    expect(chain.map((one) => [one.number, one.replacedBy])).toEqual([
      [next.number, undefined],
      [row.number, next.number],
    ])
    expect((await h.owner.post(`/api/certificates/${row.id}/corrections`, { reason: 'again' })).body.type).toBe('/problems/conflict-state')
    await h.owner.post(`/api/certificates/${next.id}/void`, { reason: 'made for the wrong crank' }).expect(200)
    expect((await h.owner.post(`/api/certificates/${next.id}/void`, { reason: 'twice' })).status).toBe(409)
    const text = await textOf(await bytesOf(h.owner, `/api/certificates/${next.id}/paper.pdf`))
    expect(text.toLowerCase()).toContain('void')
  })
})

describe('numbers', () => {
  test('have no gaps and no doubles, however many sign at once and however many are refused', async () => {
    const ready = []
    for (let made = 0; made < 4; made++) ready.push(await readyToSign())
    const notReady = await truedRebuild(h)
    const before = Math.max(...(await it.db.prisma.certificate.findMany({ select: { number: true } })).map((one) => one.number))
    const answers = await Promise.all([
      ...ready.map((job) => h.second.post(`/api/jobs/${job.id}/certificates`, {})),
      ...Array.from({ length: 6 }, () => h.second.post(`/api/jobs/${notReady.id}/certificates`, {})),
    ])
    expect(answers.filter((answer) => answer.status === 201)).toHaveLength(4)
    const numbers = (
      await it.db.prisma.certificate.findMany({ where: { number: { gt: before } }, orderBy: { number: 'asc' }, select: { number: true } })
    ).map((one) => one.number)
    expect(numbers).toEqual([1, 2, 3, 4].map((step) => before + step))
  })

  test('the rows are written once: no right to change or delete them, and the chain of the book holds', async () => {
    for (const statement of [
      "UPDATE certificate SET data = '{}'",
      'DELETE FROM certificate',
      'DELETE FROM certificate_void',
      'UPDATE certificate_paper SET bytes = 0',
    ])
      await expect(it.db.pool.query(statement)).rejects.toMatchObject({ code: '42501' })
    expect((await verifyChain(auditRows(it.db.pool))).fault).toBeNull()
  })
})
