import { createHash } from 'node:crypto'
import { type AuditLink, type ChainFault, chainStart, faultOf, same } from '#core/audit-chain.ts'

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
  let before = { seq: 0, hash: chainStart(digest, utf8) }
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

const hex = (bytes: Uint8Array) => Buffer.from(bytes).toString('hex')
