import { QueryObserver } from '@tanstack/react-query'
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest'
import { LIVE_KINDS } from '#contract/live.ts'
import { FakeSource, fakeStreams } from '#tests/web/fake-stream.ts'
import { LIVE, startLive } from '#web/lib/live.ts'
import { agedBy, agedByGap } from '#web/lib/live-keys.ts'
import { makeQueryClient } from '#web/lib/query-client.ts'

describe('what an event makes old', () => {
  const event = (entity: string, jobId?: string) => ({ entity, id: 'x', ...(jobId === undefined ? {} : { jobId }) })
  test.each([
    [event('measurement', 'a'), ['jobs', 'one', 'a', 'gate'], true],
    [event('measurement', 'a'), ['jobs', 'one', 'b', 'gate'], false],
    [event('measurement', 'a'), ['jobs', 'list', 'bench'], true],
    [event('measurement', 'a'), ['customers', 'one', 'c'], false],
    [event('job', 'a'), ['customers', 'one', 'c'], true],
    [event('job', 'a'), ['find', 'R4'], true],
    [event('job', 'a'), ['settings'], false],
    [event('job', 'a'), ['people'], false],
    [event('job', 'a'), ['people', 'learning', 'p'], true],
    [event('clock_entry', 'a'), ['hours', 'clock'], true],
    [event('engine'), ['jobs', 'one', 'b', 'measured'], true],
    [event('instrument'), ['instruments'], true],
    [event('person'), ['people'], true],
    [event('person'), ['session'], true],
    [event('setting'), ['settings'], true],
    [event('device'), ['devices'], true],
    [event('kit_model'), ['kits', {}], true],
    [event('kit_model'), ['jobs', 'list', 'bench'], false],
    // A kind or a group that nobody thought of here: asked again, but for what the shop cannot change.
    [event('something new'), ['settings'], true],
    [event('something new'), ['session'], false],
    [event('measurement', 'a'), ['a new page', 1], true],
    [event('something new'), ['drafts', 'booking'], false],
    [event('something new'), ['public', 'crank', 't'], false],
  ])('%o on %o: %s', (news, key, aged) => {
    expect(agedBy(news, key)).toBe(aged)
  })

  test('a gap makes everything old that is the shop’s; every kind that is told makes something old', () => {
    expect([['jobs', 'list'], ['settings'], ['hours', 'clock']].every(agedByGap)).toBe(true)
    expect([['session'], ['drafts', 'booking'], ['public', 'crank', 't']].some(agedByGap)).toBe(false)
    const groups = [
      'jobs',
      'customers',
      'cranks',
      'find',
      'kits',
      'people',
      'hours',
      'engines',
      'instruments',
      'settings',
      'devices',
      'door',
      'proofs',
      'gauge-studies',
      'practice',
    ]
    for (const kind of Object.keys(LIVE_KINDS))
      expect(
        groups.some((group) => agedBy(event(kind, 'a'), [group])),
        kind,
      ).toBe(true)
  })
})

describe('screens kept live', () => {
  const client = makeQueryClient()
  const away = vi.fn()
  const ended = vi.fn()
  let stop = () => {}
  let hidden: ReturnType<typeof vi.spyOn>
  const latest = () => FakeSource.all.at(-1)!
  const news = (jobId: string, seq: number) => latest().says({ entity: 'measurement', id: 'm', jobId, seq })

  function shown(key: readonly unknown[], fetch: () => Promise<unknown>): ReturnType<typeof vi.fn> {
    const asked = vi.fn(fetch)
    new QueryObserver(client, { queryKey: key, queryFn: asked }).subscribe(() => {})
    return asked
  }

  beforeEach(() => {
    vi.useFakeTimers()
    fakeStreams()
    away.mockClear()
    hidden = vi.spyOn(document, 'hidden', 'get').mockReturnValue(false)
    stop = startLive({ client, isSomebodyIn: async () => true, onEnd: ended, onAway: away })
  })
  afterEach(() => {
    stop()
    client.clear()
    hidden.mockRestore()
    vi.useRealTimers()
    vi.unstubAllGlobals()
  })

  test('an event asks again for what it touches, once for several together, and for nothing else', async () => {
    const mine = shown(['jobs', 'one', 'a', 'job'], async () => 1)
    const other = shown(['jobs', 'one', 'b', 'job'], async () => 1)
    await vi.advanceTimersByTimeAsync(0)
    news('a', 7)
    news('a', 8)
    await vi.advanceTimersByTimeAsync(LIVE.gatherMs)
    expect([mine, other].map((asked) => asked.mock.calls.length)).toEqual([2, 1])
  })

  test('an answer on its way is let through and asked once more after it', async () => {
    let answer = (_value: unknown) => {}
    const slow = shown(['jobs', 'one', 'a', 'job'], () => new Promise((resolve) => (answer = resolve)))
    news('a', 9)
    await vi.advanceTimersByTimeAsync(1_000)
    expect(slow).toHaveBeenCalledTimes(1)
    answer('read before the change')
    await vi.advanceTimersByTimeAsync(LIVE.gatherMs * 2)
    expect(slow).toHaveBeenCalledTimes(2)
  })

  test('in the background it is only taken as old', async () => {
    const asked = shown(['jobs', 'one', 'a', 'job'], async () => 1)
    await vi.advanceTimersByTimeAsync(0)
    hidden.mockReturnValue(true)
    news('a', 10)
    await vi.advanceTimersByTimeAsync(1_000)
    expect(asked).toHaveBeenCalledTimes(1)
    expect(client.getQueryState(['jobs', 'one', 'a', 'job'])?.isInvalidated).toBe(true)
  })

  test('the start of a stream asks again for what was fetched before it', async () => {
    const asked = shown(['jobs', 'list', 'bench'], async () => 1)
    await vi.advanceTimersByTimeAsync(0)
    latest().says({ seq: 5 }, 'here')
    await vi.advanceTimersByTimeAsync(LIVE.gatherMs)
    expect(asked).toHaveBeenCalledTimes(2)
  })

  test('being away is said after ten seconds, with when it was last heard, and taken back', async () => {
    vi.setSystemTime(new Date('2026-11-24T12:04:00Z'))
    latest().says({ seq: 5 }, 'here')
    away.mockClear()
    latest().breaks()
    await vi.advanceTimersByTimeAsync(9_999)
    expect(away).not.toHaveBeenCalled()
    await vi.advanceTimersByTimeAsync(1)
    expect(away).toHaveBeenCalledExactlyOnceWith(Date.parse('2026-11-24T12:04:00Z'))
    latest().says({ seq: 5 }, 'beat')
    expect(away).toHaveBeenLastCalledWith(undefined)
  })

  test('a short cut is never said', async () => {
    latest().says({ seq: 5 }, 'here')
    away.mockClear()
    latest().breaks()
    await vi.advanceTimersByTimeAsync(1_300)
    latest().says({ seq: 5 }, 'here')
    await vi.advanceTimersByTimeAsync(30_000)
    expect(away.mock.calls.filter(([since]) => since !== undefined)).toEqual([])
  })

  test('the end of the session is passed on, the closing of the server is not', () => {
    latest().says({ why: 'closing' }, 'end')
    expect(ended).not.toHaveBeenCalled()
    latest().says({ why: 'changed' }, 'end')
    expect(ended).toHaveBeenCalledOnce()
  })
})
