/** A network that can be lost in the ways a workshop loses it, between the browser and the book. */
import http from 'node:http'
import type { AddressInfo } from 'node:net'

/**
 * whole: all passes. gone: nothing is answered to, connections break at once. silent: connections stay open and nothing comes.
 * answers-lost: a POST reaches the book, its answer never comes back. flaky: three in ten break, before or after the book.
 */
export type Network = 'whole' | 'gone' | 'silent' | 'answers-lost' | 'flaky'

export interface CuttingProxy {
  address: string
  network: Network
  close(): Promise<void>
}

/** `random` from 0 to 1 decides which requests of a flaky network break. */
export async function startCuttingProxy(target: string, random: () => number): Promise<CuttingProxy> {
  const { hostname, port } = new URL(target)
  const open = new Set<http.ServerResponse>()
  const proxy: CuttingProxy = { address: '', network: 'whole', close: async () => {} }
  const server = http.createServer((request, response) => {
    const { network } = proxy
    const isBroken = network === 'flaky' && request.url?.startsWith('/api') === true && random() < 0.3
    const isLost = (network === 'answers-lost' && request.method === 'POST') || (isBroken && random() < 0.5)
    if (network === 'gone' || (isBroken && !isLost)) {
      response.destroy()
      return
    }
    open.add(response)
    response.once('close', () => open.delete(response))
    if (network === 'silent') return
    const onward = http.request(
      { host: hostname, port, method: request.method, path: request.url, headers: request.headers, agent: false },
      (answer) => {
        if (isLost) {
          // The book has done it and said so; the browser never hears.
          answer.resume()
          answer.once('end', () => response.destroy())
          return
        }
        response.writeHead(answer.statusCode ?? 502, answer.headers)
        answer.pipe(response)
      },
    )
    onward.once('error', () => response.destroy())
    response.once('close', () => onward.destroy())
    request.pipe(onward)
  })
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve))
  const { port: own } = server.address() as AddressInfo
  let now: Network = 'whole'
  return Object.defineProperty(
    Object.assign(proxy, {
      address: `http://127.0.0.1:${own}`,
      close: () =>
        new Promise<void>((resolve) => {
          server.close(() => resolve())
          server.closeAllConnections()
        }),
    }),
    'network',
    {
      get: () => now,
      set: (next: Network) => {
        now = next
        // What stands open, the live stream too, breaks with the network.
        if (next !== 'whole') for (const response of open) response.destroy()
      },
    },
  )
}
