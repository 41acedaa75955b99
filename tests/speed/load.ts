/** Twenty callers, each over a connection of its own that asks again as soon as it is answered. */
import autocannon from 'autocannon'

export interface Asked {
  method: 'GET' | 'POST'
  path: string
  body?: object
  key?: string
}

export interface Round {
  /** Asked to come again in a moment: the book was busy. */
  turnedAway: number
  perSecond: number
  /** Of every answer, in milliseconds. */
  latencies: number[]
}

export interface Load {
  address: string
  /** Of the people who take turns at the connections. */
  cookies: readonly string[]
  connections: number
  /** What caller and turn ask; the same for both sides. */
  next: () => Asked
  /** Either for so many seconds or so many requests. */
  for: { seconds: number } | { requests: number }
  /** Told every body that was answered. */
  heard?: (body: string) => void
}

export async function put(load: Load): Promise<Round> {
  const latencies: number[] = []
  const wrong = new Map<number, string>()
  const started = performance.now()
  // The load says that it is done at its next whole second, which is no time that anybody was asked anything.
  let lastAt = started
  let asked = 0
  let turnedAway = 0
  await new Promise<void>((resolve, reject) => {
    const run = autocannon(
      {
        url: load.address,
        connections: load.connections,
        ...('seconds' in load.for ? { duration: load.for.seconds } : { amount: load.for.requests }),
        setupClient: (client) => {
          client.setHeaders({ 'sec-fetch-site': 'same-origin', 'content-type': 'application/json' })
        },
        requests: [
          {
            setupRequest: (request) => {
              const { method, path, body, key } = load.next()
              const { 'content-length': _of, 'idempotency-key': _last, ...headers } = (request.headers ?? {}) as Record<string, string>
              return {
                ...request,
                method,
                path,
                headers: {
                  ...headers,
                  cookie: load.cookies[asked++ % load.cookies.length],
                  ...(key === undefined ? {} : { 'idempotency-key': key }),
                },
                ...(body === undefined ? {} : { body: JSON.stringify(body) }),
              }
            },
            onResponse: (status, body) => {
              if (status === 503) turnedAway++
              else if (status >= 300) wrong.set(status, body)
              else load.heard?.(body)
            },
          },
        ],
      },
      (fault) => (fault ? reject(fault) : resolve()),
    )
    run.on('response', (_client, status, _bytes, milliseconds) => {
      if (status >= 300) return
      latencies.push(milliseconds)
      lastAt = performance.now()
    })
  })
  if (wrong.size > 0) throw new Error(`answered ${[...wrong].map(([status, body]) => `${status} ${body}`).join('; ')}`)
  return { turnedAway, perSecond: (latencies.length / (lastAt - started)) * 1000, latencies }
}

export function quantile(values: readonly number[], share: number): number {
  const sorted = [...values].sort((one, other) => one - other)
  return sorted[Math.min(sorted.length - 1, Math.ceil(share * sorted.length) - 1)] ?? Number.NaN
}
