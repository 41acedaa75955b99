import { describe, expect, test } from 'vitest'
import { type Agent, startApp } from '#tests/support/app.ts'
import { addCustomer, addEngine, bookJob } from '#tests/support/factories.ts'

const it = await startApp()
const counter = await it.as('counter')
const bench = await it.as('bench')

interface Hit {
  what: string
  id: string
  title: string
  says: string
}

async function hits(q: string, agent: Agent = counter): Promise<Hit[]> {
  return (await agent.get(`/api/find?q=${encodeURIComponent(q)}`).expect(200)).body.rows
}

const titles = async (q: string, agent?: Agent) => (await hits(q, agent)).map((hit) => `${hit.what} ${hit.title}`)

const sheet = await addEngine(it, { maker: 'Ruskhammar', code: 'R449-4X' })
const kart = await addEngine(it, { maker: 'Ferrowyn', code: 'F124-K', cycle: '2T' })
const zolk = await addCustomer(it, { name: 'Żółkiewski, Ł.', phone: '+44 (0)161 / 496-0187' })
const quill = await addCustomer(it, { name: 'Quillfen Racing', phone: '08 123 45 67', mail: 'pit@quillfen.example' })
const first = await bookJob(it, { customer: { id: zolk.id }, crank: { engineId: sheet.id, engineNumber: 'R4-20718' } })
const second = await bookJob(it, { customer: { id: quill.id }, crank: { engineId: kart.id, engineNumber: 'F1-118', marks: 'blue dot' } })
const third = await bookJob(it, { customer: { id: quill.id }, crank: { engineId: sheet.id, engineNumber: 'R4-30001' } })

describe('finding', () => {
  test('by tag, however it is typed or scanned', async () => {
    const [number, letter] = third.tag.split('-')
    for (const q of [
      third.tag,
      `${number}${letter}`,
      `${number} ${letter?.toLowerCase()}`,
      `${number}'${letter}`.replace("'", '-'),
      String(number),
    ])
      expect([q, (await hits(q))[0]?.title]).toEqual([q, third.tag])
    const [hit] = await hits(third.tag)
    expect(hit).toEqual({
      what: 'job',
      id: third.id,
      title: third.tag,
      says: 'Quillfen Racing · Ruskhammar R449-4X · R4-30001 · booked · to measure',
    })
  })

  test.each([
    ['zolk', [`job ${first.tag}`, 'customer Żółkiewski, Ł.']],
    ['ŻÓŁKIEWSKI', [`job ${first.tag}`, 'customer Żółkiewski, Ł.']],
    ['0161 4960187', [`job ${first.tag}`, 'customer Żółkiewski, Ł.']],
    ['496-01', [`job ${first.tag}`, 'customer Żółkiewski, Ł.']],
    ['r4 20718', [`job ${first.tag}`]],
    ['20718', [`job ${first.tag}`]],
    ['blue dot', [`job ${second.tag}`]],
    ['pit@quillfen', [`job ${third.tag}`, `job ${second.tag}`, 'customer Quillfen Racing']],
    ['quillfen f124', [`job ${second.tag}`]],
    ['f124k', [`job ${second.tag}`, 'engine Ferrowyn F124-K']],
    ['ferrowyn', [`job ${second.tag}`, 'engine Ferrowyn F124-K']],
  ])('%s', async (q, found) => {
    expect(await titles(q)).toEqual(found)
  })

  test('jobs in the house stand before those that are gone', async () => {
    await it.db.pool.query("UPDATE job SET state = 'gone' WHERE id = $1", [third.id])
    expect(await titles('quillfen')).toEqual([`job ${second.tag}`, `job ${third.tag}`, 'customer Quillfen Racing'])
    expect((await hits('quillfen'))[1]?.says).toBe('Quillfen Racing · Ruskhammar R449-4X · R4-30001 · gone · out running')
  })

  test('a slip of the keys still finds, where nothing holds it as typed', async () => {
    expect((await titles('qillfen')).slice(0, 2)).toEqual([`job ${second.tag}`, `job ${third.tag}`])
    expect(await titles('zolkievski')).toContain('customer Żółkiewski, Ł.')
    expect(await titles('ferowyn')).toContain('engine Ferrowyn F124-K')
  })

  test.each(['318-Z', 'nothing like it', '%', '___', '-', 'xyz'])('%s finds nothing', async (q) => {
    expect(await hits(q)).toEqual([])
  })

  test.each(['', ' ', '%00', 'a'.repeat(101)])('%j is refused', async (q) => {
    await counter.get(`/api/find?q=${q}`).expect(400)
  })
})

describe('the bench', () => {
  test('finds by tag, number and model, and is told no names', async () => {
    for (const q of [first.tag, 'r4 20718', 'r449']) {
      const rows = await hits(q, bench)
      expect([q, rows.some((row) => row.id === first.id)]).toEqual([q, true])
      expect(JSON.stringify(rows)).not.toMatch(/Żółkiewski|Quillfen|496/)
    }
  })

  test('finds nobody by name, phone or mail, also not by something like it', async () => {
    for (const q of ['zolkiewski', '0161 4960187', 'pit@quillfen', 'qillfen', 'quillfen f124'])
      expect([q, await hits(q, bench)]).toEqual([q, []])
  })
})

test('is for those who are signed in', async () => {
  await it.nobody().get('/api/find?q=318').expect(401)
})
