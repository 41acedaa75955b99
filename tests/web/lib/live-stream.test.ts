import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { FakeSource, fakeStreams, fakeTabs, openSources } from '#tests/web/fake-stream.ts'
import { shareStream } from '#web/lib/live-sharing.ts'
import { openStream, type Said, STREAM } from '#web/lib/live-stream.ts'

beforeEach(() => {
  vi.useFakeTimers()
  fakeStreams()
})
afterEach(() => {
  vi.useRealTimers()
  vi.unstubAllGlobals()
})

const news = (seq: number) => ({ entity: 'job', id: 'j', jobId: 'j', seq })
const latest = () => FakeSource.all.at(-1)!

function ears(somebody: boolean | 'unreachable' = true) {
  const said: Said[] = []
  const isSomebodyIn = vi.fn(async () => {
    if (somebody === 'unreachable') throw new Error('no answer')
    return somebody
  })
  return { said, isSomebodyIn, hear: (one: Said) => void said.push(one), random: () => 0.5 }
}
const kinds = (said: Said[]) => said.map((one) => one.kind)

describe('one stream', () => {
  test('begins afresh with a gap, hears news, and keeps its place', () => {
    const listening = ears()
    const stream = openStream(listening)
    expect(latest().url).toBe('/api/live')
    latest().says({ seq: 6 }, 'here')
    latest().says(news(7))
    expect(kinds(listening.said)).toEqual(['up', 'gap', 'up', 'news'])
    expect(stream.last()).toBe(7)
    stream.close()
    expect(openSources()).toEqual([])
  })

  test('comes back where it left off, each time later, and at once again after it was heard', async () => {
    const listening = ears('unreachable')
    openStream(listening)
    latest().says({ seq: 6 }, 'here')
    for (const wait of [1_000, 2_000, 4_000, 8_000, 16_000, 30_000, 30_000]) {
      const before = FakeSource.all.length
      latest().breaks()
      await vi.advanceTimersByTimeAsync(wait - 1)
      expect(FakeSource.all.length).toBe(before)
      await vi.advanceTimersByTimeAsync(1)
      expect(FakeSource.all.length).toBe(before + 1)
      expect(latest().url).toBe('/api/live?after=6')
    }
    latest().says({ seq: 9 }, 'here')
    expect(kinds(listening.said).at(-1)).toBe('up')
    // Coming back with a place of its own is no gap: what was missed is told.
    expect(kinds(listening.said).filter((kind) => kind === 'gap')).toHaveLength(1)
    latest().breaks()
    await vi.advanceTimersByTimeAsync(1_000)
    expect(latest().url).toBe('/api/live?after=6')
  })

  test('“everything” moves its place on', () => {
    const listening = ears()
    const stream = openStream({ ...listening, after: 3 })
    expect(latest().url).toBe('/api/live?after=3')
    latest().says({ seq: 900 }, 'all')
    expect(kinds(listening.said)).toEqual(['up', 'gap'])
    expect(stream.last()).toBe(900)
  })

  test('a stream without a sign is dead, whatever the browser thinks', async () => {
    const listening = ears()
    openStream(listening)
    latest().says({ seq: 6 }, 'here')
    await vi.advanceTimersByTimeAsync(STREAM.silentMs - 1)
    latest().says({ seq: 6 }, 'beat')
    await vi.advanceTimersByTimeAsync(STREAM.silentMs - 1)
    expect(FakeSource.all).toHaveLength(1)
    await vi.advanceTimersByTimeAsync(1_001)
    expect(FakeSource.all.map((source) => source.closed)).toEqual([true, false])
  })

  test('gives up when nobody is signed in, and comes back when the server only closed', async () => {
    const out = ears(false)
    openStream(out)
    latest().says({ why: 'signed-out' }, 'end')
    await vi.advanceTimersByTimeAsync(60_000)
    expect(openSources()).toEqual([])
    expect(out.said).toContainEqual({ kind: 'end', why: 'signed-out' })
    const closing = ears()
    openStream(closing)
    latest().says({ why: 'closing' }, 'end')
    expect(closing.isSomebodyIn).not.toHaveBeenCalled()
    await vi.advanceTimersByTimeAsync(1_000)
    expect(openSources()).toHaveLength(1)
  })

  test('what it cannot read is left alone', () => {
    const listening = ears()
    openStream(listening)
    latest().says({ seq: 'seven' })
    latest().dispatchEvent(new MessageEvent('message', { data: 'no JSON' }))
    expect(listening.said).toEqual([])
  })
})

describe('several tabs', () => {
  test('share one stream; the next goes on where the first left off', async () => {
    fakeTabs()
    const [first, second] = [ears(), ears()]
    const closeFirst = shareStream(first)
    const closeSecond = shareStream(second)
    await vi.advanceTimersByTimeAsync(0)
    expect(FakeSource.all).toHaveLength(1)
    latest().says({ seq: 6 }, 'here')
    latest().says(news(7))
    expect(second.said).toEqual(first.said)
    const third = ears()
    const closeThird = shareStream(third)
    expect(kinds(third.said)).toEqual(['up'])
    closeFirst()
    await vi.advanceTimersByTimeAsync(0)
    expect(openSources().map((source) => source.url)).toEqual(['/api/live?after=7'])
    latest().says(news(8))
    expect(kinds(second.said).at(-1)).toBe('news')
    expect(kinds(third.said).at(-1)).toBe('news')
    expect(kinds(first.said).filter((kind) => kind === 'news')).toHaveLength(1)
    closeSecond()
    closeThird()
    await vi.advanceTimersByTimeAsync(0)
    expect(openSources()).toEqual([])
  })

  test('a tab that came after a lull knows the place from the one that holds the stream', async () => {
    fakeTabs()
    const first = ears()
    const closeFirst = shareStream(first)
    await vi.advanceTimersByTimeAsync(0)
    latest().says({ seq: 41 }, 'here')
    const second = ears()
    shareStream(second)
    closeFirst()
    await vi.advanceTimersByTimeAsync(0)
    expect(openSources().map((source) => source.url)).toEqual(['/api/live?after=41'])
  })

  test('without locks (plain http) each has its own while it is looked at', () => {
    const listening = ears()
    const close = shareStream(listening)
    latest().says({ seq: 6 }, 'here')
    const hidden = vi.spyOn(document, 'hidden', 'get').mockReturnValue(true)
    document.dispatchEvent(new Event('visibilitychange'))
    expect(openSources()).toEqual([])
    hidden.mockReturnValue(false)
    document.dispatchEvent(new Event('visibilitychange'))
    expect(openSources().map((source) => source.url)).toEqual(['/api/live?after=6'])
    close()
    hidden.mockRestore()
    expect(openSources()).toEqual([])
  })
})
