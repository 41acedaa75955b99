/**
 * A backup is a plain tar (POSIX 1003.1-1988 ustar), so that it can be opened without this program. In it, in this order:
 *
 *   READ-ME.txt                   what this is and how to put it back; its first line names the form
 *   tables/<table>/0001.copy.gz   rows in COPY's text form, gzipped in parts of about 4 MiB; joined they are the table
 *   files/<kind>/ab/<sha256>.jpg  photos and papers as they lie in the folder of files
 *   manifest.json                 versions, and of every table, sequence and file what it must be (manifest.ts)
 *   seal.sha256                   SHA-256 of every byte before this entry
 *
 * The seal and the two empty blocks that end a tar are the last 2048 bytes and follow from the digest alone: a file that
 * was cut, padded or altered anywhere does not end so.
 */
import { createHash } from 'node:crypto'

const BLOCK = 512
export const SEAL_BYTES = 2048
const SEAL_NAME = 'seal.sha256'

export interface Sink {
  write(bytes: Uint8Array): Promise<void>
}

export interface TarWriter {
  add(name: string, content: Uint8Array): Promise<void>
  /** Of a size known before; refuses a source that turns out longer or shorter. */
  addStream(name: string, bytes: number, content: AsyncIterable<Uint8Array>): Promise<void>
  /** Ends the file. */
  seal(): Promise<void>
  written(): number
}

export function tarWriter(sink: Sink, at: Date): TarWriter {
  const hash = createHash('sha256')
  let written = 0
  const put = async (bytes: Uint8Array) => {
    hash.update(bytes)
    written += bytes.length
    await sink.write(bytes)
  }
  const addStream: TarWriter['addStream'] = async (name, bytes, content) => {
    await put(headerOf(name, bytes, at))
    let got = 0
    for await (const chunk of content) {
      got += chunk.length
      if (got > bytes) break
      await put(chunk)
    }
    if (got !== bytes) throw new RangeError(`${name} changed its size while it was written`)
    await put(new Uint8Array(padding(bytes)))
  }
  return {
    addStream,
    add: (name, content) => addStream(name, content.length, once(content)),
    async seal() {
      const end = sealOf(hash.digest('hex'))
      written += end.length
      await sink.write(end)
    },
    written: () => written,
  }
}

async function* once(content: Uint8Array): AsyncGenerator<Uint8Array> {
  yield content
}

/** The last bytes of a file whose bytes before have this digest. */
export function sealOf(digest: string): Buffer {
  const line = Buffer.from(`${digest}\n`)
  return Buffer.concat([headerOf(SEAL_NAME, line.length, new Date(0)), line], SEAL_BYTES)
}

/** Whether these last bytes of a file at least look like a seal; one that was cut short ends in something else. */
export function looksSealed(end: Buffer): boolean {
  return end.length === SEAL_BYTES && end.toString('latin1', 0, SEAL_NAME.length) === SEAL_NAME
}

const padding = (bytes: number) => (BLOCK - (bytes % BLOCK)) % BLOCK

function headerOf(name: string, bytes: number, at: Date): Buffer {
  if (Buffer.byteLength(name) > 100) throw new RangeError(`${name} is too long a name for a tar`)
  const header = Buffer.alloc(BLOCK)
  const octal = (value: number, length: number) => `${value.toString(8).padStart(length - 1, '0')}\0`
  header.write(name, 0)
  header.write(octal(0o600, 8), 100)
  header.write(octal(0, 8), 108)
  header.write(octal(0, 8), 116)
  header.write(octal(bytes, 12), 124)
  header.write(octal(Math.floor(at.getTime() / 1000), 12), 136)
  header.write('        0', 148)
  header.write('ustar\x0000', 257)
  header.write(octal(sumOf(header), 7), 148)
  return header
}

/** Sum of the bytes of a header, its own place counted as blanks. */
function sumOf(header: Buffer): number {
  return header.reduce((sum, byte, at) => sum + (at >= 148 && at < 156 ? 0x20 : byte), 0)
}

export interface Entry {
  name: string
  bytes: number
  /** To be read once, before the next entry; what is left of it is passed over. */
  content: AsyncGenerator<Buffer>
}

/** Reads so many bytes at a place of a file; fewer only at its end. */
export type ReadAt = (at: number, bytes: number) => Promise<Buffer>

/** A tar that is not well formed. */
export class TarFault extends Error {
  override name = 'TarFault'
}

const CHUNK = 256 * 1024

/** The entries before the seal, in order. `seen` gets every byte of them once, in order. */
export async function* entriesOf(read: ReadAt, end: number, seen: (bytes: Buffer) => void = () => {}): AsyncGenerator<Entry> {
  let at = 0
  const take = async (bytes: number) => {
    const taken = await read(at, bytes)
    if (taken.length !== bytes) throw new TarFault('it ends early')
    at += bytes
    seen(taken)
    return taken
  }
  while (at < end) {
    const header = await take(BLOCK)
    const name = header.toString('utf8', 0, 100).replace(/\0.*$/s, '')
    const bytes = Number.parseInt(header.toString('latin1', 124, 136), 8)
    const sum = Number.parseInt(header.toString('latin1', 148, 156), 8)
    if (sum !== sumOf(header) || !Number.isSafeInteger(bytes) || bytes < 0 || at + bytes + padding(bytes) > end)
      throw new TarFault(`at byte ${at - BLOCK} there is no entry`)
    let left = bytes
    const content = (async function* () {
      while (left > 0) {
        const wanted = Math.min(left, CHUNK)
        left -= wanted
        yield await take(wanted)
      }
    })()
    yield { name, bytes, content }
    while (left > 0) {
      const wanted = Math.min(left, CHUNK)
      left -= wanted
      await take(wanted)
    }
    await take(padding(bytes))
  }
}

/** The whole content of an entry, for those that are small by their nature. */
export async function whole({ content }: Entry): Promise<Buffer> {
  const chunks: Buffer[] = []
  for await (const chunk of content) chunks.push(chunk)
  return Buffer.concat(chunks)
}
