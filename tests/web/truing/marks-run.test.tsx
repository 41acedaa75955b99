import { cleanup, fireEvent, screen, waitFor, within } from '@testing-library/react'
import { describe, expect, test } from 'vitest'
import type { MeasurementNew } from '#contract/measurements.ts'
import { posts, Refusal, type Sent } from '#tests/web/truing/fake-book.tsx'
import { marek, setOf, setup, swung, truingWith } from '#tests/web/truing/sample-bench.ts'
import { bench, button, freshTablet, JOB, key, MEASUREMENTS, open, START, takeAll } from '#tests/web/truing/true-page.ts'
import { byMarks, marksSaid, runToRead } from '#web/features/truing/marks-said.ts'
import { cellsOf, marksOf } from '#web/features/truing/marks-to-read.ts'
import { readingAfter } from '#web/features/truing/reading-state.ts'
import { setToSend } from '#web/features/truing/set-to-send.ts'

freshTablet()

function moved({ body }: Sent) {
  return { ...(body as object), by: 'Jonas' }
}

describe('which way the marks run', () => {
  const worse = setOf(swung.id, [0, 0.15, 0, -0.15, 0], [0, -0.17, 0, 0.17, 0])
  const turned = setOf('0198f3a0-0000-7000-8000-0000000001aa', [0, -0.15, 0, 0.15, 0], [0, 0.17, 0, -0.17, 0], {
    setup: { ...setup, marksRun: 'other-way' },
  })
  const told = { turn: 'other-way', says: 'It went the other way. Which way do your marks run?', askMarks: true } as const
  const asking = truingWith(worse)
  const asked = { ...asking, moves: asking.moves.map((move, place) => (place < asking.moves.length - 1 ? move : { ...move, told })) }

  test('is asked after a blow that went the other way; the other way round the advice stands back and the set can be turned round', async () => {
    const book = bench({ [`GET ${JOB}/truing`]: asked })
    book.answers.set(`POST /api/measurements/${worse.id}/turn-round`, () => {
      book.answers.set(`GET ${JOB}/truing`, truingWith(turned))
      return turned
    })
    open()
    const act = within(await screen.findByRole('region', { name: 'What to do' }))
    expect(act.getByText(/strike the right web at mark 3/)).toBeTruthy()
    expect(screen.getByRole('img', { name: /Next: right web, at 90 degrees/ })).toBeTruthy()
    fireEvent.click(act.getByRole('button', { name: 'Anticlockwise' }))
    expect(act.queryByText(/strike the right web/)).toBeNull()
    expect(act.queryByRole('button', { name: /Struck/ })).toBeNull()
    expect(posts(book, `/api/measurements/${worse.id}/turn-round`)).toEqual([])
    fireEvent.click(act.getByRole('button', { name: 'Turn this set round' }))
    // By the mirror: struck at 9 of the clock, where this rim has its own mark 3. The picture had shown the other side.
    expect(await screen.findByText(/strike the right web at mark 3/)).toBeTruthy()
    expect(screen.getByRole('img', { name: /Next: right web, at 270 degrees/ })).toBeTruthy()
    expect(screen.getByText(/^Swing, right half towards mark\s3$/)).toBeTruthy()
    expect(posts(book, `/api/measurements/${worse.id}/turn-round`)).toHaveLength(1)
    expect(marksSaid.read()).toEqual({ run: 'other-way', setId: worse.id })
  })

  test('clockwise is remembered for this set and not asked again', async () => {
    bench({ [`GET ${JOB}/truing`]: asked })
    open()
    fireEvent.click(await screen.findByRole('button', { name: 'Clockwise' }))
    expect(screen.queryByText(/Which way do your marks 12, 3, 6, 9 run/)).toBeNull()
    expect(screen.getByText(/strike the right web at mark 3/)).toBeTruthy()
    cleanup()
    open()
    await screen.findByText(/strike the right web at mark 3/)
    expect(screen.queryByText(/Which way do your marks 12, 3, 6, 9 run/)).toBeNull()
  })

  test('is not asked once more after the crank was read anew', async () => {
    const again = { ...worse, id: '0198f3a0-0000-7000-8000-0000000001ab' }
    const twice = { ...asked, last: again, sets: [...asked.sets, { ...asked.sets.at(-1)!, id: again.id, at: '2026-12-02T13:20:00Z' }] }
    bench({ [`GET ${JOB}/truing`]: twice })
    open()
    expect(await screen.findByText(/strike the right web at mark 3/)).toBeTruthy()
    expect(screen.queryByText(/Which way do your marks 12, 3, 6, 9 run/)).toBeNull()
  })

  test('what somebody else read is read again, by the marks as they run', async () => {
    bench({ [`GET ${JOB}/truing`]: asked }, marek)
    open()
    fireEvent.click(await screen.findByRole('button', { name: 'Anticlockwise' }))
    expect(screen.queryByRole('button', { name: 'Turn this set round' })).toBeNull()
    expect(screen.getByText('Jonas read it and can turn it round; else read again.')).toBeTruthy()
    fireEvent.click(within(screen.getByRole('region', { name: 'What to do' })).getByRole('button', { name: 'Read again' }))
    expect(await screen.findByText(/Your marks run anticlockwise seen from the drive end/)).toBeTruthy()
  })

  test('a blow by this rim’s mark 9 is written down at its clock angle', async () => {
    const book = bench({ [`GET ${JOB}/truing`]: truingWith(turned), [`POST ${JOB}/moves`]: moved })
    open()
    fireEvent.click(await screen.findByRole('button', { name: 'I did something else' }))
    for (const said of ['struck a web', 'left web', '9', 'hard']) fireEvent.click(screen.getByLabelText(said))
    fireEvent.click(screen.getByRole('button', { name: 'Write it down, then read again' }))
    await waitFor(() => expect(posts(book, `${JOB}/moves`)[0]?.body).toMatchObject({ half: 'left', atDeg: 90 }))
  })
})

test('marks that run anticlockwise are named as they stand on the rim and kept as clock angles: 3 and 9 change places', () => {
  const plan = { readAt: 'four', held: 'v-blocks-bare', dials: 'one', marksRun: 'other-way' } as const
  expect(
    cellsOf(plan)
      .slice(0, 4)
      .map((cell) => [cell.name, cell.atDeg]),
  ).toEqual([
    ['12', 0],
    ['3', 270],
    ['6', 180],
    ['9', 90],
  ])
  const eight = marksOf({ readAt: 'eight', marksRun: 'other-way' })
  expect(eight.map((mark) => mark.deg)).toEqual([0, 315, 270, 225, 180, 135, 90, 45, 0])
})

test('said in the middle of a set, what was read stays under its own mark and is sent with the clock angle turned', () => {
  const read = takeAll(START, [0, 0, 7, -6])
  const turned = readingAfter(read, { do: 'set-up', setUp: { ...read.setUp, marksRun: 'other-way' } })
  expect(turned.at).toBe(4)
  const sent = setToSend(takeAll(turned, [2, 2, -5, 8, 0, 0]), 'built', true)
  expect(sent.setup?.marksRun).toBe('other-way')
  expect(sent.values.filter((value) => value.place === 'left').map((value) => [value.atDeg, value.mm])).toEqual([
    [0, 0],
    [270, 0.07],
    [180, 0.02],
    [90, -0.05],
  ])
})

test('which way they run: as said of the last set, else as that one was read, else as on this tablet before', () => {
  const other = { run: 'other-way', setId: swung.id } as const
  const read = { ...swung, setup: swung.setup && { ...swung.setup, marksRun: 'clockwise' as const } }
  expect(runToRead(other, read)).toBe('other-way')
  expect(runToRead({ ...other, setId: 'another' }, read)).toBe('clockwise')
  expect(runToRead({ ...other, setId: 'another' }, swung)).toBe('other-way')
  expect(runToRead(other, undefined)).toBe('other-way')
  expect(byMarks('Hold the left half, mark 3 up, and strike the right web at mark 3.', 'other-way')).toBe(
    'Hold the left half, mark 9 up, and strike the right web at mark 9.',
  )
  expect(byMarks('Squeeze at mark 6.', 'other-way')).toBe('Squeeze at mark 6.')
})

test('where the marks run anticlockwise the high mark is sent as its clock angle', async () => {
  marksSaid.write({ run: 'other-way', setId: '' })
  const book = bench({ [`GET ${JOB}/truing`]: { sets: [], moves: [], stale: false, repeats: [] } })
  book.answers.set(`POST ${MEASUREMENTS}`, new Refusal('validation', { detail: 'not this one' }))
  open()
  fireEvent.click(await screen.findByRole('button', { name: /read at/ }))
  fireEvent.click(await screen.findByLabelText('full swing and high mark'))
  fireEvent.click(button('It lies like this'))
  key('12')
  fireEvent.click(button('highest at 3'))
  key('14')
  fireEvent.click(button('highest at 9'))
  fireEvent.click(button('Cold: take this set'))
  await waitFor(() => expect(posts(book, MEASUREMENTS)).toHaveLength(1))
  const body = posts(book, MEASUREMENTS)[0]?.body as MeasurementNew
  expect(body.setup?.marksRun).toBe('other-way')
  expect(body.values.map(({ place, atDeg }) => [place, atDeg])).toEqual([
    ['left-swing', 270],
    ['right-swing', 90],
  ])
})
