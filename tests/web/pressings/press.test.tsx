import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, expect, test } from 'vitest'
import type { MeasurementNew } from '#contract/measurements.ts'
import type { PressingNew } from '#contract/pressings.ts'
import { keyIn } from '#tests/web/bench-keys.ts'
import { benchBook, JOB_ID, jobAt, read, setOf } from '#tests/web/bench-sample.ts'
import { closeAll, openAt, refusal } from '#tests/web/shop-book.tsx'

const JOB = `/api/jobs/${JOB_ID}`

beforeEach(() => localStorage.clear())
afterEach(closeAll)

function kept({ body }: { body: unknown }) {
  const { id = '', occurredAt = '2026-11-24T09:00:00Z', ...rest } = body as PressingNew
  return { ...rest, id, occurredAt, by: 'Jonas' }
}

const stack = setOf({
  kind: 'stack',
  values: read({ 'web-left': 20.98, 'web-right': 20.99, rod: 19.75, 'washer-1': 1, 'washer-2': 1 }),
})
const tap = (mm: number) => setOf({ kind: 'width', values: read({ '0': mm }) })

test('pressing apart: the caution first, then the peak, then what the web shows', async () => {
  const book = benchBook('bench', { job: jobAt('agreed'), gate: { next: 'apart', act: 'to part' } })
  book.answer('POST /api/jobs/:id/pressings', kept)
  openAt(`/bench/${JOB_ID}/part`)
  await screen.findByRole('group', { name: 'Keypad' })
  const caution = screen.getByRole('note')
  expect(caution.textContent).toMatch(/nobody presses alone/)
  expect(caution.textContent).toMatch(/tray under it/)
  expect(caution.textContent).toMatch(/Local rules/)
  keyIn('95', 'It let go at this')
  fireEvent.click(screen.getByRole('button', { name: 'Keep the left web' }))
  expect(screen.getAllByText('Say how the bore looks.').length).toBeGreaterThan(0)
  expect(book.sent('POST', `${JOB}/pressings`)).toHaveLength(0)
  fireEvent.click(screen.getByRole('radio', { name: 'clean' }))
  fireEvent.click(screen.getByRole('radio', { name: 'none seen' }))
  fireEvent.change(screen.getByLabelText('Marked on this web'), { target: { value: 'L 318-V' } })
  fireEvent.click(screen.getByRole('button', { name: 'Keep the left web' }))
  await waitFor(() => expect(book.sent('POST', `${JOB}/pressings`)).toHaveLength(1))
  expect(book.sent('POST', `${JOB}/pressings`)[0]?.body).toMatchObject({
    direction: 'apart',
    side: 'left',
    peakTonnes: 9.5,
    galling: 'none',
    crack: false,
    webMark: 'L 318-V',
  })
})

test('a crack stops it, in words and with the mark', async () => {
  benchBook('bench', { job: jobAt('agreed'), gate: { next: 'apart', act: 'to part' } })
  openAt(`/bench/${JOB_ID}/part`)
  await screen.findByRole('group', { name: 'Keypad' })
  keyIn('50', 'It let go at this')
  fireEvent.click(screen.getByRole('radio', { name: 'a crack' }))
  expect(screen.getByText('A crack stops the job: another half, or scrap it. Nobody can let it pass.').className).toBe('over')
})

test('the gauge not read, with the reason', async () => {
  const book = benchBook('bench', { job: jobAt('agreed'), gate: { next: 'apart', act: 'to part' } })
  openAt(`/bench/${JOB_ID}/part`)
  await screen.findByRole('group', { name: 'Keypad' })
  fireEvent.click(screen.getByRole('button', { name: 'Gauge not read, because …' }))
  fireEvent.change(screen.getByLabelText('Why was the gauge not read?'), { target: { value: 'needle stuck' } })
  fireEvent.click(screen.getByRole('button', { name: 'It was not read' }))
  fireEvent.click(screen.getByRole('radio', { name: 'clean' }))
  fireEvent.click(screen.getByRole('radio', { name: 'none seen' }))
  fireEvent.change(screen.getByLabelText('Marked on this web'), { target: { value: 'L' } })
  fireEvent.click(screen.getByRole('button', { name: 'Keep the left web' }))
  await waitFor(() => expect(book.sent('POST', `${JOB}/pressings`)).toHaveLength(1))
  const body = book.sent('POST', `${JOB}/pressings`)[0]?.body
  expect(body).toMatchObject({ notReadBecause: 'needle stuck' })
  expect(body).not.toHaveProperty('peakTonnes')
})

test('under the ram: both windows, how far to go, and the taps foretold', async () => {
  benchBook('bench', { job: jobAt('apart'), bench: { measurements: [stack, tap(64.14), tap(64.11), tap(64.09), tap(64.06)] } })
  openAt(`/bench/${JOB_ID}/press`)
  expect(await screen.findByText('0.05 to go: about two taps.')).toBeTruthy()
  expect(screen.getByText(/The last three moved 0.03, 0.02, 0.03/)).toBeTruthy()
  expect(screen.getByText(/Under 63.97 the rod has less than its 0.25/)).toBeTruthy()
  expect(screen.getByRole('img', { name: /width that gives the rod 0.25 to 0.50: 63.97 to 64.22; now 64.06; aim 64.01/ })).toBeTruthy()
  expect(screen.getByRole('note').textContent).toMatch(/nobody presses alone/)
})

test('a tap is keyed after the whole millimetre and goes into the book by itself', async () => {
  const book = benchBook('bench', { job: jobAt('apart'), bench: { measurements: [stack, tap(64.06)] } })
  book.answer('POST /api/jobs/:id/measurements', ({ body }) => {
    const { kind, phase, values } = body as MeasurementNew
    return setOf({ kind, phase, values })
  })
  openAt(`/bench/${JOB_ID}/press`)
  await screen.findByText(/0.05 to go/)
  fireEvent.change(screen.getByLabelText(/Part feels warm/), { target: { value: '23' } })
  keyIn('98', 'It measures this')
  await waitFor(() => expect(book.sent('POST', `${JOB}/measurements`)).toHaveLength(1))
  expect(book.sent('POST', `${JOB}/measurements`)[0]?.body).toMatchObject({
    kind: 'width',
    phase: 'building',
    temperatureC: 23,
    values: [{ place: '0', mm: 63.98, typed: '63.98', unit: 'mm' }],
  })
})

test('a tap that the book refuses stays on the keys', async () => {
  const book = benchBook('bench', { job: jobAt('apart'), bench: { measurements: [stack, tap(64.06)] } })
  book.answer('POST /api/jobs/:id/measurements', () => refusal('overloaded'))
  openAt(`/bench/${JOB_ID}/press`)
  await screen.findByText(/0.05 to go/)
  keyIn('04', 'It measures this')
  expect(await screen.findByText(/The figure is still on the keys/)).toBeTruthy()
  expect(screen.getByLabelText('Width').textContent).toBe('64.04')
})

test('far out it says where to stop before the taps; a leap out of the row of taps is asked about', async () => {
  const book = benchBook('bench', { job: jobAt('apart'), bench: { measurements: [stack, tap(64.5), tap(64.3)] } })
  book.answer('POST /api/jobs/:id/measurements', ({ body }) => setOf({ kind: 'width', values: (body as MeasurementNew).values }))
  openAt(`/bench/${JOB_ID}/press`)
  expect(await screen.findByText('0.29 to go: press to 64.06 and stop.')).toBeTruthy()
  keyIn('80', 'It measures this')
  const question = await screen.findByRole('alert')
  expect(question.textContent).toContain(
    'Is it really 64.8? The tap before left it at 64.30. One turn of the thimble, half a millimetre, makes it 64.30.',
  )
  expect(book.sent('POST', `${JOB}/measurements`)).toHaveLength(0)
  keyIn('80', 'It measures this')
  await waitFor(() => expect(book.sent('POST', `${JOB}/measurements`)).toHaveLength(1))
})

test('the peak of the gauge goes with its tap, and the taps are listed with their curve', async () => {
  const peaks = [
    [64.12, 7.9],
    [64.09, 8.2],
    [64.06, 8.6],
  ] as const
  const taps = peaks.map(([mm, peakTonnes]) => ({ ...tap(mm), peakTonnes }))
  const book = benchBook('bench', { job: jobAt('apart'), bench: { measurements: [stack, ...taps] } })
  book.answer('POST /api/jobs/:id/measurements', ({ body }) => setOf({ kind: 'width', values: (body as MeasurementNew).values }))
  openAt(`/bench/${JOB_ID}/press`)
  const listed = within(await screen.findByRole('list', { name: 'Taps, newest first' })).getAllByRole('listitem')
  expect(listed[0]?.textContent).toBe('64.06moved 0.038.6 t at the gauge')
  expect(screen.getByRole('img', { name: 'Gauge: 7.9 t at 64.12, 8.2 t at 64.09, 8.6 t at 64.06.' })).toBeTruthy()
  fireEvent.change(screen.getByLabelText(/Peak of the gauge in this tap/), { target: { value: '8,9' } })
  keyIn('04', 'It measures this')
  await waitFor(() => expect(book.sent('POST', `${JOB}/measurements`)).toHaveLength(1))
  expect(book.sent('POST', `${JOB}/measurements`)[0]?.body).toMatchObject({ peakTonnes: 8.9, values: [{ mm: 64.04 }] })
})

test('pressed past the window it is said, with what it costs', async () => {
  benchBook('bench', { job: jobAt('apart'), bench: { measurements: [stack, tap(63.94)] } })
  openAt(`/bench/${JOB_ID}/press`)
  expect((await screen.findByText('0.03 past the least that is right.')).className).toBe('over')
  expect(screen.getByText(/That costs fit/)).toBeTruthy()
})

test('once everything is read the step comes first: Width is set', async () => {
  const book = benchBook('bench', {
    job: jobAt('apart'),
    bench: { measurements: [stack, tap(64.01)] },
    gate: { next: 'together', act: 'to press together', missing: [] },
  })
  book.answer('POST /api/jobs/:id/steps', () => jobAt('together'))
  openAt(`/bench/${JOB_ID}/press`)
  fireEvent.click(await screen.findByRole('button', { name: 'Width is set' }))
  await waitFor(() => expect(book.sent('POST', `${JOB}/steps`)[0]?.body).toMatchObject({ to: 'together' }))
  expect(screen.queryByRole('group', { name: 'Keypad' })).toBeNull()
})

test('the oil hole is looked at and said', async () => {
  const book = benchBook('bench', { job: jobAt('apart') })
  book.answer('POST /api/jobs/:id/oil-hole', () => ({ state: 'masked' }))
  openAt(`/bench/${JOB_ID}/press`)
  const hole = await screen.findByRole('region', { name: 'Oil hole of the pin' })
  fireEvent.click(within(hole).getByRole('radio', { name: 'masked' }))
  expect(within(hole).getByText(/starves the bearing/).className).toBe('over')
  fireEvent.click(within(hole).getByRole('button', { name: 'I looked: masked' }))
  await waitFor(() => expect(book.sent('POST', `${JOB}/oil-hole`)[0]?.body).toEqual({ state: 'masked', occurredAt: expect.any(String) }))
})

test('welding: the cautions, the weld, and that it is read again', async () => {
  const book = benchBook('bench', { job: jobAt('trued') })
  book.answer('POST /api/jobs/:id/welds', ({ body }) => ({ ...(body as object), by: 'Jonas', occurredAt: '2026-11-24T09:00:00Z' }))
  openAt(`/bench/${JOB_ID}/weld`)
  expect((await screen.findByRole('note')).textContent).toMatch(/No chlorinated cleaner.*same web.*fire watch/)
  expect(screen.getByText(/Only who is trained for it/)).toBeTruthy()
  expect(screen.getByText(/takes back that it is true/)).toBeTruthy()
  fireEvent.change(screen.getByLabelText('Current, A'), { target: { value: '6000' } })
  fireEvent.click(screen.getByRole('button', { name: 'It is welded' }))
  expect(screen.getByText('Current: Whole amperes, 1 to 1000.')).toBeTruthy()
  fireEvent.change(screen.getByLabelText('Current, A'), { target: { value: '68' } })
  fireEvent.change(screen.getByLabelText('Filler'), { target: { value: '309' } })
  fireEvent.click(screen.getByRole('button', { name: 'It is welded' }))
  await waitFor(() => expect(book.sent('POST', `${JOB}/welds`)[0]?.body).toMatchObject({ filler: '309', amps: 68 }))
})
