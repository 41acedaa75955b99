import { randomUUID } from 'node:crypto'
import { describe, expect, test } from 'vitest'
import { type Agent, startApp } from '#tests/support/app.ts'
import { addEngine, bookJob } from '#tests/support/factories.ts'
import { readCodes, readPdf } from '#tests/support/read-pdf.ts'

const it = await startApp()
const counter = await it.as('counter', { name: 'Hana' })
const bench = await it.as('bench')
const sheet = await addEngine(it, { code: 'R449-4X' })
const job = await bookJob(it, {
  customer: { name: 'Łucja Szőke-Groß', phone: '+48 000 000 318', hearBy: 'text' },
  crank: { engineId: sheet.id, engineNumber: 'R4-20718' },
  whyNow: 'knock',
  hours: 61,
  hoursHow: 'metered',
  promisedOn: '2026-12-07',
  cameWith: [{ what: 'keys', count: 2 }],
  condition: ['taper dented'],
  depositMinor: 10_000,
  depositHow: 'cash',
  feeYesBy: 'Łucja',
  feeYesHow: 'at the counter',
})

function paper(agent: Agent, address: string) {
  return it.app.inject({ method: 'GET', url: address, headers: { cookie: agent.cookie, 'sec-fetch-site': 'same-origin' } })
}

async function textOf(bytes: Uint8Array): Promise<string> {
  return (await readPdf(bytes)).pages.map((page) => page.text).join(' ')
}

describe('the receipt', () => {
  test('says whose crank came in, in what state, and what was promised and paid', async () => {
    const answer = await paper(counter, `/api/jobs/${job.id}/receipt.pdf`)
    expect(answer.statusCode).toBe(200)
    expect(answer.headers).toMatchObject({
      'content-type': 'application/pdf',
      'content-disposition': `inline; filename="receipt-${job.tag}.pdf"`,
      'cache-control': 'no-store',
    })
    const text = await textOf(answer.rawPayload)
    for (const said of [
      job.tag,
      'Łucja Szőke-Groß, +48 000 000 318, rather by text',
      'Ruskhammar R449-4X, number R4-20718',
      'rebuild, kit by us',
      'it knocks',
      '61 h, read off the meter',
      '7 December 2026',
      'keys × 2',
      'taper dented',
      '30.00 EUR, due even where nothing can be done; yes by Łucja, at the counter',
      '100.00 EUR',
      '24 November 2026, taken in by Maker',
    ])
      expect(text).toContain(said)
  })

  test('comes on the paper that is asked for', async () => {
    const [page] = (await readPdf((await paper(counter, `/api/jobs/${job.id}/receipt.pdf?paper=Letter`)).rawPayload)).pages
    expect([Math.round(page!.width), Math.round(page!.height)]).toEqual([612, 792])
    await counter.get(`/api/jobs/${job.id}/receipt.pdf?paper=A3`).expect(400)
  })

  test('is for the counter, of a job that is there', async () => {
    await bench.get(`/api/jobs/${job.id}/receipt.pdf`).expect(403)
    await it.nobody().get(`/api/jobs/${job.id}/receipt.pdf`).expect(401)
    await counter.get(`/api/jobs/${randomUUID()}/receipt.pdf`).expect(404)
  })
})

describe('the label', () => {
  test('carries the tag, and a code that leads to the job', async () => {
    const answer = await paper(bench, `/api/jobs/${job.id}/label.pdf`)
    expect([answer.statusCode, answer.headers['content-type']]).toEqual([200, 'application/pdf'])
    const text = await textOf(answer.rawPayload)
    expect(text).toContain(job.tag)
    expect(text).toContain('Ruskhammar R449-4X')
    expect(text).not.toContain('Szőke')
    expect(await readCodes(answer.rawPayload, { dpi: 203 })).toEqual([`https://book.example/jobs/${job.id}`])
  })

  test('of no job is not there', async () => {
    await counter.get(`/api/jobs/${randomUUID()}/label.pdf`).expect(404)
    await it.nobody().get(`/api/jobs/${job.id}/label.pdf`).expect(401)
  })
})
