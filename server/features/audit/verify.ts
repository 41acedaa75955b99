import { createHash } from 'node:crypto'
import type { AuditCheck } from '#contract/audit.ts'
import { type AuditLink, type ChainFault, chainStart, faultOf, same } from '#core/audit-chain.ts'
import type { Db } from '#server/plugins/database.ts'
import { auditPiece, chainLength, hashAt } from './store.ts'

export interface ChainReport {
  rows: number
  /** Hex of the last hash; to be compared with one written down elsewhere, since a cut tail leaves no other trace. */
  head: string
  fault: ChainFault | null
}

const digest = (bytes: Uint8Array) => createHash('sha256').update(bytes).digest()
const utf8 = (text: string) => new TextEncoder().encode(text)

/** Walks the chain and names the first row that does not hold. An anchor is a head noted earlier, as certificates print it. */
export async function verifyChain(links: AsyncIterable<AuditLink>, anchor?: string): Promise<ChainReport> {
  let before: Standing = { seq: 0, hash: chainStart(digest, utf8) }
  let anchored = anchor === undefined
  for await (const link of links) {
    const fault = faultOf(link, before, digest, utf8)
    if (fault) return { rows: link.seq, head: hex(before.hash), fault }
    before = { seq: link.seq, hash: link.hash }
    if (anchor !== undefined && same(link.hash, Buffer.from(anchor, 'hex'))) anchored = true
  }
  const fault = anchored
    ? null
    : { seq: before.seq + 1, says: 'the head noted earlier is not in the chain: its tail was cut or it was written anew' }
  return { rows: before.seq, head: hex(before.hash), fault }
}

interface Standing {
  seq: number
  hash: Uint8Array
}

/** Rows worked again in one request: a second or less on a small machine. */
const PIECE = 5_000

/** One bounded piece of the chain, so that a book of many years is checked a request at a time; null where there is no such row. */
export async function checkPiece(pool: Db['pool'], after: number): Promise<AuditCheck | null> {
  const hash = after === 0 ? chainStart(digest, utf8) : await hashAt(pool, after)
  if (hash === null) return null
  const [links, rows] = [await auditPiece(pool, after, PIECE), await chainLength(pool)]
  let before: Standing = { seq: after, hash }
  for (const link of links) {
    const fault = faultOf(link, before, digest, utf8)
    if (fault) return { after, upTo: before.seq, rows, head: hex(before.hash), fault, next: null }
    before = { seq: link.seq, hash: link.hash }
  }
  return { after, upTo: before.seq, rows, head: hex(before.hash), fault: null, next: links.length < PIECE ? null : before.seq }
}

const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex')
