import { fireEvent, screen, waitFor } from '@testing-library/react'
import { afterEach, expect, test } from 'vitest'
import { closeAll, openAt, refusal, shopBook } from '#tests/web/shop-book.tsx'

afterEach(closeAll)

const NEW = { setUp: false, demo: false, shop: 'The shop', hands: [] }
const type = (label: string, text: string) => fireEvent.change(screen.getByLabelText(label), { target: { value: text } })

test('a new book leads from the door to the first visit, and the code makes its owner', async () => {
  const book = shopBook('owner')
  book.answer('GET /api/session', () => refusal('signed-out'))
  book.answer('GET /api/door', () => NEW)
  let right = false
  book.answer('POST /api/set-up', () => {
    if (!right)
      return refusal('validation', { errors: [{ pointer: '/code', code: 'wrong', detail: 'This is not the code that was printed.' }] })
    return {
      id: '0198f3a0-0000-7000-8000-000000000001',
      name: 'Ewa',
      signIn: 'ewa',
      role: 'owner',
      maySign: true,
      hasPin: false,
      endsAt: '2026-11-24T20:00:00Z',
      idleMinutes: 240,
      enrolled: false,
      demo: false,
    }
  })
  const { router } = openAt('/sign-in')
  await screen.findByRole('heading', { name: 'The first visit' })
  expect(router.state.location.pathname).toBe('/set-up')
  fireEvent.click(screen.getByRole('button', { name: 'Open the book' }))
  expect(await screen.findByText('The book has no owner yet.')).toBeTruthy()
  expect(book.sent('POST', '/api/set-up')).toEqual([])
  type('One-time code', 'AAAA-BBBB')
  type('Name of the shop', 'Kettle Row Crank Works')
  type('Your name, as colleagues say it', 'Ewa')
  type('Your name at sign-in', 'ewa')
  type('Your password', 'three plain words')
  fireEvent.click(screen.getByRole('button', { name: 'Open the book' }))
  await waitFor(() => expect(screen.getByLabelText('One-time code').getAttribute('aria-invalid')).toBe('true'))
  expect((screen.getByLabelText('Your password') as HTMLInputElement).value).toBe('three plain words')
  right = true
  type('One-time code', 'CCCC-DDDD')
  fireEvent.click(screen.getByRole('button', { name: 'Open the book' }))
  await waitFor(() => expect(router.state.location.pathname).toBe('/office/settings'))
})

test('once the book has an owner the first visit is over', async () => {
  const book = shopBook('owner')
  book.answer('GET /api/session', () => refusal('signed-out'))
  const { router } = openAt('/set-up')
  await screen.findByRole('heading', { name: 'Kettle Row Crank Works' })
  expect(router.state.location.pathname).toBe('/sign-in')
})

test('a tablet is enrolled by name, listed, and taken out', async () => {
  const book = shopBook('owner')
  const bench1 = { id: '0198f3a0-0000-7000-8000-000000000055', name: 'bench 1', enrolledAt: '2026-11-24T08:00:00Z', enrolledBy: 'Ewa' }
  let there: (typeof bench1)[] = []
  book.answer('GET /api/devices', () => there)
  book.answer('POST /api/devices', () => {
    there = [bench1]
    return bench1
  })
  book.answer('DELETE /api/devices/:id', () => {
    there = []
    return undefined
  })
  openAt('/office/tablets')
  await screen.findByText(/No tablet is enrolled/)
  fireEvent.click(screen.getByRole('button', { name: 'Enrol this device' }))
  expect(screen.getByText('Give it a name, as bench 1.')).toBeTruthy()
  type('What this tablet is called', 'bench 1')
  fireEvent.click(screen.getByRole('button', { name: 'Enrol this device' }))
  fireEvent.click(await screen.findByRole('button', { name: /^Take bench 1 out/ }))
  await screen.findByText(/No tablet is enrolled/)
  expect(book.sent('DELETE', `/api/devices/${bench1.id}`)).toHaveLength(1)
})
