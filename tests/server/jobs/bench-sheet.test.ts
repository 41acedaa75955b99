import { expect, test } from 'vitest'
import { startApp } from '#tests/support/app.ts'
import { handsOf, SET_UP, take, turnOf } from '#tests/support/bench-factories.ts'
import { addEngine, bookJob, NO_LIMITS } from '#tests/support/factories.ts'
import { readPdf } from '#tests/support/read-pdf.ts'

const it = await startApp()
const h = await handsOf(it)

async function sheet(job: { id: string }, query = '') {
  const answer = await h.bench
    .get(`/api/jobs/${job.id}/bench-sheet.pdf${query}`)
    .buffer(true)
    .parse((response, done) => {
      const parts: Buffer[] = []
      response.on('data', (part: Buffer) => parts.push(part))
      response.on('end', () => done(null, Buffer.concat(parts)))
    })
  return answer
}

test('the sheet for the bench names places, limits and kit of the job, and not one reading', async () => {
  const job = await bookJob(it, { oldPartsBack: true, conditionNote: 'rim knocked at 6' })
  await h.bench.post(`/api/jobs/${job.id}/kit`, { maker: 'Ardenlow', part: 'R449-4X-K1', lot: 'A-2417', whose: 'ours' }).expect(201)
  await take(h, h.bench, job, {
    kind: 'runout',
    phase: 'received',
    setup: { ...SET_UP, held: 'v-blocks-bearings' },
    values: turnOf({ swingMm: 0.1777 }),
  })
  const answer = await sheet(job)
  expect(answer.status).toBe(200)
  expect(answer.headers['content-type']).toBe('application/pdf')
  const text = (await readPdf(answer.body)).pages
    .map((page) => page.text)
    .join('\n')
    .replace(/\s+/g, ' ')
  for (const said of [
    job.tag,
    '63.95 – 64.05',
    'our floor 0.100',
    'scrap floor 0.077',
    'lot A-2417',
    'old parts go back',
    'rim knocked at 6',
    'Held on its bearings in V-blocks',
    'To know: hours up; rim knocked at 6',
  ])
    expect(text.toLowerCase()).toContain(said.toLowerCase())
  expect(text).not.toContain('0.18')
})

test('asks for the places first where the sheet of the engine has none', async () => {
  const engine = await addEngine(it, { figuresMm: { dialLeftMm: null, ...NO_LIMITS } })
  const job = await bookJob(it, { engineId: engine.id })
  const answer = await h.bench.get(`/api/jobs/${job.id}/bench-sheet.pdf`).expect(409)
  expect(answer.body.detail).toContain('where the left dial stands')
  await h.bench.get('/api/jobs/01930000-0000-7000-8000-00000000dead/bench-sheet.pdf').expect(404)
  await it.nobody().get(`/api/jobs/${job.id}/bench-sheet.pdf`).expect(401)
})
