/** A sheet is some hundred kilobytes; what is far larger is no sheet of ours and need not be read. */
const SHEET_MOST_BYTES = 20 * 1024 * 1024

export type FileHash = { ok: true; sha256: string } | { ok: false; because: 'no-sums-here' | 'too-large' }

/** Where a page came by plain http the browser gives no sums (crypto.subtle), and a file cannot be compared here. */
export function canHash(): boolean {
  return typeof crypto === 'object' && typeof crypto.subtle?.digest === 'function'
}

/** The SHA-256 (FIPS 180-4) of a file, worked out in this browser: the file itself goes nowhere. */
export async function hashFile(file: Blob): Promise<FileHash> {
  if (!canHash()) return { ok: false, because: 'no-sums-here' }
  if (file.size > SHEET_MOST_BYTES) return { ok: false, because: 'too-large' }
  const digest = await crypto.subtle.digest('SHA-256', await file.arrayBuffer())
  return { ok: true, sha256: Array.from(new Uint8Array(digest), (byte) => byte.toString(16).padStart(2, '0')).join('') }
}
