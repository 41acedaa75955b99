import { cleanup, fireEvent, render, screen, within } from '@testing-library/react'
import { useState } from 'react'
import { MemoryRouter } from 'react-router'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { Drawing as Sheet } from '#core/marks.ts'
import { slashFinds } from '#web/lib/find-keys.ts'
import { placesOf } from '#web/lib/places.ts'
import { Unreachable } from '#web/lib/problem.ts'
import { Bar } from '#web/ui/bar.tsx'
import { CrankEnd, crankEndLabel } from '#web/ui/crank-end.tsx'
import { Drawing } from '#web/ui/drawing.tsx'
import { EndMark } from '#web/ui/end-mark.tsx'
import { FindBox } from '#web/ui/find-box.tsx'
import { MeMenu } from '#web/ui/me-menu.tsx'
import { More } from '#web/ui/more.tsx'
import { Page } from '#web/ui/page.tsx'
import { Reason } from '#web/ui/reason.tsx'
import { Failed, Loading } from '#web/ui/states.tsx'
import { Table } from '#web/ui/table.tsx'
import { TurnDial } from '#web/ui/turn-dial.tsx'

beforeEach(() => {
  slashFinds.write(true)
})
afterEach(() => {
  cleanup()
  vi.useRealTimers()
})

const found = vi.fn()

function Find() {
  const [text, setText] = useState('')
  return (
    <>
      <input aria-label="Elsewhere" />
      <FindBox value={text} onChange={setText} onFind={found} />
    </>
  )
}

test('"/" and Ctrl+K go to the find box, "/" typed into a field is a stroke', () => {
  render(<Find />)
  const box = screen.getByRole('searchbox')
  const elsewhere = screen.getByLabelText('Elsewhere')
  fireEvent.keyDown(document.body, { key: '/' })
  expect(document.activeElement).toBe(box)
  elsewhere.focus()
  expect(fireEvent.keyDown(elsewhere, { key: '/' })).toBe(true)
  expect(document.activeElement).toBe(elsewhere)
  expect(fireEvent.keyDown(elsewhere, { key: 'k', ctrlKey: true })).toBe(false)
  expect(document.activeElement).toBe(box)
})

test('"/" can be turned off, Ctrl+K stays (WCAG 2.1.4)', () => {
  slashFinds.write(false)
  render(<Find />)
  fireEvent.keyDown(document.body, { key: '/' })
  expect(document.activeElement).toBe(document.body)
  fireEvent.keyDown(document.body, { key: 'k', ctrlKey: true })
  expect(document.activeElement).toBe(screen.getByRole('searchbox'))
})

test('Enter finds what stands in the box, Escape empties it', () => {
  found.mockClear()
  render(<Find />)
  const box = screen.getByRole('searchbox') as HTMLInputElement
  fireEvent.submit(box)
  expect(found).not.toHaveBeenCalled()
  fireEvent.change(box, { target: { value: ' 318v ' } })
  fireEvent.submit(box)
  expect(found).toHaveBeenCalledExactlyOnceWith('318v')
  fireEvent.keyDown(box, { key: 'Escape' })
  expect(box.value).toBe('')
})

test('the bar shows the places of the role, the present one marked', () => {
  const places = (role: 'counter' | 'bench' | 'owner') => {
    render(
      <MemoryRouter initialEntries={['/office/learning']}>
        <Bar places={placesOf(role)} />
      </MemoryRouter>,
    )
    const links = screen.getAllByRole('link').map((link) => [link.textContent, link.getAttribute('aria-current')])
    cleanup()
    return links
  }
  expect(places('counter')).toEqual([['Counter', null]])
  expect(places('bench')).toEqual([['Bench', null]])
  expect(places('owner')).toEqual([
    ['Counter', null],
    ['Bench', null],
    ['Office', 'page'],
  ])
})

test('the menu opens, closes by Escape with the focus back, and by the focus going elsewhere', () => {
  render(
    <>
      <MeMenu who="Hana, counter" onSignOut={() => {}} />
      <button type="button">elsewhere</button>
    </>,
  )
  const opener = screen.getByRole('button', { name: 'Hana, counter' })
  fireEvent.click(opener)
  expect(opener.getAttribute('aria-expanded')).toBe('true')
  fireEvent.keyDown(document, { key: 'Escape' })
  expect(opener.getAttribute('aria-expanded')).toBe('false')
  expect(document.activeElement).toBe(opener)
  fireEvent.click(opener)
  fireEvent.focusIn(screen.getByRole('button', { name: 'elsewhere' }))
  expect(opener.getAttribute('aria-expanded')).toBe('false')
})

test('a page names the tab and its heading', () => {
  render(
    <Page title="318-V at the bench" heading="318-V  Ruskhammar R449-4X">
      x
    </Page>,
  )
  expect(document.title).toBe('318-V at the bench · Throwbook')
  expect(screen.getByRole('heading', { level: 1 }).textContent).toBe('318-V  Ruskhammar R449-4X')
  expect(screen.getByRole('main').id).toBe('main')
})

test('a table keeps its meaning when it is laid out as rows, and says what is missing when empty', () => {
  const columns = [
    { id: 'tag', head: 'Tag', cell: (row: { tag: string; hours: number }) => row.tag, narrow: 'tag' as const },
    { id: 'hours', head: 'Hours', cell: (row: { tag: string; hours: number }) => row.hours, figures: true },
  ]
  const table = (rows: { tag: string; hours: number }[]) => (
    <Table caption="In the house" columns={columns} rows={rows} rowKey={(row) => row.tag} empty="Nothing is in the house." />
  )
  const { rerender } = render(table([{ tag: '318-V', hours: 61 }]))
  expect(screen.getByRole('table', { name: 'In the house' })).toBeTruthy()
  expect(screen.getAllByRole('columnheader').map((head) => head.textContent)).toEqual(['Tag', 'Hours'])
  const cells = within(screen.getAllByRole('row')[1]!).getAllByRole('cell')
  expect(cells.map((cell) => [cell.textContent, cell.dataset.narrow, cell.className])).toEqual([
    ['318-V', 'tag', ''],
    ['61', 'under', 'n'],
  ])
  rerender(table([]))
  expect(screen.queryByRole('table')).toBeNull()
  expect(screen.getByText('Nothing is in the house.')).toBeTruthy()
})

test('a reason is asked in its place and never sent empty', () => {
  const onConfirm = vi.fn()
  render(<Reason open="Let it pass" label="Why may it pass?" confirm="It may pass" onConfirm={onConfirm} />)
  expect(document.querySelector('.reason-panel')?.hasAttribute('hidden')).toBe(true)
  fireEvent.click(screen.getByRole('button', { name: 'Let it pass' }))
  fireEvent.click(screen.getByRole('button', { name: 'It may pass' }))
  expect(onConfirm).not.toHaveBeenCalled()
  const field = screen.getByLabelText('Why may it pass?')
  expect(document.activeElement).toBe(field)
  expect(field.getAttribute('aria-invalid')).toBe('true')
  fireEvent.change(field, { target: { value: '  measured by me, customer told ' } })
  fireEvent.click(screen.getByRole('button', { name: 'It may pass' }))
  expect(onConfirm).toHaveBeenCalledExactlyOnceWith('measured by me, customer told')
})

test('a failure says why and tries again by hand', () => {
  const again = vi.fn()
  render(<Failed what="The list" error={new Unreachable('x')} onAgain={again} />)
  expect(screen.getByRole('alert').textContent).toContain('The list could not be fetched. The book cannot be reached.')
  fireEvent.click(screen.getByRole('button', { name: 'Try again' }))
  expect(again).toHaveBeenCalledTimes(1)
})

test('fetching is only said once it takes long enough to be noticed', async () => {
  vi.useFakeTimers()
  render(<Loading what="the list" />)
  expect(screen.getByRole('status').textContent).toBe('')
  await vi.waitFor(() => expect(screen.getByRole('status').textContent).toBe('Fetching the list…'), { timeout: 400 })
})

test('a list says how much of it is shown', () => {
  const onMore = vi.fn()
  const { rerender } = render(<More shown={50} total={214} more busy={false} onMore={onMore} />)
  expect(screen.getByRole('status').textContent).toBe('showing 50 of 214')
  fireEvent.click(screen.getByRole('button', { name: 'Show more' }))
  expect(onMore).toHaveBeenCalledTimes(1)
  rerender(<More shown={214} total={214} more={false} busy={false} onMore={onMore} />)
  expect(screen.queryByRole('button')).toBeNull()
})

test('a drawing of the core is painted mark by mark, in the inks of the mode', () => {
  const sheet: Sheet = {
    width: 100,
    height: 50,
    label: 'The crank to one scale.',
    marks: [
      { kind: 'path', d: 'M0 0H10', stroke: 'ink', width: 2, dash: [4, 2] },
      { kind: 'circle', x: 5, y: 6, r: 3, fill: 'blue-wash' },
      { kind: 'text', x: 1, y: 2, text: '0.02', size: 14, figure: true, strong: true },
    ],
  }
  render(<Drawing drawing={sheet} />)
  const [path, circle, text] = Array.from(screen.getByRole('img', { name: 'The crank to one scale.' }).children)
  expect([
    path!.getAttribute('d'),
    path!.getAttribute('stroke'),
    path!.getAttribute('fill'),
    path!.getAttribute('stroke-dasharray'),
  ]).toEqual(['M0 0H10', 'var(--ink)', 'none', '4 2'])
  expect([circle!.getAttribute('cx'), circle!.getAttribute('r'), circle!.getAttribute('fill')]).toEqual(['5', '3', 'var(--blue-wash)'])
  expect([text!.textContent, text!.getAttribute('class'), text!.getAttribute('font-weight')]).toEqual(['0.02', 'fig', '600'])
})

test('the two ends differ by form, and are said', () => {
  render(
    <>
      <EndMark end="left" letter />
      <EndMark end="right" letter />
    </>,
  )
  expect(screen.getByRole('img', { name: 'left' }).querySelector('circle')).toBeTruthy()
  expect(screen.getByRole('img', { name: 'right' }).querySelector('rect')).toBeTruthy()
})

test('the end view puts a high spot where it is: 90 degrees is mark 3, to the right', () => {
  render(<CrankEnd leftHighAtDeg={90} rightHighAtDeg={270} act={{ atDeg: 90, words: 'right web' }} />)
  const picture = screen.getByRole('img', {
    name: 'Seen from the right-hand end, pin at 12: left end high at 90 degrees; right end high at 270 degrees. Next: right web, at 90 degrees.',
  })
  const middle = Number(picture.getAttribute('viewBox')!.split(' ')[2]) / 2
  const left = Array.from(picture.querySelectorAll('text')).find((text) => text.textContent === 'L')!
  const right = Array.from(picture.querySelectorAll('text')).find((text) => text.textContent === 'R')!
  expect(Number(left.getAttribute('x'))).toBeGreaterThan(middle)
  expect(Number(right.getAttribute('x'))).toBeLessThan(middle)
  // The figure of the mark the arrow lies on gives way to it.
  expect(screen.queryByText('3')).toBeNull()
  expect(screen.getByText('9')).toBeTruthy()
})

test('an end too small to say has no high spot', () => {
  render(<CrankEnd leftHighAtDeg={10} />)
  expect(screen.queryByText('R')).toBeNull()
  expect(crankEndLabel({ leftHighAtDeg: 10 })).toBe(
    'Seen from the right-hand end, pin at 12: left end high at 10 degrees; right end too small to say.',
  )
})

test('the mark to read is drawn at the top, the others clockwise after it', () => {
  render(<TurnDial atDeg={270} />)
  const picture = screen.getByRole('img', { name: 'Bring mark 9 under the dial.' })
  const at = (name: string) => {
    const text = Array.from(picture.querySelectorAll('text')).find((each) => each.textContent === name)!
    return [Math.round(Number(text.getAttribute('x'))), Math.round(Number(text.getAttribute('y')))]
  }
  expect(at('9')).toEqual([115, 72])
  expect(at('12')).toEqual([177, 134])
  expect(at('3')).toEqual([115, 196])
  expect(at('6')).toEqual([53, 134])
})
