/** Listens to the live stream of a service that listens, as a browser would, without a browser. */
import http from 'node:http'
import https from 'node:https'

export interface Heard {
  event: string
  id: number | undefined
  data: { seq?: number; entity?: string; id?: string; jobId?: string; why?: string }
}

export interface LiveEars {
  status: number
  headers: http.IncomingHttpHeaders
  heard: Heard[]
  /** Everything that came over the wire. */
  text: () => string
  /** The first event that fits, among those heard and those to come. */
  until(fits: (one: Heard) => boolean, withinMs?: number): Promise<Heard>
  /** When the server has ended the stream. */
  ended: Promise<void>
  close(): void
}

export interface LiveAsked {
  cookie?: string
  lastEventId?: number
  query?: string
}

export function hearLive(address: string, { cookie, lastEventId, query = '' }: LiveAsked): Promise<LiveEars> {
  const headers: Record<string, string> = { accept: 'text/event-stream' }
  if (cookie !== undefined) headers.cookie = cookie
  if (lastEventId !== undefined) headers['last-event-id'] = String(lastEventId)
  return new Promise((resolve, reject) => {
    const request = (address.startsWith('https') ? https : http).get(`${address}/api/live${query}`, { headers, agent: false }, (answer) =>
      resolve(earsOn(answer, () => request.destroy())),
    )
    request.once('error', reject)
  })
}

function earsOn(answer: http.IncomingMessage, close: () => void): LiveEars {
  const heard: Heard[] = []
  const waiting = new Set<() => void>()
  let text = ''
  let rest = ''
  answer.setEncoding('utf8')
  answer.on('data', (chunk: string) => {
    text += chunk
    rest += chunk
    const blocks = rest.split('\n\n')
    rest = blocks.pop() ?? ''
    heard.push(...blocks.flatMap(eventOf))
    for (const look of waiting) look()
  })
  const ended = new Promise<void>((done) => {
    answer.once('close', done)
    answer.once('error', () => done())
  })
  return {
    status: answer.statusCode ?? 0,
    headers: answer.headers,
    heard,
    text: () => text,
    ended,
    close,
    until: (fits, withinMs = 5_000) =>
      new Promise((resolve, reject) => {
        const late = setTimeout(() => {
          waiting.delete(look)
          reject(new Error(`not heard within ${withinMs} ms; heard ${JSON.stringify(heard)}`))
        }, withinMs)
        const look = () => {
          const found = heard.find(fits)
          if (found === undefined) return
          clearTimeout(late)
          waiting.delete(look)
          resolve(found)
        }
        waiting.add(look)
        look()
      }),
  }
}

function eventOf(block: string): Heard[] {
  const fields = new Map(
    block
      .split('\n')
      .filter((row) => !row.startsWith(':'))
      .map((row) => [row.slice(0, row.indexOf(':')), row.slice(row.indexOf(':') + 1).trim()]),
  )
  const data = fields.get('data')
  if (data === undefined) return []
  return [{ event: fields.get('event') ?? 'message', id: fields.has('id') ? Number(fields.get('id')) : undefined, data: JSON.parse(data) }]
}
