import { afterEach, expect, test, vi } from 'vitest'
import { get, post } from '#web/lib/http.ts'

afterEach(() => {
  vi.useRealTimers()
  vi.unstubAllGlobals()
})

test('what a page asks by itself says so after a minute without a hand on it; an act never does', async () => {
  const sent: Headers[] = []
  vi.stubGlobal('fetch', async (_url: string, init: RequestInit) => {
    sent.push(new Headers(init.headers))
    return new Response('{}')
  })
  vi.useFakeTimers({ now: Date.now() })
  const asked = async () => {
    await get('/api/settings')
    return sent.at(-1)?.get('unattended')
  }
  document.dispatchEvent(new KeyboardEvent('keydown', { key: '7' }))
  vi.advanceTimersByTime(60_000)
  expect(await asked()).toBeNull()
  vi.advanceTimersByTime(1)
  expect(await asked()).toBe('yes')
  await post('/api/anything', {})
  expect(sent.at(-1)?.get('unattended')).toBeNull()
  document.dispatchEvent(new Event('pointerdown'))
  expect(await asked()).toBeNull()
})
