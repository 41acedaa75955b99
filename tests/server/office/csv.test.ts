import { once } from 'node:events'
import type { Readable } from 'node:stream'
import { buffer } from 'node:stream/consumers'
import { parse } from 'csv-parse/sync'
import fc from 'fast-check'
import { describe, expect, test } from 'vitest'
import type { OfficeComebacks } from '#contract/office-came-back.ts'
import type { OfficeFlow } from '#contract/office-flow.ts'
import { type CsvColumn, csvStream, neutralised, restored } from '#server/plugins/csv.ts'
import { startApp } from '#tests/support/app.ts'
import { addCustomer } from '#tests/support/factories.ts'
import { lotId, pastJob } from '#tests/support/office-factories.ts'

const it = await startApp()
const owner = await it.as('owner')

interface Pair {
  words: string
  figure: number
}
const COLUMNS: readonly CsvColumn<Pair>[] = [
  { id: 'words', cell: (row) => row.words },
  { id: 'figure_um', cell: (row) => row.figure },
]
const BOM = '\ufeff'
/** With its byte order mark, which a decoder of texts would take away. */
const text = async (stream: Readable) => (await buffer(stream)).toString('utf8')

async function file(address: string): Promise<{ raw: string; rows: Record<string, string>[] }> {
  const answer = await owner.get(address).buffer(true).expect(200)
  expect(answer.headers['content-type']).toBe('text/csv; charset=utf-8; header=present')
  expect(answer.headers['content-disposition']).toMatch(/^attachment; filename="[a-z-]+\.csv"$/)
  const raw = answer.text
  return { raw, rows: parse(raw, { bom: true, columns: true, delimiter: address.includes('semicolon') ? ';' : ',' }) }
}

describe('one place writes CSV', () => {
  test('what is written is read back as it was, whatever stands in it, comma or semicolon', async () => {
    const words = fc.oneof(
      fc.string({ unit: 'binary' }),
      fc.constantFrom('=1+1', '+44 161', '-3', '@me', '\tx', "'", "'=1", '"', 'a,b;c', 'x\r\ny', '\r', '\n', '', 'Łódź ő ß'),
    )
    const rows = fc.array(fc.record({ words, figure: fc.double({ min: -1e6, max: 1e6, noNaN: true }) }), { maxLength: 5 })
    await fc.assert(
      fc.asyncProperty(rows, fc.constantFrom('comma' as const, 'semicolon' as const), async (pairs, separator) => {
        const raw = await text(csvStream(COLUMNS, pairs, separator))
        expect(raw.startsWith(BOM)).toBe(true)
        const read = parse(raw, { bom: true, columns: true, delimiter: separator === 'comma' ? ',' : ';' }) as {
          words: string
          figure_um: string
        }[]
        expect(read.map((row) => restored(row.words))).toEqual(pairs.map((pair) => pair.words))
        expect(read.map((row) => Number(row.figure_um.replace(',', '.')))).toEqual(pairs.map(({ figure }) => (figure === 0 ? 0 : figure)))
        for (const row of read) expect(row.words).not.toMatch(/^[=+\-@\t\r]/)
      }),
      { numRuns: 300 },
    )
  })

  test('lines end with CR LF, a number below 0 stays a number, a text that looks like one does not', async () => {
    const raw = await text(csvStream(COLUMNS, [{ words: '-3', figure: -3.5 }]))
    expect(raw).toBe(`${BOM}words,figure_um\r\n'-3,-3.5\r\n`)
    expect(await text(csvStream(COLUMNS, [{ words: 'a', figure: -3.5 }], 'semicolon'))).toBe(`${BOM}words;figure_um\r\na;-3,5\r\n`)
    expect(await text(csvStream(COLUMNS, []))).toBe(`${BOM}words,figure_um\r\n`)
    expect([neutralised('plain'), neutralised("'"), restored("''")]).toEqual(['plain', "''", "'"])
  })

  test('a fault in the middle of the rows ends the stream with it instead of a short file', async () => {
    async function* rows(): AsyncGenerator<Pair> {
      yield { words: 'one', figure: 1 }
      throw new Error('the book went away')
    }
    await expect(text(csvStream(COLUMNS, rows()))).rejects.toThrow('the book went away')
  })

  test('rows that nobody reads are not asked for', async () => {
    let asked = 0
    async function* endless(): AsyncGenerator<Pair> {
      for (;;) yield { words: 'x'.repeat(1000), figure: asked++ }
    }
    const stream = csvStream(COLUMNS, endless())
    await once(stream, 'data')
    stream.destroy()
    await new Promise((resume) => setImmediate(resume))
    const before = asked
    await new Promise((resume) => setTimeout(resume, 20))
    expect(asked).toBe(before)
    expect(asked).toBeLessThan(1000)
  })
})

describe('the figures as files', () => {
  test('names that begin like formulas are harmless in every table of cranks', async () => {
    const { id } = await addCustomer(it, { name: '=HYPERLINK("http://x","A")' })
    const job = await pastJob(it, {
      state: 'apart',
      promisedOn: '2026-11-20',
      waits: [{ what: 'kit', since: '2026-11-09T09:00:00Z', note: '+pin, "on order"' }],
    })
    await it.db.pool.query('UPDATE job SET customer_id = $2 WHERE id = $1', [job.id, id])
    for (const address of ['late.csv', 'waiting.csv', 'cranks.csv?figure=late']) {
      const { raw, rows } = await file(`/api/office/${address}`)
      expect(rows[0]!.customer).toBe(`'=HYPERLINK("http://x","A")`)
      expect(raw).not.toMatch(/(^|,|\n)"?=/)
    }
    const { rows } = await file('/api/office/waiting.csv')
    expect(restored(rows[0]!.what_exactly!)).toBe('+pin, "on order"')
    expect(rows[0]).toMatchObject({ tag: job.tag, waits_for: 'kit', waiting_days: '15', due_on: '' })
  })

  test('each figure is the same as its file, with the same filters', async () => {
    await pastJob(it, {
      lot: 'S-1',
      bookedAt: '2026-11-02T09:00:00Z',
      leftAt: '2026-11-12T09:00:00Z',
      back: { day: '2026-11-20', hours: 7.5 },
    })
    await pastJob(it, { lot: 'S-2', bookedAt: '2026-11-03T09:00:00Z', leftAt: '2026-11-16T09:00:00Z' })
    const flow = (await owner.get('/api/office/flow?weeks=3').expect(200)).body as OfficeFlow
    expect((await file(flow.csv)).rows.map((row) => [row.week, Number(row.in_cranks), Number(row.out_cranks)])).toEqual(
      flow.weeks.map((week) => [week.week, week.in, week.out]),
    )
    const back = (await owner.get('/api/office/comebacks?by=lot').expect(200)).body as OfficeComebacks
    expect((await file(back.csv)).rows.map((row) => [row.name, Number(row.gone_cranks), Number(row.back_cranks)])).toEqual([
      ['all', back.all.n, back.all.back],
      ...back.rows.map((row) => [row.name, row.n, row.back]),
    ])
    const running = (await file(`/api/office/running.csv?lot=${await lotId(it, 'S-1')}`)).rows
    expect(running.map((row) => [row.curve, row.ridden_h, row.back_cranks])).toEqual([['Stellmarch lot S-1', '8', '1']])
    expect((await file('/api/office/first-check.csv')).rows[0]).toMatchObject({ by: 'all', checked_cranks: '0', within_share: '' })
    for (const name of ['promised', 'ready', 'instruments', 'earning'])
      expect((await file(`/api/office/${name}.csv`)).raw.startsWith(BOM)).toBe(true)
  })

  test('a long list is written whole, the newest tag first', async () => {
    await it.db.pool.query(
      `INSERT INTO job (id, number, tag, kind, state, crank_id, customer_id, why_now, booked_by_id, booked_at)
       SELECT gen_random_uuid(), 100000 + n, 'T-' || n, 'rebuild', 'booked', j.crank_id, j.customer_id, 'hours-up', j.booked_by_id, '2026-10-05T09:00:00Z'
       FROM generate_series(1, 1203) n, (SELECT * FROM job LIMIT 1) j`,
    )
    const { rows } = await file('/api/office/cranks.csv?figure=in&from=2026-10-05&to=2026-10-11&separator=semicolon')
    expect(rows).toHaveLength(1203)
    expect(new Set(rows.map((row) => row.tag)).size).toBe(1203)
    expect(rows.map((row) => Number(row.number))).toEqual(rows.map((_row, index) => 101_203 - index))
  })
})
