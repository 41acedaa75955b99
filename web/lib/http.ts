import { ownVersion } from '#web/lib/book-version.ts'
import { newKey } from '#web/lib/id.ts'
import { NewerBook, NotUnderstood, problemFrom, TookTooLong, Unreachable } from '#web/lib/problem.ts'
import { announceSignedOut } from '#web/lib/signed-out.ts'
import { unattended } from '#web/lib/touched.ts'

export const FILE_TIMEOUT_MS = 120_000
const USUAL_TIMEOUT_MS = 20_000

type Query = Record<string, string | number | boolean | undefined | readonly string[]>

export interface Asking {
  query?: Query
  signal?: AbortSignal
  timeoutMs?: number
  /** A 401 here is an ordinary answer (who is signed in?), not the end of a session. */
  quietWhenSignedOut?: boolean
}

export interface Acting extends Asking {
  /** The act's own key; give the same one when trying again. Without it each call is a new act. */
  key?: string
  /** The version in the body that was read, where the act is done upon one; goes out as If-Match. */
  version?: number | undefined
}

export interface Changing extends Acting {
  /** Undefined only where the thing has none: a session, a draft. */
  version: number | undefined
}

interface Request extends Asking {
  method: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE'
  path: string
  body?: unknown
  headers: Record<string, string>
}

export function address(path: string, query: Query = {}): string {
  const parameters = new URLSearchParams()
  for (const [name, value] of Object.entries(query)) {
    if (value === undefined) continue
    if (Array.isArray(value)) for (const one of value) parameters.append(name, one)
    else parameters.append(name, String(value))
  }
  const written = parameters.toString()
  return written === '' ? path : `${path}?${written}`
}

function secondsToWait(response: Response): number | undefined {
  const seconds = Number(response.headers.get('retry-after') ?? '')
  return Number.isFinite(seconds) && seconds > 0 ? Math.ceil(seconds) : undefined
}

async function bodyOf(response: Response): Promise<unknown> {
  const text = await response.text()
  if (text === '') return undefined
  try {
    return JSON.parse(text)
  } catch {
    return text
  }
}

async function answerOf(request: Request): Promise<{ response: Response; body: unknown }> {
  const stop = new AbortController()
  const giveUp = () => stop.abort()
  let late = false
  const timer = setTimeout(() => {
    late = true
    stop.abort()
  }, request.timeoutMs ?? USUAL_TIMEOUT_MS)
  if (request.signal?.aborted) stop.abort()
  request.signal?.addEventListener('abort', giveUp)
  try {
    const response = await fetch(address(request.path, request.query), {
      method: request.method,
      headers: request.headers,
      credentials: 'same-origin',
      signal: stop.signal,
      ...(request.body === undefined ? {} : { body: request.body instanceof FormData ? request.body : JSON.stringify(request.body) }),
    })
    return { response, body: await bodyOf(response) }
  } catch (error) {
    if (late) throw new TookTooLong('no answer within the time allowed', { cause: error })
    if (request.signal?.aborted) throw error
    throw new Unreachable('no answer from the server', { cause: error })
  } finally {
    clearTimeout(timer)
    request.signal?.removeEventListener('abort', giveUp)
  }
}

/** The page carries the contract and the core that it was built with, and so does the book: its answers say which. */
function isOfAnotherVersion(response: Response): boolean {
  const theirs = response.headers.get('book-version')
  const own = ownVersion()
  return own !== undefined && theirs !== null && theirs !== own
}

/** The server answers what the contract lists, and its tests hold every answer to it: a page of the same version need not look again. */
async function send<Answer>(request: Request): Promise<Answer> {
  const { response, body } = await answerOf(request)
  if (!response.ok) {
    const problem = problemFrom(response.status, body, secondsToWait(response))
    if (problem.type === 'signed-out' && !request.quietWhenSignedOut) announceSignedOut()
    throw problem
  }
  // A page of the Wi-Fi's own, which also says 200, is no answer of the book: those are JSON, or nothing (204).
  if (response.status !== 204 && (typeof body !== 'object' || body === null))
    throw new NotUnderstood(`${request.method} ${request.path}: no answer of the book`)
  if (isOfAnotherVersion(response)) throw new NewerBook(`${request.method} ${request.path}: of another version than this page`, body)
  return body as Answer
}

function jsonHeaders(body: unknown, extra: Record<string, string> = {}): Record<string, string> {
  const kind: Record<string, string> = body === undefined || body instanceof FormData ? {} : { 'content-type': 'application/json' }
  return { accept: 'application/json, application/problem+json', ...kind, ...extra }
}

export function get<Answer>(path: string, asking: Asking = {}): Promise<Answer> {
  // What a page asks by itself while nobody touches it must not put off the end of an idle session.
  const headers = jsonHeaders(undefined, unattended() ? { unattended: 'yes' } : {})
  return send({ ...asking, method: 'GET', path, headers })
}

/** Whether something in it is a file, such as a photo: then it goes as a form. */
export function hasFile(body: unknown): body is Record<string, Blob | string> {
  return typeof body === 'object' && body !== null && Object.values(body).some((value) => value instanceof Blob)
}

function formOf(fields: Record<string, Blob | string>): FormData {
  const form = new FormData()
  // The texts first: the book reads the parts as they come, and takes the file last.
  for (const [name, value] of Object.entries(fields)) if (!(value instanceof Blob)) form.append(name, value)
  for (const [name, value] of Object.entries(fields)) if (value instanceof Blob) form.append(name, value)
  return form
}

/** Records or acts. */
export function post<Answer>(path: string, given: unknown, acting: Acting = {}): Promise<Answer> {
  const extra: Record<string, string> = { 'idempotency-key': acting.key ?? newKey() }
  if (acting.version !== undefined) extra['if-match'] = `"${acting.version}"`
  const body = hasFile(given) ? formOf(given) : given
  return send({
    ...(body instanceof FormData ? { timeoutMs: FILE_TIMEOUT_MS } : {}),
    ...acting,
    method: 'POST',
    path,
    body,
    headers: jsonHeaders(body, extra),
  })
}

function change<Answer>(method: 'PUT' | 'PATCH' | 'DELETE', path: string, body: unknown, changing: Changing): Promise<Answer> {
  const extra: Record<string, string> = {}
  if (changing.version !== undefined) extra['if-match'] = `"${changing.version}"`
  if (changing.key !== undefined) extra['idempotency-key'] = changing.key
  return send({ ...changing, method, path, body, headers: jsonHeaders(body, extra) })
}

export function put<Answer>(path: string, body: unknown, changing: Changing): Promise<Answer> {
  return change('PUT', path, body, changing)
}

export function patch<Answer>(path: string, body: unknown, changing: Changing): Promise<Answer> {
  return change('PATCH', path, body, changing)
}

/** DELETE, named in full because `delete` is a word of the language. */
export function remove(path: string, changing: Changing): Promise<void> {
  return change('DELETE', path, undefined, changing)
}
