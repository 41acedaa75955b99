import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { MeasurementNew } from '#contract/measurements.ts'
import { keyIn } from '#tests/web/bench-keys.ts'
import { benchBook, JOB_ID, jobAt, read, setOf } from '#tests/web/bench-sample.ts'
import { closeAll, openAt } from '#tests/web/shop-book.tsx'

const SETS = `/api/jobs/${JOB_ID}/measurements`
const big = 'It measures this'

beforeEach(() => localStorage.clear())
afterEach(closeAll)

function type(text: string) {
  fireEvent.click(screen.getByText('Type it, in mm, thou or tenths'))
  fireEvent.change(screen.getByLabelText(/0, at the pin/, { selector: 'input' }), { target: { value: text } })
  fireEvent.click(screen.getByRole('button', { name: 'Take what is typed' }))
}

test('a slip of the mark is asked about; another figure is taken in its place', async () => {
  benchBook('bench')
  openAt(`/bench/${JOB_ID}/read/width`)
  await screen.findByRole('heading', { name: 'Width over webs' })
  type('6.4')
  const question = await screen.findByRole('alert')
  expect(question.textContent).toContain('Is it really 6.4? The sheet says 63.95 to 64.05. With the mark moved it is 64.00.')
  keyIn('00', big)
  await waitFor(() => expect(screen.queryByRole('alert')).toBeNull())
  const cells = screen.getByRole('list', { name: 'Figures of this set' })
  expect(within(cells).getByRole('button', { name: /0, at the pin: 64.00/ })).toBeTruthy()
})

test('the same figure a second time is taken as it is, and sent', async () => {
  const book = benchBook('bench')
  book.answer('POST /api/jobs/:id/measurements', ({ body }) => {
    const { kind, phase, values } = body as MeasurementNew
    return setOf({ kind, phase, values })
  })
  openAt(`/bench/${JOB_ID}/read/width`)
  await screen.findByRole('heading', { name: 'Width over webs' })
  keyIn('52', big)
  expect((await screen.findByRole('alert')).textContent).toContain('half a millimetre, makes it 64.02')
  keyIn('52', big)
  await waitFor(() => expect(screen.queryByRole('alert')).toBeNull())
  for (const digits of ['01', '06', '00']) keyIn(digits, big)
  fireEvent.click(await screen.findByRole('button', { name: 'Keep this set' }))
  await waitFor(() => expect(book.sent('POST', SETS)).toHaveLength(1))
  expect(book.sent('POST', SETS)[0]?.body).toMatchObject({ values: [{ place: '0', mm: 63.52 }, {}, {}, {}] })
})

test('a middle unlike our own last ones is asked about before it is kept, with how many and their median', async () => {
  benchBook('bench', { bench: { ours: { received: [63.99, 64.01, 64, 64.02, 63.98, 64], built: [] } } })
  openAt(`/bench/${JOB_ID}/read/width`)
  await screen.findByRole('heading', { name: 'Width over webs' })
  for (const digits of ['20', '20', '20', '20']) keyIn(digits, big)
  expect(
    await screen.findByText(/Is it really 64.20 on the mean\? The last 6 of this engine here had their middle at 64.00\./),
  ).toBeTruthy()
  expect(screen.getByRole('button', { name: 'Keep this set' })).toBeTruthy()
})

test('a warm part says by how much it reads wide', async () => {
  benchBook('bench')
  openAt(`/bench/${JOB_ID}/read/width`)
  await screen.findByRole('heading', { name: 'Width over webs' })
  fireEvent.change(screen.getByLabelText(/Temperature of the part/), { target: { value: '60' } })
  keyIn('03', big)
  // 40 K × 11.5e-6 × 64.03 mm (JCGM 100:2008, H.1) is 0.029.
  expect((await screen.findByText(/40 K warm: it reads 0.029 wide/)).className).toBe('over')
})

test('what the book finds odd stands with the set', async () => {
  const odd = setOf({
    kind: 'width',
    phase: 'received',
    values: read({ '0': 6.4 }),
    odd: [{ code: 'not-by-the-sheet', place: '0', says: 'Is it really 6.4?' }],
  })
  benchBook('bench', { bench: { measurements: [odd] } })
  openAt(`/bench/${JOB_ID}/read/width`)
  expect(within(await screen.findByRole('list', { name: 'Sets taken' })).getByText('Is it really 6.4?')).toBeTruthy()
})

const WEB = { fits: [], basis: 'nothing' as const, method: { name: 'line', version: '1' } }

function loose(role: 'bench' | 'owner') {
  const pins = setOf({ kind: 'pin', phase: 'kit', values: read({ 'left-0': 35.012, 'right-0': 35.012 }) })
  const bores = setOf({ kind: 'bore', values: read({ 'left-outer-0': 34.903, 'right-outer-0': 34.95 }) })
  const book = benchBook(role, {
    job: jobAt('apart'),
    bench: {
      measurements: [pins, bores],
      fitStops: [
        {
          side: 'right',
          choice: 'oversize-pin',
          says: 'an oversize pin, made to order',
          because: 'tried first',
          by: 'Ewa',
          at: '2026-11-24T09:00:00Z',
        },
      ],
    },
  })
  book.answer('GET /api/cranks/:id/web-life', () => ({
    crankId: '0198f3a0-0000-7000-8000-0000000000c1',
    engine: 'Ruskhammar R449-4X',
    engineId: '0198f3a0-0000-7000-8000-0000000000e1',
    welded: false,
    pressedBefore: 1,
    shopFloorMm: 0.1,
    scrapFloorMm: 0.077,
    left: {
      ...WEB,
      basis: 'line',
      slopeMm: -0.003,
      slopeStandardErrorMm: 0,
      untilShopFloor: { low: 3, high: 3 },
      untilScrapFloor: { low: 10, high: 12 },
      fits: [1, 2, 3].map((pressings) => ({
        jobId: JOB_ID,
        tag: `10${pressings}-K`,
        at: `2026-0${pressings}-10T09:00:00Z`,
        pressings,
        interferenceMm: 0.115 - 0.003 * pressings,
        pinOf: 'kit',
      })),
    },
    right: WEB,
  }))
  return book
}

test('what stop means: the ways out, what was decided, and the owner decides with a reason', async () => {
  const book = loose('owner')
  book.answer('POST /api/jobs/:id/fit-stops', ({ body }) => ({
    ...(body as object),
    says: 'a matched used half, or a new web',
    by: 'Ewa',
    at: '2026-11-24T10:00:00Z',
  }))
  openAt(`/bench/${JOB_ID}/press`)
  const stop = await screen.findByRole('region', { name: 'What stop means' })
  expect(stop.textContent).toContain('bore the web out and sleeve it')
  expect(stop.textContent).toContain('right web: an oversize pin, made to order. tried first')
  expect(stop.textContent).toContain('Nobody can let a fit under the scrap floor pass.')
  fireEvent.click(within(stop).getByRole('button', { name: 'Decide on the right web' }))
  fireEvent.click(within(stop).getByRole('button', { name: 'Decide it' }))
  expect(within(stop).getAllByText('Say which way out.').length).toBeGreaterThan(0)
  fireEvent.click(within(stop).getByRole('radio', { name: 'a matched used half, or a new web' }))
  fireEvent.change(within(stop).getByLabelText(/Why this way/), { target: { value: 'one lies on the shelf' } })
  fireEvent.click(within(stop).getByRole('button', { name: 'Decide it' }))
  await waitFor(() => expect(book.sent('POST', `/api/jobs/${JOB_ID}/fit-stops`)).toHaveLength(1))
  expect(book.sent('POST', `/api/jobs/${JOB_ID}/fit-stops`)[0]?.body).toEqual({
    side: 'right',
    choice: 'matched-half',
    because: 'one lies on the shelf',
  })
})

test('the bench reads what was decided, and decides nothing', async () => {
  loose('bench')
  openAt(`/bench/${JOB_ID}/press`)
  const stop = await screen.findByRole('region', { name: 'What stop means' })
  expect(stop.textContent).toContain('Decided by Ewa.')
  expect(within(stop).queryByRole('button', { name: /Decide/ })).toBeNull()
})

test('the life of each web stands beside the fit: every fit, the line, and how many pressings are left', async () => {
  loose('bench')
  openAt(`/bench/${JOB_ID}/press`)
  const left = await screen.findByRole('region', { name: 'left web' })
  expect(left.textContent).toContain('3 more pressings until our floor, 10 to 12 more pressings until it is scrap.')
  expect(left.textContent).toContain('A straight line through 3 fits: each pressing costs 0.003')
  expect(within(left).getAllByRole('listitem')).toHaveLength(3)
  expect(screen.getByRole('region', { name: 'right web' }).textContent).toContain('No fit of this web is in the book yet.')
})
