import { type OutboxNew, type OutboxRecord, outboxRecord } from '#web/lib/outbox/record.ts'

/** Where records lie. `add` is done when the record is on the tablet, not before. */
export interface OutboxStore {
  add(record: OutboxNew): Promise<OutboxRecord>
  all(): Promise<OutboxRecord[]>
  put(record: OutboxRecord): Promise<void>
  remove(seq: number): Promise<void>
}

const DATABASE = 'throwbook-outbox'
const RECORDS = 'records'

function open(): Promise<IDBDatabase> {
  return new Promise((resolve, reject) => {
    const asked = indexedDB.open(DATABASE, 1)
    asked.onupgradeneeded = () => asked.result.createObjectStore(RECORDS, { keyPath: 'seq', autoIncrement: true })
    asked.onsuccess = () => resolve(asked.result)
    asked.onerror = () => reject(asked.error ?? new Error('the tablet refused its storage'))
    asked.onblocked = () => reject(new Error('another page holds an older storage open'))
  })
}

function within<Answer>(
  database: IDBDatabase,
  mode: IDBTransactionMode,
  work: (records: IDBObjectStore) => IDBRequest<Answer>,
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    // Strict: said to be saved means written to the disk, so that a tablet that loses its battery keeps it.
    const transaction = database.transaction(RECORDS, mode, { durability: mode === 'readwrite' ? 'strict' : 'default' })
    const asked = work(transaction.objectStore(RECORDS))
    transaction.oncomplete = () => resolve(asked.result)
    const refuse = () => reject(transaction.error ?? asked.error ?? new Error('the tablet refused its storage'))
    transaction.onerror = refuse
    transaction.onabort = refuse
  })
}

/** Records in the tablet's own database; undefined where the browser has none. */
export function tabletStore(): OutboxStore | undefined {
  if (typeof indexedDB === 'undefined') return undefined
  let opened: Promise<IDBDatabase> | undefined
  const database = () => {
    opened ??= open().then((found) => {
      // A newer page wants to change the storage, or the browser took it away: the next ask opens it anew.
      const letGo = () => {
        found.close()
        opened = undefined
      }
      found.onversionchange = letGo
      found.onclose = letGo
      return found
    })
    opened.catch(() => {
      opened = undefined
    })
    return opened
  }
  return {
    async add(record) {
      const seq = await within(await database(), 'readwrite', (records) => records.add(record))
      return { ...record, seq: Number(seq) }
    },
    async all() {
      const found = await within<unknown[]>(await database(), 'readonly', (records) => records.getAll())
      // What cannot be read here is left lying for a page that can.
      return found.filter(outboxRecord)
    },
    async put(record) {
      await within(await database(), 'readwrite', (records) => records.put(record))
    },
    async remove(seq) {
      await within(await database(), 'readwrite', (records) => records.delete(seq))
    },
  }
}
