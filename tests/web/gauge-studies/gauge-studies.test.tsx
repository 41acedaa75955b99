import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, describe, expect, test } from 'vitest'
import type { GaugeStudy } from '#contract/gauge-studies.ts'
import { gauge } from '#core/gauge.ts'
import { mike } from '#tests/web/bench-sample.ts'
import { closeAll, HANA, openAt, refusal, shopBook } from '#tests/web/shop-book.tsx'
import { studyLayout } from '#web/features/gauge-studies/study-layout.ts'

afterEach(closeAll)

const MAREK = '0198f3a0-0000-7000-8000-000000000002'
const READING = '0198f3a0-0000-7000-8000-0000000000aa'
const open: GaugeStudy = {
  id: '0198f3a0-0000-7000-8000-0000000000f1',
  name: 'mike 2 on two cranks',
  state: 'open',
  instrument: { id: mike.id, name: mike.name, stepMm: 0.01 },
  what: 'width over webs',
  startedAt: '2026-11-24T09:00:00.000Z',
  startedBy: 'Jonas',
  taken: 1,
  wanted: 8,
  toleranceMm: 0.1,
  parts: ['crank A', 'crank B'],
  rounds: 2,
  people: [
    { id: HANA, name: 'Jonas', taken: 1, wanted: 4 },
    { id: MAREK, name: 'Marek', taken: 0, wanted: 4 },
  ],
  next: { part: 2, round: 1 },
  last: { id: READING, part: 1, round: 1, mm: 64.02 },
}

const MM = [
  [64, 64.01, 64.01, 64.02],
  [64.1, 64.11, 64.12, 64.11],
]
const readings = MM.flatMap((own, part) =>
  own.map((mm, index) => ({ part: part + 1, round: (index % 2) + 1, personId: index < 2 ? HANA : MAREK, mm })),
)

function allIn(): GaugeStudy {
  const worked = gauge({ readings: readings.map(({ part, personId, mm }) => ({ part, person: personId, value: mm })), tolerance: 0.1 })
  if (!worked.ok) throw new Error(worked.detail)
  const { next: _next, last: _last, ...head } = open
  return {
    ...head,
    state: 'all-in',
    taken: 8,
    result: { readings, answer: worked.value, verdict: 'not-usable', says: ['It takes 41.0 % of the tolerance.', 'Second.', 'Third.'] },
  }
}

function at(study: GaugeStudy) {
  const book = shopBook('bench')
  book.answer('GET /api/clock', () => ({ running: null, unanswered: [] }))
  book.answer('GET /api/gauge-studies/:id', () => study)
  openAt(`/bench/gauge-studies/${study.id}`)
  return book
}

describe('an open study', () => {
  test('asks for the part that comes next, and sends what it reads', async () => {
    const book = at(open)
    book.answer('POST /api/gauge-studies/:id/readings', () => open)
    const form = within(await screen.findByRole('form', { name: 'Reading of crank B' }))
    expect(form.getByText(/round 1 of 2/)).toBeTruthy()
    const field = form.getByLabelText(/width over webs/)
    fireEvent.click(form.getByRole('button', { name: 'It reads that' }))
    expect(book.sent('POST', `/api/gauge-studies/${open.id}/readings`)).toHaveLength(0)
    fireEvent.change(field, { target: { value: '64,11' } })
    fireEvent.click(form.getByRole('button', { name: 'It reads that' }))
    await waitFor(() =>
      expect(book.sent('POST', `/api/gauge-studies/${open.id}/readings`)[0]?.body).toEqual({ part: 2, round: 1, mm: 64.11 }),
    )
  })

  test('keeps what was typed when the book refuses it', async () => {
    const book = at(open)
    book.answer('POST /api/gauge-studies/:id/readings', () => refusal('conflict-state', { detail: 'crank A comes next, in round 2.' }))
    const field = await screen.findByLabelText<HTMLInputElement>(/width over webs/)
    fireEvent.change(field, { target: { value: '64.11' } })
    fireEvent.click(screen.getByRole('button', { name: 'It reads that' }))
    expect(await screen.findByText(/crank A comes next, in round 2/)).toBeTruthy()
    expect(field.value).toBe('64.11')
  })

  test('lets one strike out the last reading, with a reason', async () => {
    const book = at(open)
    book.answer('POST /api/gauge-readings/:id/strike', () => open)
    fireEvent.click(await screen.findByRole('button', { name: /Mistyped: crank A at 64.02 mm/ }))
    fireEvent.change(screen.getByLabelText('What was wrong with it?'), { target: { value: 'a two too many' } })
    fireEvent.click(screen.getByRole('button', { name: 'Strike it out' }))
    await waitFor(() => expect(book.sent('POST', `/api/gauge-readings/${READING}/strike`)[0]?.body).toEqual({ because: 'a two too many' }))
  })

  test('says so when one’s own are all in, and to those who do not read in it', async () => {
    at({ ...open, next: null })
    expect(await screen.findByText('Your readings are all in.')).toBeTruthy()
    closeAll()
    const { next: _next, last: _last, ...watched } = open
    at(watched)
    expect(await screen.findByText('Marek: 0 of 4 readings in')).toBeTruthy()
    expect(screen.queryByRole('form')).toBeNull()
  })
})

describe('a study that is all in', () => {
  test('says what it comes to, and draws every reading with the same as a table', async () => {
    at(allIn())
    expect((await screen.findByText('It takes 41.0 % of the tolerance.')).className).toBe('over')
    const rows = within(screen.getByRole('table', { name: 'Readings by part and person', hidden: true })).getAllByRole('row', {
      hidden: true,
    })
    expect(rows.map((row) => row.textContent)).toEqual([
      'partpersonreadings, mmrange, mm',
      'crank AJonas64.000 · 64.0100.010',
      'crank AMarek64.010 · 64.0200.010',
      'crank BJonas64.100 · 64.1100.010',
      'crank BMarek64.120 · 64.1100.010',
    ])
    expect(screen.getByRole('link', { name: /CSV/ }).getAttribute('href')).toBe(`/api/gauge-studies/${open.id}/readings.csv`)
  })

  test('is laid out with every reading inside its row and the plot, at any width', () => {
    for (const width of [300, 560, 1100]) {
      const drawn = studyLayout({ parts: open.parts, people: open.people, readings }, { width, letter: 15 })
      const { plot } = drawn
      expect(drawn.rows).toHaveLength(2)
      for (const row of drawn.rows)
        for (const line of row.lines) {
          expect(line.y).toBeGreaterThan(row.top)
          expect(line.y).toBeLessThan(row.bottom)
          expect(line.dots).toHaveLength(2)
          for (const dot of line.dots) {
            expect(dot.x).toBeGreaterThanOrEqual(Math.max(plot.left, line.from))
            expect(dot.x).toBeLessThanOrEqual(Math.min(plot.right, line.to))
          }
        }
      const [a, b] = [drawn.rows[0]!.lines[0]!.dots[0]!, drawn.rows[1]!.lines[0]!.dots[0]!]
      expect(a.x).toBeLessThan(b.x)
    }
  })

  test('stands in the middle where all read the same', () => {
    const same = readings.map((one) => ({ ...one, mm: 64 }))
    const { rows, plot } = studyLayout({ parts: open.parts, people: open.people, readings: same }, { width: 560, letter: 15 })
    expect(rows[0]!.lines[0]!.dots[0]!.x).toBeCloseTo((plot.left + plot.right) / 2, 6)
  })
})

test('one is started with its parts a line each', async () => {
  const book = shopBook('bench')
  book.answer('GET /api/clock', () => ({ running: null, unanswered: [] }))
  book.answer('GET /api/instruments', () => [mike])
  book.answer('GET /api/gauge-studies', () => ({ rows: [], next: null }))
  const hand = { role: 'bench', maySign: false, cranksBefore: 0, hasPin: false, barred: false, version: 1 }
  book.answer('GET /api/people', () => [
    { ...hand, id: HANA, name: 'Jonas', signIn: 'jonas' },
    { ...hand, id: MAREK, name: 'Marek', signIn: 'marek' },
  ])
  book.answer('POST /api/gauge-studies', () => open)
  book.answer('GET /api/gauge-studies/:id', () => open)
  openAt('/bench/gauge-studies')
  expect(await screen.findByText(/No study yet/)).toBeTruthy()
  fireEvent.click(screen.getByRole('button', { name: 'Start a study' }))
  fireEvent.click(await screen.findByRole('button', { name: 'Start it' }))
  expect((await screen.findAllByText('Two or three people.')).length).toBeGreaterThan(0)
  expect(book.sent('POST', '/api/gauge-studies')).toHaveLength(0)
  fireEvent.change(screen.getByLabelText('What the study is called'), { target: { value: 'mike 2 on two cranks' } })
  fireEvent.change(screen.getByLabelText('Read with'), { target: { value: mike.id } })
  fireEvent.change(screen.getByLabelText('What is read'), { target: { value: 'width over webs' } })
  fireEvent.change(screen.getByLabelText('Parts, one a line'), { target: { value: 'crank A\n\n crank B ' } })
  fireEvent.click(screen.getByLabelText('Jonas'))
  fireEvent.click(screen.getByLabelText('Marek'))
  fireEvent.click(screen.getByRole('button', { name: 'Start it' }))
  await waitFor(() =>
    expect(book.sent('POST', '/api/gauge-studies')[0]?.body).toEqual({
      id: expect.any(String),
      name: 'mike 2 on two cranks',
      instrumentId: mike.id,
      what: 'width over webs',
      parts: ['crank A', 'crank B'],
      people: [HANA, MAREK],
      rounds: 2,
    }),
  )
  expect(await screen.findByRole('form', { name: 'Reading of crank B' })).toBeTruthy()
})
