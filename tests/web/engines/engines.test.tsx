import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import { engineNew } from '#contract/engines.ts'
import { ID, sheet } from '#tests/web/jobs/sample-job.ts'
import { closeAll, openAt, refusal, shopBook } from '#tests/web/shop-book.tsx'
import { EMPTY_HEAD, readNewSheet } from '#web/features/engines/engine-form.ts'
import { engineLine, sheetFigure } from '#web/features/engines/words.ts'

afterEach(closeAll)

const head = { ...EMPTY_HEAD, maker: 'Pellarc', code: 'P594', cycle: '2T', surfaceLeft: 'plain', surfaceRight: 'taper 1:10' }

test('figures keep two decimals and no idle noughts beyond', () => {
  expect([64, 0.105, 0.0125, 62.4].map(sheetFigure)).toEqual(['64.00', '0.105', '0.0125', '62.40'])
  expect(engineLine({ cycle: '4T', strokeMm: 62.4, widthMm: 64 })).toBe('four-stroke, 62.4 stroke, width 64.00')
})

test('a sheet without figures may be made; one with figures needs their source, and windows the right way round', () => {
  const bare = readNewSheet(head, {}, '', '')
  expect(bare.ok && engineNew.safeParse(bare.sheet).success).toBe(true)
  const unsourced = readNewSheet(head, { strokeMm: '68' }, '', '')
  expect(unsourced.ok ? {} : unsourced.faults).toHaveProperty('source')
  const crossed = readNewSheet(head, { widthMinMm: '54.1', widthMaxMm: '53,9' }, 'makers-book', '')
  expect(crossed.ok ? {} : crossed.faults).toHaveProperty('widthMinMm', 'The least width over webs is more than the most.')
  const far = readNewSheet(head, { strokeMm: '6.8 mm' }, 'makers-book', '')
  expect(far.ok ? {} : far.faults).toHaveProperty('strokeMm', 'From 10 to 300 mm.')
})

test('every figure stands with its source and version, and what stood before beneath it', async () => {
  const book = shopBook('counter')
  const corrected = sheet.figures.map((one) =>
    one.name === 'clearanceMaxMm' ? { ...one, value: 0.48, version: 2, source: 'makers-book' as const, note: 'page 4-12', by: 'Ewa' } : one,
  )
  const before = { ...sheet.figures[4]!, value: 0.5 }
  book.answer('GET /api/engines/:id', () => ({ ...sheet, figures: corrected, earlier: [before] }))
  openAt(`/engines/${ID.engine}`)
  const table = await screen.findByRole('table', { name: 'Figures of the sheet, in mm' })
  const row = within(table).getByRole('row', { name: /^Rod side clearance, most 0\.48 18\.9 maker’s book: page 4-12/ })
  expect(row.textContent).toContain('Ewa')
  expect(within(table).getByRole('row', { name: /^before 0\.50/ })).toBeTruthy()
  expect(within(table).getByRole('row', { name: /^Runout allowed by the house, left.*not on the sheet yet/ })).toBeTruthy()
})

test('a limit of runout without its place is refused at its field, and what was typed stays', async () => {
  const limit = readNewSheet(head, { limitHouseLeftMm: '0.02', dialLeftMm: '45' }, 'makers-book', '')
  expect(limit.ok ? {} : limit.faults).toEqual({
    limitHouseLeftMm:
      'A limit says nothing without its place. Put that on the sheet first: crank centre to left support, crank centre to right support.',
  })
  const book = shopBook('counter')
  const figures = sheet.figures.filter((one) => one.name !== 'dialRightMm')
  book.answer('GET /api/engines/:id', () => ({ ...sheet, figures }))
  openAt(`/engines/${ID.engine}`)
  fireEvent.click(await screen.findByRole('button', { name: /^Put in: Runout allowed by the house, right/ }))
  const form = screen.getByRole('form', { name: /^Correct: Runout allowed by the house, right/ })
  const field = within(form).getByLabelText(/^Runout allowed by the house, right/) as HTMLInputElement
  fireEvent.change(field, { target: { value: '0,02' } })
  fireEvent.change(within(form).getByLabelText('Where it comes from'), { target: { value: 'makers-book' } })
  fireEvent.change(within(form).getByLabelText('Why, and from where exactly'), { target: { value: 'page 9' } })
  fireEvent.click(within(form).getByRole('button', { name: 'Put it on the sheet' }))
  expect(field.getAttribute('aria-invalid')).toBe('true')
  expect(within(form).getByText(/^A limit says nothing without its place\. .* right support to dial\.$/)).toBeTruthy()
  expect(field.value).toBe('0,02')
  expect(book.sent('POST', `/api/engines/${ID.engine}/figures`)).toHaveLength(0)
})

test('a correction asks for a figure, a source and why, and names the version that it corrects', async () => {
  const book = shopBook('bench')
  book.answer('GET /api/engines/:id', () => sheet)
  book.answer('POST /api/engines/:id/figures', () => ({ ...sheet, version: 2 }))
  openAt(`/engines/${ID.engine}`)
  fireEvent.click(await screen.findByRole('button', { name: 'Correct: Stroke' }))
  const form = screen.getByRole('form', { name: 'Correct: Stroke' })
  fireEvent.change(within(form).getByLabelText(/^Stroke/), { target: { value: '2,457 thou' } })
  fireEvent.click(within(form).getByRole('button', { name: 'Correct it' }))
  expect(within(form).getByText('From 10 to 300 mm.')).toBeTruthy()
  expect(within(form).getByText('A figure without a source is a guess: choose one.')).toBeTruthy()
  fireEvent.change(within(form).getByLabelText(/^Stroke/), { target: { value: '62,5' } })
  fireEvent.change(within(form).getByLabelText('Where it comes from'), { target: { value: 'measured-here' } })
  fireEvent.change(within(form).getByLabelText('Why, and from where exactly'), { target: { value: 'three cranks measured' } })
  fireEvent.click(within(form).getByRole('button', { name: 'Correct it' }))
  await waitFor(() => expect(book.sent('POST', `/api/engines/${ID.engine}/figures`)).toHaveLength(1))
  expect(book.sent('POST', `/api/engines/${ID.engine}/figures`)[0]?.body).toEqual({
    name: 'strokeMm',
    value: 62.5,
    source: 'measured-here',
    note: 'three cranks measured',
    replaces: 1,
  })
})

test('two who correct the same figure cannot correct past each other', async () => {
  const book = shopBook('owner')
  book.answer('GET /api/engines/:id', () => sheet)
  book.answer('POST /api/engines/:id/figures', ({ body }) =>
    (body as { replaces: number }).replaces === 1 ? refusal('stale-version', { version: 2 }) : { ...sheet, version: 3 },
  )
  openAt(`/engines/${ID.engine}`)
  fireEvent.click(await screen.findByRole('button', { name: 'Correct: Stroke' }))
  const form = screen.getByRole('form', { name: 'Correct: Stroke' })
  fireEvent.change(within(form).getByLabelText(/^Stroke/), { target: { value: '62.5' } })
  fireEvent.change(within(form).getByLabelText('Where it comes from'), { target: { value: 'makers-book' } })
  fireEvent.change(within(form).getByLabelText('Why, and from where exactly'), { target: { value: 'page 9' } })
  const theirs = sheet.figures.map((one) => (one.name === 'strokeMm' ? { ...one, value: 62.45, version: 2, by: 'Ewa' } : one))
  book.answer('GET /api/engines/:id', () => ({ ...sheet, figures: theirs }))
  fireEvent.click(within(form).getByRole('button', { name: 'Correct it' }))
  fireEvent.click(await within(form).findByRole('button', { name: 'Correct that one instead' }))
  expect((within(form).getByLabelText(/^Stroke/) as HTMLInputElement).value).toBe('62.5')
  fireEvent.click(within(form).getByRole('button', { name: 'Correct it' }))
  await waitFor(() => expect(book.sent('POST', `/api/engines/${ID.engine}/figures`)[1]?.body).toMatchObject({ replaces: 2 }))
})

test('a sheet is copied under another name', async () => {
  const book = shopBook('counter')
  book.answer('GET /api/engines/:id', () => sheet)
  book.answer('POST /api/engines/:id/copies', () => ({ ...sheet, id: ID.quote, code: 'R449-5X' }))
  const { router } = openAt(`/engines/${ID.engine}`)
  fireEvent.click(await screen.findByRole('button', { name: 'Copy the sheet' }))
  fireEvent.click(screen.getByRole('button', { name: 'Copy it' }))
  expect(await screen.findByText('The code, or what stands on the case.')).toBeTruthy()
  fireEvent.change(screen.getByLabelText('Model code of the new sheet'), { target: { value: 'R449-5X' } })
  fireEvent.click(screen.getByRole('button', { name: 'Copy it' }))
  await waitFor(() => expect(router.state.location.pathname).toBe(`/engines/${ID.quote}`))
  expect(book.sent('POST', `/api/engines/${ID.engine}/copies`)[0]?.body).toEqual({ maker: 'Ruskhammar', code: 'R449-5X' })
})
