import { cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react'
import { expect, test } from 'vitest'
import type { MeasurementNew } from '#contract/measurements.ts'
import { pressKey } from '#tests/web/bench-keys.ts'
import { NoAnswer, posts, Refusal, type Sent } from '#tests/web/truing/fake-book.tsx'
import { dial7, JOB_ID, jobAt, marek, sheet, swung, truingWith, unsettled } from '#tests/web/truing/sample-bench.ts'
import { bench, button, freshTablet, JOB, keep, key, MEASUREMENTS, open } from '#tests/web/truing/true-page.ts'

freshTablet()

const ALL = ['0', '0', '7', '-6', '2', '2', '-5', '8', '0', '0']

test('reading says no fault and no move; older advice only as last time', async () => {
  bench()
  open()
  await screen.findByText(/Bring mark/)
  expect(screen.getByText('Last time: left 0.12, right 0.14, swing, and pinched opposite the pin')).toBeTruthy()
  expect(screen.queryByText(/Hold the left half/)).toBeNull()
  expect(screen.queryByText(/too small to say/)).toBeNull()
  expect(screen.queryByRole('button', { name: /Struck/ })).toBeNull()
})

test('keyed in divisions, read back in mm and thou, taken mark by mark, sent as one set, then striking', async () => {
  const book = bench()
  book.answers.set(`POST ${MEASUREMENTS}`, (sent: Sent) => {
    const set = keep(sent)
    book.answers.set(`GET ${JOB}/truing`, truingWith(set))
    return set
  })
  open()
  await screen.findByText('Next: left end at 12.')
  for (const one of ALL.slice(0, 7)) key(one)
  expect(screen.getByText('Next: right end at 9.')).toBeTruthy()
  expect(screen.getByRole('img', { name: 'Bring mark 9 under the dial.' })).toBeTruthy()
  pressKey('8')
  // 0.08 mm are 0.08 / 0.0254 = 3.15 thou.
  expect(screen.getByText('8 is 0.08 mm (3.1 thou) high.')).toBeTruthy()
  expect(screen.getByRole('status', { name: 'right end at 9, being keyed' }).textContent).toBe('0.08')
  pressKey('It reads this')
  key('0')
  key('0')
  expect(posts(book, MEASUREMENTS)).toEqual([])
  expect(await screen.findByText('The readings are in and repeat.')).toBeTruthy()
  fireEvent.click(button('Take this set'))
  expect(await screen.findByText(/Hold the left half, mark 3 up, and strike the right web at mark 3/)).toBeTruthy()
  const [sent] = posts(book, MEASUREMENTS)
  expect(posts(book, MEASUREMENTS)).toHaveLength(1)
  const body = sent?.body as MeasurementNew
  expect(body).toMatchObject({ kind: 'runout', phase: 'built', setup: { held: 'v-blocks-bare', dialLeftMm: 45, cold: true } })
  expect(body.values.map((one) => one.mm)).toEqual([0, 0, 0.07, -0.06, 0.02, 0.02, -0.05, 0.08, 0, 0])
  // Nothing of the set stays on the tablet once the book has it.
  expect(Object.keys(sessionStorage)).toEqual([])
})

test('what is allowed where the dials stand is there before a figure is keyed', async () => {
  bench()
  open()
  expect(await screen.findByText('Full swing: allowed here 0.02.')).toBeTruthy()
  fireEvent.click(screen.getByRole('button', { name: /^Set-up:/ }))
  const right = within(await screen.findByRole('group', { name: 'Right, drive' }))
  fireEvent.change(right.getByLabelText(/^Right support to dial/), { target: { value: '75' } })
  fireEvent.click(button('It lies like this'))
  // 0.02 × 75 ÷ 50, by hand.
  expect(await screen.findByText('Full swing: allowed left here 0.02; right 0.02 at 50, here 0.03 at 75.')).toBeTruthy()
})

test('where 12 again does not repeat the end is named, and only that end is read again', async () => {
  const book = bench()
  open()
  await screen.findByText('Next: left end at 12.')
  for (const one of [...ALL.slice(0, 9), '3']) key(one)
  expect(await screen.findByText('The readings do not repeat.')).toBeTruthy()
  expect(screen.getByText(/12 again reads 0.03 higher than 12 did/)).toBeTruthy()
  expect(screen.queryByRole('button', { name: 'Take this set' })).toBeNull()
  fireEvent.click(button('Read the right end again'))
  expect(screen.getByText('Next: right end at 12.')).toBeTruthy()
  expect(screen.getByRole('button', { name: 'left end at 3: 0.07. Key it again' })).toBeTruthy()
  for (const one of ['0', '-6', '2', '8', '0']) key(one)
  expect(await screen.findByText('The readings are in and repeat.')).toBeTruthy()
  expect(posts(book, MEASUREMENTS)).toEqual([])
})

test('a figure far off last time is asked about before it is taken', async () => {
  bench()
  open()
  await screen.findByText('Next: left end at 12.')
  key('0')
  key('0')
  key('80')
  expect(screen.getByText(/0.80 mm\? That is far off: last time this end swung 0.12 in all/)).toBeTruthy()
  expect(screen.getByText('Next: left end at 3.')).toBeTruthy()
  pressKey('rub out')
  expect(screen.queryByText(/far off/)).toBeNull()
  pressKey('0')
  pressKey('It reads this')
  pressKey('Yes, it does')
  expect(screen.getByText('Next: right end at 3.')).toBeTruthy()
  expect(screen.getByRole('button', { name: 'left end at 3: 0.80. Key it again' })).toBeTruthy()
})

test('nothing is lost when sending fails: the same set goes again with the same id and key', async () => {
  const book = bench({ [`POST ${MEASUREMENTS}`]: new NoAnswer() })
  open()
  await screen.findByText('Next: left end at 12.')
  for (const one of ALL) key(one)
  fireEvent.click(await screen.findByRole('button', { name: 'Take this set' }))
  expect((await screen.findByRole('alert')).textContent).toMatch(/not in the book yet.*cannot be reached/)
  book.answers.set(`POST ${MEASUREMENTS}`, (sent: Sent) => {
    const set = keep(sent)
    book.answers.set(`GET ${JOB}/truing`, truingWith(set))
    return set
  })
  fireEvent.click(button('Take this set'))
  await screen.findByText(/strike the right web at mark 3/)
  const [first, second] = posts(book, MEASUREMENTS)
  expect(second?.key).toBe(first?.key)
  expect(second?.body).toEqual(first?.body)
})

test('what was keyed is there after a reload of the page, for the same hand only', async () => {
  bench()
  open()
  await screen.findByText('Next: left end at 12.')
  for (const one of ALL.slice(0, 5)) key(one)
  await waitFor(() => expect(Object.keys(sessionStorage)).toHaveLength(1), { timeout: 2000 })
  cleanup()
  open()
  expect(await screen.findByText('Next: right end at 6.')).toBeTruthy()
  expect(screen.getByRole('button', { name: 'right end at 3: −0.06. Key it again' })).toBeTruthy()
  cleanup()
  bench({}, marek)
  open()
  expect(await screen.findByText('Next: left end at 12.')).toBeTruthy()
})

test('what was keyed before somebody else’s blow is not taken up again', async () => {
  bench()
  open()
  await screen.findByText('Next: left end at 12.')
  for (const one of ALL.slice(0, 5)) key(one)
  await waitFor(() => expect(Object.keys(sessionStorage)).toHaveLength(1), { timeout: 2000 })
  cleanup()
  const later = truingWith(swung, { stale: true, advice: undefined })
  const blow = { ...later.moves[0]!, id: '0198f3a0-0000-7000-8000-000000000499', beforeId: swung.id, came: undefined }
  bench({ [`GET ${JOB}/truing`]: { ...later, moves: [...later.moves, blow] } })
  open()
  expect(await screen.findByText('Next: left end at 12.')).toBeTruthy()
})

test('the set-up is prefilled, and another dial changes what a division is', async () => {
  bench()
  open()
  const chip = await screen.findByRole('button', { name: /left, ignition 45 out, taper 1:5/ })
  expect(button(/held on V-blocks, bare seats/)).toBeTruthy()
  expect(button(/dials dial 4, 0.01 mm/)).toBeTruthy()
  fireEvent.click(chip)
  fireEvent.change(screen.getByLabelText('Dials'), { target: { value: dial7.id } })
  fireEvent.change(screen.getByLabelText('Left support to dial, mm'), { target: { value: '0' } })
  fireEvent.click(button('It lies like this'))
  expect(screen.getByText(/never right at it/)).toBeTruthy()
  fireEvent.change(screen.getByLabelText('Left support to dial, mm'), { target: { value: '40,5' } })
  fireEvent.click(button('It lies like this'))
  expect(button(/left, ignition 40.5 out, taper 1:5/)).toBeTruthy()
  expect(screen.getByText(/8 is 0.008 mm \(0.31 thou\) high/)).toBeTruthy()
})

test('a sheet without places asks for them first', async () => {
  const bare = { ...sheet, figures: sheet.figures.filter((figure) => !figure.name.startsWith('dial')) }
  bench({ [`GET /api/engines/${sheet.id}`]: bare, [`GET ${JOB}/truing`]: { sets: [], moves: [], stale: false, repeats: [] } })
  open()
  expect(await screen.findByText(/does not say where the crank is held or where the dials stand/)).toBeTruthy()
  fireEvent.change(screen.getByLabelText('Left support to dial, mm'), { target: { value: '45' } })
  fireEvent.change(screen.getByLabelText('Right support to dial, mm'), { target: { value: '50' } })
  fireEvent.click(button('It lies like this'))
  expect(await screen.findByText('Next: left end at 12.')).toBeTruthy()
})

test('read as full swing and high mark, cold asked where nobody said', async () => {
  const book = bench({ [`GET ${JOB}/truing`]: { sets: [], moves: [], stale: false, repeats: [] } })
  book.answers.set(`POST ${MEASUREMENTS}`, new Refusal('validation', { detail: 'not this one' }))
  open()
  fireEvent.click(await screen.findByRole('button', { name: /read at/ }))
  fireEvent.click(screen.getByLabelText('full swing and high mark'))
  fireEvent.click(button('It lies like this'))
  pressKey('1')
  pressKey('2')
  pressKey('It reads this')
  fireEvent.click(button('highest at 3'))
  key('14')
  fireEvent.click(button('highest at 9'))
  expect(screen.getByText('Is the crank at the temperature of the room?')).toBeTruthy()
  fireEvent.click(button('Still warm: take it'))
  expect((await screen.findByRole('alert')).textContent).toMatch(/not this one/)
  const body = posts(book, MEASUREMENTS)[0]?.body as MeasurementNew
  expect(body.setup?.cold).toBe(false)
  expect(body.values.map(({ place, atDeg, mm }) => [place, atDeg, mm])).toEqual([
    ['left-swing', 90, 0.12],
    ['right-swing', 270, 0.14],
  ])
})

test('not read, because: goes to the book with its reason, and the next set has an id of its own', async () => {
  const book = bench()
  book.answers.set(`POST ${MEASUREMENTS}`, ({ body }: Sent) => {
    const { id, notReadBecause } = body as MeasurementNew
    return { ...swung, id, values: [], runout: undefined, setup: undefined, notReadBecause }
  })
  open()
  fireEvent.click(await screen.findByRole('button', { name: 'Not read, because …' }))
  fireEvent.change(screen.getByLabelText('Why is it not read?'), { target: { value: 'the taper is mushroomed' } })
  fireEvent.click(button('It is not read'))
  expect(await screen.findByText('Written down: not read, because the taper is mushroomed.')).toBeTruthy()
  const first = posts(book, MEASUREMENTS)[0]?.body as MeasurementNew
  expect(first).toMatchObject({ values: [], notReadBecause: 'the taper is mushroomed', kind: 'runout' })
  book.answers.set(`POST ${MEASUREMENTS}`, keep)
  for (const one of ALL) key(one)
  fireEvent.click(await screen.findByRole('button', { name: 'Take this set' }))
  await waitFor(() => expect(posts(book, MEASUREMENTS)).toHaveLength(2))
  const second = posts(book, MEASUREMENTS)[1]?.body as MeasurementNew | undefined
  expect(second?.id).toBeTruthy()
  expect(second?.id).not.toBe(first.id)
})

test('a last set that does not repeat gives no advice, and says so', async () => {
  bench({ [`GET ${JOB}/truing`]: truingWith(unsettled) })
  open()
  expect(await screen.findByText(/does not repeat at 12 again, so it says no fault and gives no advice/)).toBeTruthy()
  expect(screen.getByText('Last time: left 0.12, right 0.14')).toBeTruthy()
})

test('what somebody else read is kept from the second reader here too', async () => {
  const hidden = { ...swung, values: [], runout: undefined, hidden: true }
  const sets = truingWith(swung).sets.map((set) => ({ id: set.id, phase: set.phase, at: set.at, by: set.by, hidden: true }))
  bench({ [`GET ${JOB}`]: jobAt('trued'), [`GET ${JOB}/truing`]: { sets, moves: [], last: hidden, stale: false, repeats: [] } }, marek)
  open()
  expect(await screen.findByText(/kept out of sight until the second reading is in/)).toBeTruthy()
  expect(screen.queryByRole('button', { name: 'It reads this' })).toBeNull()
  expect(within(screen.getByRole('main')).getByRole('link', { name: 'Second check' }).getAttribute('href')).toBe(`/bench/${JOB_ID}/check`)
})
