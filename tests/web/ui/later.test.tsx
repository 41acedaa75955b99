import { cleanup, fireEvent, render, screen } from '@testing-library/react'
import { afterEach, expect, test, vi } from 'vitest'
import { later } from '#web/ui/later.tsx'

afterEach(cleanup)

const Greeting = ({ name }: { name: string }) => <p>Hello {name}</p>

test('a part is fetched when it is first shown, and once', async () => {
  const fetchPart = vi.fn(async () => Greeting)
  const Later = later('greeting', fetchPart)
  expect(fetchPart).not.toHaveBeenCalled()
  const { unmount } = render(<Later name="Hana" />)
  expect(screen.queryByText('Hello Hana')).toBeNull()
  expect(await screen.findByText('Hello Hana')).toBeTruthy()
  unmount()
  render(<Later name="Jonas" />)
  expect(screen.getByText('Hello Jonas')).toBeTruthy()
  expect(fetchPart).toHaveBeenCalledTimes(1)
})

test('one that cannot be fetched is said in its place, and asked for again', async () => {
  const fetchPart = vi.fn(async () => Greeting).mockRejectedValueOnce(new TypeError('Failed to fetch dynamically imported module'))
  const Later = later('greeting', fetchPart)
  render(
    <div>
      <p>what was typed</p>
      <Later name="Hana" />
    </div>,
  )
  expect(await screen.findByText(/The greeting could not be fetched/)).toBeTruthy()
  expect(screen.getByText('what was typed')).toBeTruthy()
  fireEvent.click(screen.getByRole('button'))
  expect(await screen.findByText('Hello Hana')).toBeTruthy()
})
