import { QueryClientProvider } from '@tanstack/react-query'
import { act, cleanup, fireEvent, render, screen } from '@testing-library/react'
import { MemoryRouter } from 'react-router'
import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import type { Me } from '#contract/sessions.ts'
import { FakeSource, fakeStreams, openSources } from '#tests/web/fake-stream.ts'
import { makeQueryClient } from '#web/lib/query-client.ts'
import { onSignedOut } from '#web/lib/signed-out.ts'
import { LiveLine } from '#web/pages/live-line.tsx'
import { OwnNetworkPage } from '#web/pages/own-network.tsx'
import { PlainHttpLine, plainHttpRead } from '#web/pages/plain-http-line.tsx'

const hana: Me = {
  id: '0198f3a0-0000-7000-8000-000000000001',
  name: 'Hana',
  signIn: 'hana',
  role: 'counter',
  maySign: false,
  hasPin: false,
  endsAt: '2026-11-24T20:00:00Z',
  idleMinutes: 240,
  enrolled: false,
  demo: false,
}
let session: Response
const client = makeQueryClient()

beforeEach(() => {
  fakeStreams()
  session = new Response(JSON.stringify(hana))
  vi.stubGlobal('fetch', async (url: string) => {
    if (url === '/api/session') return session.clone()
    if (url.startsWith('/api/way-in')) return new Response(JSON.stringify({ faults: [] }))
    throw new Error(`not asked for: ${url}`)
  })
})
afterEach(() => {
  cleanup()
  client.clear()
  vi.useRealTimers()
  vi.unstubAllGlobals()
  plainHttpRead.write(false)
})

const show = (page: React.ReactNode) =>
  render(
    <QueryClientProvider client={client}>
      <MemoryRouter>{page}</MemoryRouter>
    </QueryClientProvider>,
  )
const latest = () => FakeSource.all.at(-1)!

test('being away is said quietly after ten seconds with the time last heard, and goes by itself', async () => {
  vi.useFakeTimers({ now: new Date(2026, 10, 24, 12, 4) })
  show(<LiveLine me={hana} />)
  const line = screen.getByRole('status')
  act(() => latest().says({ seq: 5 }, 'here'))
  act(() => latest().breaks())
  await act(() => vi.advanceTimersByTimeAsync(9_000))
  expect(line.textContent).toBe('')
  await act(() => vi.advanceTimersByTimeAsync(1_000))
  expect(line.textContent).toBe('Not live: last heard 12:04.')
  act(() => latest().says({ seq: 5 }, 'beat'))
  expect(line.textContent).toBe('')
})

test('another session has a stream of its own, and none is left behind', () => {
  const shown = show(<LiveLine me={hana} />)
  const again = (me: Me) =>
    shown.rerender(
      <QueryClientProvider client={client}>
        <MemoryRouter>
          <LiveLine me={me} />
        </MemoryRouter>
      </QueryClientProvider>,
    )
  again(hana)
  expect(FakeSource.all).toHaveLength(1)
  again({ ...hana, endsAt: '2026-11-25T20:00:00Z' })
  expect(FakeSource.all).toHaveLength(2)
  expect(openSources()).toHaveLength(1)
  shown.unmount()
  expect(openSources()).toHaveLength(0)
})

test('the end of a session that is over is announced; one that is somebody else’s now forgets what was told before', async () => {
  const out = vi.fn()
  const letGo = onSignedOut(out)
  show(<LiveLine me={hana} />)
  client.setQueryData(['jobs', 'list', 'bench'], ['a first reading'])
  session = new Response(JSON.stringify({ ...hana, id: '0198f3a0-0000-7000-8000-000000000002', name: 'Jonas', role: 'bench' }))
  await act(async () => latest().says({ why: 'signed-out' }, 'end'))
  await vi.waitFor(() => expect(client.getQueryData(['session'])).toMatchObject({ name: 'Jonas' }))
  expect(client.getQueryData(['jobs', 'list', 'bench'])).toBeUndefined()
  expect(out).not.toHaveBeenCalled()
  session = new Response(JSON.stringify({ type: '/problems/signed-out', title: 'Nobody is signed in here', status: 401 }), { status: 401 })
  await act(async () => latest().says({ why: 'signed-out' }, 'end'))
  await vi.waitFor(() => expect(out).toHaveBeenCalled())
  letGo()
})

test('on plain http the bench says what will not work and where to read on, until it is put away', () => {
  vi.stubGlobal('isSecureContext', false)
  const shown = show(<PlainHttpLine />)
  expect(screen.getByRole('note').textContent).toContain('no offline')
  expect(screen.getByRole('link', { name: 'How to mend it' }).getAttribute('href')).toBe('/own-network')
  fireEvent.click(screen.getByRole('button', { name: 'Leave it so' }))
  expect(screen.queryByRole('note')).toBeNull()
  expect(localStorage.getItem('throwbook.plain-http-read')).toBe('yes')
  shown.unmount()
  show(<PlainHttpLine />)
  expect(screen.queryByRole('note')).toBeNull()
})

test('over https nothing is said', () => {
  vi.stubGlobal('isSecureContext', true)
  show(<PlainHttpLine />)
  expect(screen.queryByRole('note')).toBeNull()
})

test('the page about the shop’s own network names the command and the settings', async () => {
  vi.stubGlobal('isSecureContext', false)
  show(<OwnNetworkPage />)
  await screen.findByText('This browser reaches the book by plain http.')
  const text = document.body.textContent ?? ''
  for (const word of ['npm run authority', 'TLS_CERT', 'TLS_KEY', 'PUBLIC_URL', 'TRUST_PROXY', 'X-Forwarded-Proto', '/authority.crt'])
    expect(text).toContain(word)
})
