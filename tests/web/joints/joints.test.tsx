import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, describe, expect, test } from 'vitest'
import type { Bench } from '#contract/bench.ts'
import type { MeasurementNew } from '#contract/measurements.ts'
import type { PressingNew } from '#contract/pressings.ts'
import { TWIN_BUILD } from '#tests/support/twin-build.ts'
import { keyIn } from '#tests/web/bench-keys.ts'
import { type AtTheBench, benchBook, EMPTY, JOB_ID, jobAt, MINE, read, setOf, sheet } from '#tests/web/bench-sample.ts'
import { closeAll, openAt, refusal } from '#tests/web/shop-book.tsx'
import { findings } from '#web/features/jobs/findings.ts'
import { geometryOf } from '#web/features/jobs/measured-drawing.ts'
import { measuredLines } from '#web/features/jobs/measured-lines.ts'

// The twin is invented.

const JOB = `/api/jobs/${JOB_ID}`
const twin = { ...sheet, code: 'Z347-2W', build: TWIN_BUILD }

beforeEach(() => localStorage.clear())
afterEach(closeAll)

function twinBook(at: AtTheBench = {}) {
  const book = benchBook('bench', { job: jobAt('apart'), ...at, bench: { build: TWIN_BUILD, joints: [], ...at.bench } })
  book.answer('GET /api/engines/:id', () => twin)
  return book
}

const kept = ({ body }: { body: unknown }) => ({ by: 'Jonas', occurredAt: '2026-11-24T09:00:00Z', ...(body as PressingNew) })
const keptSet = ({ body }: { body: unknown }) => ({ ...setOf({ kind: 'phase', values: [] }), ...(body as MeasurementNew) })

function chosen(group: string): string | undefined {
  const radios = within(screen.getByRole('radiogroup', { name: group })).getAllByRole('radio') as HTMLInputElement[]
  return radios.find((one) => one.checked)?.value
}

describe('which throw', () => {
  test('a width is read at the throw that is chosen, and the address says which', async () => {
    const book = twinBook({
      bench: {
        measurements: [setOf({ kind: 'width', joint: 'throw-1', values: read({ '0': 63.91, '90': 63.91, '180': 63.91, '270': 63.91 }) })],
      },
    })
    book.answer('POST /api/jobs/:id/measurements', keptSet)
    const { router } = openAt(`/bench/${JOB_ID}/read/width`)
    await screen.findByRole('group', { name: 'Keypad' })
    expect(chosen('Which throw')).toBe('throw-1')
    expect(screen.getAllByText(/63\.91/).length).toBeGreaterThan(0)
    fireEvent.click(screen.getByRole('radio', { name: 'Throw 2' }))
    await waitFor(() => expect(router.state.location.search).toBe('?joint=throw-2'))
    expect(screen.queryByText(/63\.91/)).toBeNull()
    for (const digits of ['6400', '6401', '6400', '6399']) keyIn(digits, 'It measures this')
    fireEvent.click(await screen.findByRole('button', { name: /Keep/ }))
    await waitFor(() => expect(book.sent('POST', `${JOB}/measurements`)).toHaveLength(1))
    expect(book.sent('POST', `${JOB}/measurements`)[0]?.body).toMatchObject({ kind: 'width', joint: 'throw-2' })
  })

  test('throws that are read are ticked, in a word too, and after one the next that is not is offered', async () => {
    const at = { '0': 63.91, '90': 63.91, '180': 63.91, '270': 63.91 }
    const book = twinBook({ bench: { measurements: [setOf({ kind: 'width', joint: 'throw-2', values: read(at) })] } })
    book.answer('POST /api/jobs/:id/measurements', keptSet)
    const { router } = openAt(`/bench/${JOB_ID}/read/width?joint=throw-2`)
    await screen.findByRole('group', { name: 'Keypad' })
    expect(screen.getByRole('radio', { name: /^Throw 2.*read$/ })).toBeTruthy()
    expect(screen.getByRole('radio', { name: 'Throw 1' })).toBeTruthy()
    for (const digits of ['6400', '6401', '6400', '6399']) keyIn(digits, 'It measures this')
    fireEvent.click(await screen.findByRole('button', { name: /Keep/ }))
    fireEvent.click(await screen.findByRole('link', { name: 'On to throw 1' }))
    await waitFor(() => expect(router.state.location.search).toBe('?joint=throw-1'))
  })

  test('a width that the gate asks for again, as after a blow, is not ticked', async () => {
    const at = { '0': 63.91, '90': 63.91, '180': 63.91, '270': 63.91 }
    const detail = 'Throw 2: the width was read before the last move. Read it again.'
    twinBook({
      bench: { measurements: [setOf({ kind: 'width', joint: 'throw-2', values: read(at) })] },
      gate: { next: 'trued', act: 'to true', missing: [{ code: 'width-older-than-last-move', joint: 'throw-2', detail, pass: 'owner' }] },
    })
    openAt(`/bench/${JOB_ID}/read/width?joint=throw-1`)
    await screen.findByRole('group', { name: 'Keypad' })
    await waitFor(() => expect(screen.getByRole('radio', { name: 'Throw 2' })).toBeTruthy())
  })

  test('a crank with one throw is asked for none', async () => {
    benchBook('bench', { job: jobAt('apart') })
    openAt(`/bench/${JOB_ID}/read/width`)
    await screen.findByRole('group', { name: 'Keypad' })
    expect(screen.queryByRole('radiogroup', { name: 'Which throw' })).toBeNull()
  })

  test('the middle is pressed apart like a throw, and what is keyed at one joint does not go over to another', async () => {
    const book = twinBook({ job: jobAt('agreed'), gate: { next: 'apart', act: 'to part' } })
    book.answer('POST /api/jobs/:id/pressings', kept)
    openAt(`/bench/${JOB_ID}/part`)
    await screen.findByRole('group', { name: 'Keypad' })
    keyIn('95', 'It let go at this')
    fireEvent.click(screen.getByRole('radio', { name: 'Centre 1–2' }))
    await screen.findByRole('group', { name: 'Keypad' })
    keyIn('61', 'It let go at this')
    fireEvent.click(screen.getByRole('radio', { name: 'clean' }))
    fireEvent.click(screen.getByRole('radio', { name: 'none seen' }))
    fireEvent.change(screen.getByLabelText('Marked on this web'), { target: { value: '318-V 2' } })
    fireEvent.click(screen.getByRole('button', { name: 'Keep the left web' }))
    await waitFor(() => expect(book.sent('POST', `${JOB}/pressings`)).toHaveLength(1))
    expect(book.sent('POST', `${JOB}/pressings`)[0]?.body).toMatchObject({ joint: 'centre-1', peakTonnes: 6.1 })
  })

  test('the truing of one throw is asked for by its name, on its own shafts', async () => {
    const book = twinBook()
    book.answer('GET /api/jobs/:id/truing', () => ({ sets: [], moves: [], stale: false, repeats: [] }))
    openAt(`/bench/${JOB_ID}/true?joint=throw-2`)
    // Where such a half lies is on no sheet: it is asked.
    expect(await screen.findByRole('heading', { name: 'How it lies' })).toBeTruthy()
    const asked = book.asked.filter((one) => one.path === `${JOB}/truing`).map((one) => one.query.get('joint'))
    expect(await screen.findByText(/Where a half on its own shafts is held/)).toBeTruthy()
    expect(screen.queryByText(/It stands at apart/)).toBeNull()
    // The other throw is asked only for the tick behind its name; the whole is not.
    expect(new Set(asked)).toEqual(new Set(['throw-1', 'throw-2']))
  })
})

describe('the parts between the webs', () => {
  test('come before the press, and are sent as they are ticked', async () => {
    const book = twinBook()
    book.answer('POST /api/jobs/:id/trapped-parts', ({ body }) => ({ ...(body as object), at: '2026-11-24T09:00:00Z', by: 'Jonas' }))
    openAt(`/bench/${JOB_ID}/press`)
    const parts = await screen.findByRole('region', { name: 'Between the webs' })
    expect(screen.queryByRole('group', { name: 'Keypad' })).toBeNull()
    fireEvent.click(within(parts).getByRole('checkbox', { name: 'centre bearing, the two inner webs' }))
    expect(within(parts).getByRole('button', { name: '1 still out' })).toBeTruthy()
    fireEvent.click(within(parts).getByRole('checkbox', { name: 'labyrinth, the two inner webs' }))
    fireEvent.click(within(parts).getByRole('button', { name: 'All are in' }))
    await waitFor(() => expect(book.sent('POST', `${JOB}/trapped-parts`)).toHaveLength(1))
    expect(book.sent('POST', `${JOB}/trapped-parts`)[0]?.body).toMatchObject({ ticked: ['centre bearing', 'labyrinth'] })
  })

  test('once they are in the press is open; parted since, they are asked for again', async () => {
    const trapped = { ticked: ['centre bearing', 'labyrinth'], at: '2026-11-24T09:00:00Z', by: 'Marek' }
    twinBook({ bench: { trapped } })
    openAt(`/bench/${JOB_ID}/press`)
    expect(await screen.findByText(/In between the webs: centre bearing, labyrinth; Marek looked/)).toBeTruthy()
    expect(screen.getByRole('radiogroup', { name: 'Which joint' })).toBeTruthy()
    closeAll()
    const parted = {
      id: MINE,
      direction: 'apart',
      side: 'left',
      joint: 'centre-1',
      peakTonnes: 6,
      by: 'Jonas',
      occurredAt: '2026-11-24T10:00:00Z',
    } as const
    twinBook({ bench: { trapped, pressings: [parted] } })
    openAt(`/bench/${JOB_ID}/press`)
    expect(await screen.findByRole('region', { name: 'Between the webs' })).toBeTruthy()
  })
})

describe('the angles of the throws', () => {
  test('are typed in degrees, told against the limit at once, and sent as degrees', async () => {
    const book = twinBook()
    book.answer('POST /api/jobs/:id/measurements', keptSet)
    openAt(`/bench/${JOB_ID}/read/phase`)
    const field = await screen.findByLabelText(/^Throw 2/)
    fireEvent.change(field, { target: { value: '180.8' } })
    expect(screen.getByText('0.8° past, over')).toBeTruthy()
    fireEvent.change(field, { target: { value: '179,7' } })
    expect(screen.getByText('0.3° short, within')).toBeTruthy()
    fireEvent.click(screen.getByRole('button', { name: 'It stands like this' }))
    await waitFor(() => expect(book.sent('POST', `${JOB}/measurements`)).toHaveLength(1))
    expect(book.sent('POST', `${JOB}/measurements`)[0]?.body).toMatchObject({
      kind: 'phase',
      values: [{ place: '2', mm: 179.7, typed: '179,7', unit: 'deg' }],
    })
  })

  test('nothing typed is lost when the book refuses, and nothing is sent of an empty field', async () => {
    const book = twinBook()
    book.answer('POST /api/jobs/:id/measurements', () => refusal('conflict-state', { detail: 'It is signed.' }))
    openAt(`/bench/${JOB_ID}/read/phase`)
    fireEvent.click(await screen.findByRole('button', { name: 'It stands like this' }))
    expect((await screen.findAllByText('Read this throw.')).length).toBeGreaterThan(0)
    expect(book.sent('POST', `${JOB}/measurements`)).toHaveLength(0)
    fireEvent.change(screen.getByLabelText(/^Throw 2/), { target: { value: '180.1' } })
    fireEvent.click(screen.getByRole('button', { name: 'It stands like this' }))
    expect(await screen.findByText('It is signed.')).toBeTruthy()
    expect((screen.getByLabelText(/^Throw 2/) as HTMLInputElement).value).toBe('180.1')
  })
})

test('what was measured is listed joint by joint, and nothing of one throw passes for the whole', () => {
  const bench: Bench = {
    ...EMPTY,
    build: TWIN_BUILD,
    joints: [
      { joint: 'throw-1', says: 'Throw 1' },
      { joint: 'throw-2', says: 'Throw 2' },
      { joint: 'centre-1', says: 'Centre 1–2' },
    ],
    measurements: [
      setOf({ kind: 'width', joint: 'throw-1', values: read({ '0': 46, '90': 46, '180': 46, '270': 46 }) }),
      setOf({ kind: 'phase', values: [{ place: '2', mm: 180.7, unit: 'deg' }] }),
      setOf({ kind: 'centre', values: read({ '1': 0.05 }) }),
    ],
  }
  const lines = new Map(measuredLines(bench, twin).map((one) => [one.what, one]))
  expect(lines.get('Throw 1: width over webs')?.figure).toBe('46.00')
  expect(lines.get('Throw 2: width over webs')?.figure).toBeUndefined()
  expect(lines.get('Throw 2: angle from throw 1')).toMatchObject({ figure: '180.7°', allowed: '179.5° to 180.5°', past: 'out' })
  expect(lines.get('Centre 1–2: full swing')).toMatchObject({ figure: '0.05', allowed: '0.04', past: 'over' })
  expect(lines.has('Width over webs')).toBe(false)
  expect(geometryOf(twin, bench)).toBeUndefined()
  expect(findings(bench, twin)).toContain('Throw 2: angle from throw 1 180.7°: out')
})

test('the owner lets one thing pass at two throws with a reason for each', async () => {
  const missing = (['throw-1', 'throw-2'] as const).map((joint) => ({
    code: 'width-out-of-window',
    joint,
    detail: `${joint === 'throw-1' ? 'Throw 1' : 'Throw 2'}: the width over webs is 64.2, allowed 63.95 to 64.05.`,
    pass: 'owner' as const,
  }))
  const book = benchBook('owner', { job: jobAt('together'), gate: { next: 'trued', act: 'to true', missing } })
  book.answer('POST /api/jobs/:id/steps', () => jobAt('trued'))
  openAt(`/bench/${JOB_ID}`)
  fireEvent.click(await screen.findByRole('button', { name: 'Let it pass, with a reason' }))
  fireEvent.change(screen.getByLabelText(/^Throw 1: the width/), { target: { value: 'the cases were bored' } })
  const form = screen.getByRole('form', { name: 'Let it pass, with a reason' })
  fireEvent.click(within(form).getByRole('button', { name: /^Let it pass/ }))
  expect(await within(form).findAllByText('Write the reason in a few words.')).toHaveLength(1)
  fireEvent.change(screen.getByLabelText(/^Throw 2: the width/), { target: { value: 'the same' } })
  fireEvent.click(within(form).getByRole('button', { name: /^Let it pass/ }))
  await waitFor(() => expect(book.sent('POST', `${JOB}/steps`)).toHaveLength(1))
  expect(book.sent('POST', `${JOB}/steps`)[0]?.body).toMatchObject({
    passes: [
      { joint: 'throw-1', reason: 'the cases were bored' },
      { joint: 'throw-2', reason: 'the same' },
    ],
  })
})

describe('how a crank is put together, on its sheet', () => {
  const SHEET = `/api/engines/${sheet.id}`

  function sheetBook() {
    const book = benchBook('owner')
    book.answer('PATCH /api/engines/:id', ({ body }) => ({ ...sheet, ...(body as object), version: 2 }))
    openAt(`/engines/${sheet.id}`)
    return book
  }

  const type = (label: string | RegExp, value: string) => fireEvent.change(screen.getByLabelText(label), { target: { value } })

  test('two throws with their angle, limits, middle and trapped parts', async () => {
    const book = sheetBook()
    fireEvent.click(await screen.findByRole('button', { name: 'How it is put together' }))
    type('Throws', '2')
    type(/^Throw 2, from throw 1/, '180')
    type(/^An angle may be out by/, '0.5')
    type(/^The middle may swing/, '0.04')
    fireEvent.click(screen.getByRole('radio', { name: 'a shaft pressed in' }))
    type(/^Between the webs/, 'centre bearing, the two inner webs')
    fireEvent.click(screen.getByRole('button', { name: 'Write it so' }))
    await waitFor(() => expect(book.sent('PATCH', SHEET)).toHaveLength(1))
    expect(book.sent('PATCH', SHEET)[0]?.body).toEqual({ build: { ...TWIN_BUILD, trapped: [TWIN_BUILD.trapped[0]] } })
  })

  test('what lacks is said at its field, and nothing is sent', async () => {
    const book = sheetBook()
    fireEvent.click(await screen.findByRole('button', { name: 'How it is put together' }))
    type('Throws', '3')
    type(/^Between the webs/, 'labyrinth')
    fireEvent.click(screen.getByRole('button', { name: 'Write it so' }))
    expect(await screen.findAllByText('Give the angle of this throw.')).toHaveLength(4)
    expect(screen.getAllByText('Say by how much an angle may be out.').length).toBeGreaterThan(0)
    expect(screen.getAllByText('“labyrinth”: after a comma say between which webs.').length).toBeGreaterThan(0)
    expect(book.sent('PATCH', SHEET)).toHaveLength(0)
    expect((screen.getByLabelText(/^Between the webs/) as HTMLTextAreaElement).value).toBe('labyrinth')
  })
})
