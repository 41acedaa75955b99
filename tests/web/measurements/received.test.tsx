import { fireEvent, screen, waitFor, within } from '@testing-library/react'
import { afterEach, beforeEach, expect, test } from 'vitest'
import { benchBook, JOB_ID, setOf } from '#tests/web/bench-sample.ts'
import { closeAll, openAt } from '#tests/web/shop-book.tsx'

beforeEach(() => sessionStorage.clear())
afterEach(closeAll)

const SETS = `/api/jobs/${JOB_ID}/measurements`

test('both ends as they came in are read as received, or not read with a reason', async () => {
  const book = benchBook('bench')
  book.answer('POST /api/jobs/:id/measurements', () =>
    setOf({ kind: 'runout', phase: 'received', values: [], notReadBecause: 'end bent too far to turn' }),
  )
  const { router } = openAt(`/bench/${JOB_ID}/read/runout`)
  await screen.findByRole('group', { name: 'Keypad' })
  fireEvent.click(screen.getByRole('button', { name: 'Not read, because …' }))
  fireEvent.change(screen.getByLabelText('Why is it not read?'), { target: { value: 'end bent too far to turn' } })
  fireEvent.click(screen.getByRole('button', { name: 'It is not read' }))
  await waitFor(() => expect(router.state.location.pathname).toBe(`/bench/${JOB_ID}`))
  expect(book.sent('POST', SETS)[0]?.body).toMatchObject({ kind: 'runout', phase: 'received', notReadBecause: 'end bent too far to turn' })
})

test('only sets as received stand in the list; swings are said end by end', async () => {
  const runout = {
    left: { tirMm: 0.19, highAtDeg: 81 },
    closes: { agree: true },
    giveOrTake: { leftMm: 0.008, rightMm: 0.008 },
    limits: { atStatedPlace: true },
    verdicts: {},
    method: { name: 'two dials', version: '1' },
  }
  const received = { ...setOf({ kind: 'runout', phase: 'received', values: [{ place: 'left', atDeg: 90, mm: 0.09 }] }), runout }
  const built = setOf({ kind: 'runout', phase: 'built', values: [], notReadBecause: 'not this one' })
  benchBook('bench', { bench: { measurements: [received, built] } })
  openAt(`/bench/${JOB_ID}/read/runout`)
  const sets = within(await screen.findByRole('list', { name: 'Sets taken' }))
  expect(sets.getByText('0.19')).toBeTruthy()
  expect(sets.getByText(/high at 81°/)).toBeTruthy()
  expect(sets.getByText(/right end/).textContent).toContain('not read')
  expect(sets.queryByText(/not this one/)).toBeNull()
})
