/**
 * Live updates (server-sent events, WHATWG HTML §9.2): one reader of the audit chain a server, and a stream for every
 * browser that is signed in. The database's NOTIFY only wakes the reader; what is told is read from the table, in the
 * order of the commits, so that a lost wake-up costs seconds and never an event.
 */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify'
import { hears, type LiveEnd, type LiveNews } from '#contract/live.ts'
import type { Role } from '#contract/people.ts'
import { type Listener, lastSeq, listen, newsAfter, rolesOf } from '#server/features/live/store.ts'
import { sessionLimits } from '#server/features/settings/store.ts'
import { Problem } from './errors.ts'

export const LIVE = {
  /** A line every so often, so that proxies keep the stream and the browser notices when it is dead. */
  beatMs: 15_000,
  /** Sessions and roles are looked at again, and the table is read whether or not a wake-up came. */
  checkMs: 3_000,
  /** Events that a browser coming back is told one by one; beyond that it asks for everything again. */
  missed: 500,
  /** Events held in memory for the streams that are open. */
  held: 1_000,
  /** Bytes waiting for one reader before it is dropped. */
  waitingBytes: 64 * 1024,
  streams: 500,
  streamsOfASession: 12,
} as const

declare module 'fastify' {
  interface FastifyInstance {
    live: {
      /** Answers this request with the stream; it stays open. */
      open(request: FastifyRequest, reply: FastifyReply, after: number | undefined): Promise<void>
      /** Streams open just now. */
      count(): number
    }
  }
}

interface Stream {
  raw: FastifyReply['raw']
  role: Role
  session: Uint8Array
  hash: string
  /** Number of the last event told; undefined until it is known where this stream begins. */
  told: number | undefined
  /** Beats in a row at which the last one still waited to be read. */
  stuck: number
}

export function installLive(app: FastifyInstance): void {
  const streams = new Set<Stream>()
  /** The newest events, without a gap, up to `head`. */
  let held: LiveNews[] = []
  let head: number | undefined
  let beginning: Promise<void> | undefined
  let listener: Listener | undefined
  let timers: NodeJS.Timeout[] = []
  let reading = false
  let woken = false

  function begin(): Promise<void> {
    beginning ??= (async () => {
      listener ??= listen(app.db, () => void readOn())
      await listener.begun
      head = await lastSeq(app.db)
      timers = [setInterval(beat, LIVE.beatMs), setInterval(() => void look(), LIVE.checkMs)]
    })().catch((error: unknown) => {
      beginning = undefined
      throw error
    })
    return beginning
  }

  /** Without a stream nothing is read; the connection stays for the next one. */
  function rest(): void {
    if (streams.size > 0) return
    for (const timer of timers) clearInterval(timer)
    timers = []
    held = []
    head = undefined
    beginning = undefined
  }

  async function readOn(): Promise<void> {
    if (reading) {
      woken = true
      return
    }
    reading = true
    try {
      do {
        woken = false
        if (head === undefined) return
        const rows = await newsAfter(app.db, head, LIVE.missed)
        if (head === undefined || rows.length === 0) continue
        held = [...held, ...rows].slice(-LIVE.held)
        head = rows.at(-1)?.seq ?? head
        woken ||= rows.length === LIVE.missed
        for (const stream of streams) tell(stream)
      } while (woken)
    } catch (error) {
      app.log.warn({ err: error }, 'the live stream could not read the book; it tries again')
    } finally {
      reading = false
    }
  }

  /** Tells a stream what it has not heard yet. */
  function tell(stream: Stream): void {
    if (stream.told === undefined || head === undefined || stream.told >= head) return
    const { told } = stream
    const from = held[0]?.seq
    if (from === undefined || from > told + 1) tellAll(stream)
    else {
      tellRows(
        stream,
        held.filter((row) => row.seq > told),
      )
    }
  }

  function tellRows(stream: Stream, rows: readonly LiveNews[]): void {
    const said = rows.filter((row) => hears(stream.role, row.entity)).map((row) => `id: ${row.seq}\ndata: ${JSON.stringify(row)}\n\n`)
    stream.told = rows.at(-1)?.seq ?? stream.told
    if (said.length > 0) write(stream, said.join(''))
  }

  function tellAll(stream: Stream): void {
    stream.told = head
    write(stream, `id: ${head}\nevent: all\ndata: {"seq":${head}}\n\n`)
  }

  function write(stream: Stream, text: string): void {
    // Somebody who never reads would fill the memory of the server.
    if (stream.raw.writableLength > LIVE.waitingBytes) drop(stream)
    else stream.raw.write(text)
  }

  function drop(stream: Stream): void {
    streams.delete(stream)
    stream.raw.destroy()
    rest()
  }

  function end(stream: Stream, why: LiveEnd): void {
    streams.delete(stream)
    stream.raw.end(`event: end\ndata: {"why":"${why}"}\n\n`)
    rest()
  }

  function beat(): void {
    for (const stream of streams) {
      stream.stuck = stream.raw.writableLength > 0 ? stream.stuck + 1 : 0
      if (stream.stuck >= 2) drop(stream)
      else write(stream, `: still here\nevent: beat\ndata: {"seq":${head ?? 0}}\n\n`)
    }
  }

  /** Whoever was signed out, barred or given another role hears no more. */
  async function look(): Promise<void> {
    try {
      void readOn()
      const looked = [...streams]
      const limits = await sessionLimits(app.db)
      const sessions = looked.map((stream) => stream.session)
      const roles = await rolesOf(app.db, sessions, app.clock(), limits)
      // Those that were opened meanwhile were not asked about.
      for (const stream of looked) {
        const role = roles.get(stream.hash)
        if (streams.has(stream) && role !== stream.role) end(stream, role === undefined ? 'signed-out' : 'changed')
      }
    } catch (error) {
      app.log.warn({ err: error }, 'the sessions of the live streams could not be looked at; it tries again')
    }
  }

  /** Where a browser that comes back goes on; anything that cannot be told event by event is told as `all`. */
  async function resume(stream: Stream, after: number): Promise<void> {
    const rows = await newsAfter(app.db, after, LIVE.missed + 1)
    const whole = rows.length <= LIVE.missed && (rows.length === 0 ? after === head : rows[0]?.seq === after + 1)
    if (!whole) tellAll(stream)
    else {
      stream.told = after
      tellRows(stream, rows)
    }
    tell(stream)
  }

  async function open(request: FastifyRequest, reply: FastifyReply, after: number | undefined): Promise<void> {
    const caller = request.caller()
    const hash = Buffer.from(caller.sessionHash).toString('hex')
    const own = [...streams].filter((stream) => stream.hash === hash).length
    if (own >= LIVE.streamsOfASession) throw new Problem('rate-limited', 'This browser holds too many live streams. Close one.', {}, 15)
    if (streams.size >= LIVE.streams) throw new Problem('overloaded', 'This server holds as many live streams as it can.', {}, 30)
    const { raw } = reply
    const stream: Stream = { raw, role: caller.role, session: caller.sessionHash, hash, told: undefined, stuck: 0 }
    // Counted from here on, so that nothing is put to rest between the reading of the head and the first word.
    streams.add(stream)
    raw.once('close', () => {
      streams.delete(stream)
      rest()
    })
    try {
      await begin()
    } catch (error) {
      streams.delete(stream)
      rest()
      throw error
    }
    if (!streams.has(stream)) throw new Problem('overloaded', 'The server is closing.', {}, 2)
    reply.hijack()
    // Quiet for minutes is how a stream lives; the time-out of the socket is for those who send nothing.
    request.raw.socket.setTimeout(0)
    raw.writeHead(200, {
      ...(reply.getHeaders() as Record<string, string>),
      'content-type': 'text/event-stream; charset=utf-8',
      'cache-control': 'no-store',
      'x-accel-buffering': 'no',
    })
    write(stream, `retry: 2000\n${after === undefined ? `id: ${head}\n` : ''}event: here\ndata: {"seq":${head}}\n\n`)
    if (after === undefined) stream.told = head
    else await resume(stream, after).catch(() => drop(stream))
  }

  app.decorate('live', { open, count: () => streams.size })
  // Before the server waits for open answers: a stream is one that never ends by itself.
  app.addHook('preClose', async () => {
    for (const stream of [...streams]) if (stream.raw.headersSent) end(stream, 'closing')
    streams.clear()
    rest()
  })
  app.addHook('onClose', async () => {
    await listener?.close()
    listener = undefined
  })
}
