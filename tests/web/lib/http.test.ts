import { afterEach, beforeEach, expect, test, vi } from 'vitest'
import { PROBLEM_STATUS, PROBLEM_TITLES, type ProblemType } from '#contract/problem-types.ts'
import { address, get, patch, post, remove } from '#web/lib/http.ts'
import { inWords, NewerBook, NotUnderstood, Problem, TookTooLong, Unreachable } from '#web/lib/problem.ts'
import { onSignedOut } from '#web/lib/signed-out.ts'

function answer(status: number, body: unknown, headers: Record<string, string> = {}): Response {
  return new Response(body === undefined ? null : JSON.stringify(body), {
    status,
    headers: { 'content-type': 'application/json', ...headers },
  })
}

function document(type: ProblemType, more: object = {}): object {
  return { type: `/problems/${type}`, title: PROBLEM_TITLES[type], status: PROBLEM_STATUS[type], ...more }
}

function sent(call = 0): { url: string; init: RequestInit; headers: Headers } {
  const [url, init] = vi.mocked(fetch).mock.calls[call]!
  return { url: String(url), init: init!, headers: new Headers(init!.headers) }
}

beforeEach(() => {
  vi.stubGlobal('fetch', vi.fn())
})
afterEach(() => {
  vi.unstubAllGlobals()
  vi.unstubAllEnvs()
  vi.useRealTimers()
})

test('an answer is handed on as the book gave it', async () => {
  vi.mocked(fetch).mockResolvedValueOnce(answer(200, { name: 'Hollis, A.' }, { 'book-version': 'any' }))
  await expect(get('/api/customers/1')).resolves.toEqual({ name: 'Hollis, A.' })
  expect(sent().init.method).toBe('GET')
  expect(sent().headers.get('idempotency-key')).toBeNull()
})

test('an answer of a book of another version is never handed on', async () => {
  vi.stubEnv('BOOK_VERSION', 'of-monday')
  vi.mocked(fetch).mockResolvedValueOnce(answer(200, { name: 'x' }, { 'book-version': 'of-monday' }))
  await expect(get('/api/things')).resolves.toEqual({ name: 'x' })
  vi.mocked(fetch).mockResolvedValueOnce(answer(200, { name: 'x' }, { 'book-version': 'of-friday' }))
  const error = await get('/api/things').catch((caught: unknown) => caught)
  expect(error).toBeInstanceOf(NewerBook)
  expect(inWords(error)).toBe('This page is older than the book. Load the page again.')
})

test('what a book of another version refuses can still be read', async () => {
  vi.stubEnv('BOOK_VERSION', 'of-monday')
  vi.mocked(fetch).mockResolvedValueOnce(answer(403, document('forbidden'), { 'book-version': 'of-friday' }))
  await expect(get('/api/things')).rejects.toMatchObject({ type: 'forbidden' })
})

test.each(['<html>Welcome to our Wi-Fi</html>', '', '"Welcome"', 'null'])('a 200 with %j is no answer of the book', async (body) => {
  vi.mocked(fetch).mockResolvedValueOnce(new Response(body, { status: 200 }))
  await expect(get('/api/things')).rejects.toBeInstanceOf(NotUnderstood)
})

test('an empty answer is an answer', async () => {
  vi.mocked(fetch).mockResolvedValueOnce(answer(204, undefined))
  await expect(remove('/api/session', { version: undefined })).resolves.toBeUndefined()
  expect(sent().headers.get('if-match')).toBeNull()
})

test('a POST brings a key of its own, or the one it is given', async () => {
  vi.mocked(fetch).mockImplementation(async () => answer(201, { name: 'x' }))
  await post('/api/jobs', { a: 1 })
  await post('/api/jobs', { a: 1 })
  await post('/api/jobs', { a: 1 }, { key: 'one-act-0001' })
  expect(sent(0).headers.get('idempotency-key')).toMatch(/^[0-9a-f-]{36}$/)
  expect(sent(0).headers.get('idempotency-key')).not.toBe(sent(1).headers.get('idempotency-key'))
  expect(sent(2).headers.get('idempotency-key')).toBe('one-act-0001')
  expect(sent(0).init.body).toBe('{"a":1}')
  expect(sent(0).headers.get('content-type')).toBe('application/json')
})

test('a change says which version it saw, as a strong tag', async () => {
  vi.mocked(fetch).mockResolvedValueOnce(answer(200, { name: 'x' }))
  await patch('/api/customers/1', { name: 'y' }, { version: 7 })
  expect(sent().headers.get('if-match')).toBe('"7"')
  expect(sent().init.method).toBe('PATCH')
})

test('a photo goes as a form, without a content type of our own', async () => {
  vi.mocked(fetch).mockResolvedValueOnce(answer(201, { name: 'x' }))
  const photo = new Blob(['x'], { type: 'image/jpeg' })
  await post('/api/jobs/1/photos', { photo, caption: 'left bore' })
  const form = sent().init.body as FormData
  expect([...form.keys()]).toEqual(['caption', 'photo'])
  expect(form.get('caption')).toBe('left bore')
  expect(await (form.get('photo') as Blob).text()).toBe('x')
  expect(sent().headers.get('content-type')).toBeNull()
})

test('the address leaves out what is not asked and repeats a list', () => {
  expect(address('/api/jobs', { late: true, step: ['apart', 'together'], after: undefined, limit: 50 })).toBe(
    '/api/jobs?late=true&step=apart&step=together&limit=50',
  )
  expect(address('/api/jobs', {})).toBe('/api/jobs')
})

test('a problem document becomes a Problem with all it says', async () => {
  const errors = [{ pointer: '/name', code: 'too_small', detail: 'Write something here.' }]
  vi.mocked(fetch).mockResolvedValueOnce(
    answer(400, document('validation', { detail: 'One field needs another look.', instance: 'req-1', errors })),
  )
  const error = await post('/api/customers', {}).catch((caught: unknown) => caught)
  expect(error).toBeInstanceOf(Problem)
  expect(error).toMatchObject({ type: 'validation', status: 400, detail: 'One field needs another look.', instance: 'req-1', errors })
})

test('a problem with more in it than this page knows still reads', async () => {
  vi.mocked(fetch).mockResolvedValueOnce(answer(412, document('stale-version', { version: 9, later: 'x' })))
  await expect(patch('/api/customers/1', {}, { version: 7 })).rejects.toMatchObject({ type: 'stale-version', version: 9 })
})

test('a type this page does not know falls to the nearest it does', async () => {
  vi.mocked(fetch).mockResolvedValueOnce(answer(409, { type: '/problems/of-next-year', title: 'New', status: 409 }))
  await expect(get('/api/x')).rejects.toMatchObject({ type: 'conflict-state', status: 409, title: 'New' })
})

test.each([
  [502, 'overloaded'],
  [404, 'not-found'],
  [403, 'forbidden'],
  [418, 'conflict-state'],
] as const)('a %i that is no problem document becomes %s', async (status, type) => {
  vi.mocked(fetch).mockResolvedValueOnce(new Response('<html>proxy</html>', { status }))
  await expect(get('/api/x')).rejects.toMatchObject({ type, status })
})

test('told to slow down, it says for how long', async () => {
  vi.mocked(fetch).mockResolvedValueOnce(answer(429, document('rate-limited'), { 'retry-after': '31' }))
  const error = await get('/api/x').catch((caught: unknown) => caught)
  expect(error).toMatchObject({ retryAfterSeconds: 31 })
  expect(inWords(error)).toBe('That was too often. Try again in 31 seconds.')
})

test('the end of a session is announced, unless asked quietly or the sign-in itself was wrong', async () => {
  const heard = vi.fn()
  const stop = onSignedOut(heard)
  vi.mocked(fetch).mockImplementation(async () => answer(401, document('signed-out')))
  await expect(get('/api/session', { quietWhenSignedOut: true })).rejects.toMatchObject({ type: 'signed-out' })
  expect(heard).not.toHaveBeenCalled()
  vi.mocked(fetch).mockImplementationOnce(async () => answer(401, document('wrong-sign-in')))
  await expect(post('/api/session', {})).rejects.toMatchObject({ type: 'wrong-sign-in' })
  expect(heard).not.toHaveBeenCalled()
  await expect(get('/api/jobs')).rejects.toBeInstanceOf(Problem)
  expect(heard).toHaveBeenCalledTimes(1)
  stop()
  await expect(get('/api/jobs')).rejects.toBeInstanceOf(Problem)
  expect(heard).toHaveBeenCalledTimes(1)
})

test('no network is a class of its own', async () => {
  vi.mocked(fetch).mockRejectedValueOnce(new TypeError('Failed to fetch'))
  await expect(get('/api/x')).rejects.toBeInstanceOf(Unreachable)
})

function neverAnswers(): void {
  vi.mocked(fetch).mockImplementation(
    (_url, init) =>
      new Promise((_done, fail) => {
        init!.signal!.addEventListener('abort', () => fail(new DOMException('stopped', 'AbortError')))
      }),
  )
}

test('no answer in time is a class of its own', async () => {
  vi.useFakeTimers()
  neverAnswers()
  const asked = get('/api/x', { timeoutMs: 5000 }).catch((caught: unknown) => caught)
  await vi.advanceTimersByTimeAsync(4999)
  await vi.advanceTimersByTimeAsync(2)
  expect(await asked).toBeInstanceOf(TookTooLong)
})

test('called off by the page, it is neither slow nor unreachable', async () => {
  neverAnswers()
  const stop = new AbortController()
  const asked = get('/api/x', { signal: stop.signal }).catch((caught: unknown) => caught)
  stop.abort()
  expect(await asked).toMatchObject({ name: 'AbortError' })
})
