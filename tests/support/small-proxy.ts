/** A proxy as shops put before the book: speaks http or https to the browser, passes on what it is told to. */
import http from 'node:http'
import https from 'node:https'
import type { AddressInfo } from 'node:net'

export interface ProxyOptions {
  /** Speaks https with these. */
  tls?: { cert: string; key: string }
  /** What it does to the headers before it passes the request on. */
  headers?: (given: http.IncomingHttpHeaders, from: string) => http.OutgoingHttpHeaders
  /** A path in front that it takes off. */
  prefix?: string
}

export interface SmallProxy {
  address: string
  close(): Promise<void>
}

export async function startProxy(target: string, { tls, headers = (given) => given, prefix = '' }: ProxyOptions): Promise<SmallProxy> {
  const { hostname, port } = new URL(target)
  const pass: http.RequestListener = (request, response) => {
    const path = request.url ?? '/'
    if (!path.startsWith(prefix)) {
      response.writeHead(404).end('nothing of the book is here')
      return
    }
    const onward = http.request(
      {
        host: hostname,
        port,
        method: request.method,
        path: path.slice(prefix.length) || '/',
        headers: headers({ ...request.headers }, request.socket.remoteAddress ?? ''),
        agent: false,
      },
      (answer) => {
        response.writeHead(answer.statusCode ?? 502, answer.headers)
        answer.pipe(response)
      },
    )
    onward.once('error', () => response.destroy())
    response.once('close', () => onward.destroy())
    request.pipe(onward)
  }
  const server = tls === undefined ? http.createServer(pass) : https.createServer(tls, pass)
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port: own } = server.address() as AddressInfo
  return {
    address: `${tls === undefined ? 'http' : 'https'}://127.0.0.1:${own}`,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve())
        server.closeAllConnections()
      }),
  }
}

export interface Told {
  status: number
  headers: http.IncomingHttpHeaders
  text: string
  body: Record<string, unknown>
  /** Cookies that the answer sets, whole. */
  cookies: string[]
}

/** One request as a script or a browser sends it, over http or https with an authority of one's own. */
export function ask(
  url: string,
  { method = 'GET', headers = {}, body, ca }: { method?: string; headers?: Record<string, string>; body?: object; ca?: string } = {},
): Promise<Told> {
  const secure = url.startsWith('https')
  const sent = body === undefined ? undefined : JSON.stringify(body)
  const options = {
    method,
    agent: false,
    headers: {
      ...headers,
      ...(sent === undefined ? {} : { 'content-type': 'application/json', 'content-length': Buffer.byteLength(sent) }),
    },
    ...(ca === undefined ? {} : { ca }),
  }
  return new Promise((resolve, reject) => {
    const request = (secure ? https : http).request(url, options, (answer) => {
      const chunks: Buffer[] = []
      answer.on('data', (chunk: Buffer) => chunks.push(chunk))
      answer.once('end', () => {
        const text = Buffer.concat(chunks).toString()
        const isJson = String(answer.headers['content-type']).includes('json')
        resolve({
          status: answer.statusCode ?? 0,
          headers: answer.headers,
          text,
          body: isJson ? JSON.parse(text) : {},
          cookies: answer.headers['set-cookie'] ?? [],
        })
      })
    })
    request.once('error', reject)
    request.end(sent)
  })
}
