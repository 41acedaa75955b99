/** What the several layers of the database client call the same few faults. */

export type DatabaseFault = 'retry' | 'busy' | 'taken' | 'full' | 'other'

interface Shape {
  code?: unknown
  message?: unknown
  meta?: { code?: unknown; driverAdapterError?: unknown }
  cause?: { kind?: unknown; originalCode?: unknown; cause?: unknown }
}

const BY_CODE: Record<string, DatabaseFault> = {
  // serialization failure and deadlock: the whole transaction may be tried again
  '40001': 'retry',
  '40P01': 'retry',
  P2034: 'retry',
  // unique violation
  '23505': 'taken',
  P2002: 'taken',
  // lock and statement time-outs, no free connection, connection lost or refused, shutting down
  '55P03': 'busy',
  '57014': 'busy',
  P2028: 'busy',
  P2024: 'busy',
  P1001: 'busy',
  P1017: 'busy',
  '08006': 'busy',
  '57P01': 'busy',
  '57P03': 'busy',
  '53300': 'busy',
  ECONNREFUSED: 'busy',
  ECONNRESET: 'busy',
  '53100': 'full',
}

/** Sorts a fault of the database; undefined when it is none. */
export function databaseFault(error: unknown): DatabaseFault | undefined {
  for (let at = error as Shape | undefined, depth = 0; at !== undefined && at !== null && depth < 5; depth++) {
    if (at.cause?.kind === 'TransactionWriteConflict') return 'retry'
    for (const code of [at.cause?.originalCode, at.meta?.code, at.code]) {
      const found = typeof code === 'string' ? BY_CODE[code] : undefined
      if (found) return found
    }
    const message = typeof at.message === 'string' ? at.message : ''
    if (message.includes('timeout exceeded when trying to connect') || message.includes('Connection terminated')) return 'busy'
    at = (at.meta?.driverAdapterError ?? at.cause) as Shape | undefined
  }
  return undefined
}
