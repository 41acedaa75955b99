/** How the seed writes into the book: the commands of the screens, in the order of the shop's days, on a connection of its own. */
import { AsyncLocalStorage } from 'node:async_hooks'
import pg from 'pg'
import type { Settings } from '#contract/settings.ts'
import { Prisma, type PrismaClient } from '#prisma/client/client.ts'
import { clientsOn } from '#prisma/one-connection.ts'
import { type Act, type ActOptions, type AuditLine, actWithin, type Caller, chainUp, type HistoryLine } from '#server/plugins/act.ts'
import { ask, type Db, inTransaction, type Tx } from '#server/plugins/database.ts'
import type { Chance } from './chance.ts'

/** Something that somebody of the shop did at a moment (milliseconds since 1970). */
export interface Deed {
  at: number
  by: Caller
  run: (act: Act) => Promise<unknown>
  /** What it is about, where it is about one job or one clock alone; a deed without waits for all before it. */
  lane?: string
}

/** Ids as the commands would make them (UUID version 7, RFC 9562), of a given moment and of seeded chance. */
export function idsOf(chance: Chance): (at: number) => string {
  let last = 0
  let count = 0
  return (at) => {
    count = at === last ? count + 1 : 0
    last = at
    const tail = [...chance.bytes(8)].map((byte) => byte.toString(16).padStart(2, '0')).join('')
    const variant = '89ab'.charAt(Number.parseInt(tail.charAt(0), 16) % 4)
    const time = at.toString(16).padStart(12, '0')
    return `${time.slice(0, 8)}-${time.slice(8)}-7${count.toString(16).padStart(3, '0')}-${variant}${tail.slice(1, 4)}-${tail.slice(4)}`
  }
}

/** Rows whose commands let the book make the id; with seeded ids in them the same seed makes the same book. */
const OWN_ID = [
  'Comeback',
  'Crank',
  'Customer',
  'Engine',
  'JobEvent',
  'JobPass',
  'JobStep',
  'JobWait',
  'KitFitted',
  'KitLot',
  'KitModel',
  'Payment',
  'PublicLink',
  'Quote',
]
/** Rows that the book itself stamps with the time of day; here it is the time of the act. */
const STAMPED: Readonly<Record<string, string>> = { Crank: 'createdAt', Customer: 'createdAt', Engine: 'createdAt', Setting: 'changedAt' }

/**
 * Nobody waits for a commit of the filling, so it need not wait for the disk: a filling that is cut off is thrown away as a
 * whole. The statements are few and come by the thousand: planned once, by the indexes, while the tables are still empty.
 */
const SETTINGS = ['synchronous_commit=off', 'plan_cache_mode=force_generic_plan', 'enable_seqscan=off', 'jit=off']

export interface SeedBook {
  /** Does deeds in their order, in one transaction. Lines of history and of the audit chain go in together, after the last. */
  perform(deeds: readonly Deed[]): Promise<void>
  close(): Promise<void>
}

/** What one deed writes beside its rows, and where its ids come from. */
interface Writing {
  at: number
  newId: (at: number) => string
  history: HistoryLine[]
  audit: AuditLine[]
}

/** The book with seeded ids wherever a command brings none of its own; shop: its settings, once they stand. */
export function seedBookOf(db: Db, chance: Chance, shop: Settings): SeedBook {
  const options = [db.pool.options.options ?? '', ...SETTINGS.map((setting) => `-c ${setting}`)].join(' ')
  // Statements of several deeds may be on their way at once, see inLanes.
  const pool = new pg.Pool({ ...db.pool.options, max: 1, pipeline: true, options } as pg.PoolConfig)
  const writing = new AsyncLocalStorage<Writing>()
  const over = clientsOn(pool)
  let client: PrismaClient | undefined
  const own: Db = {
    ...db,
    pool,
    over: (connection) => {
      client ??= completing(over(connection), () => writing.getStore()!)
      return client
    },
  }
  let deedsDone = 0
  return {
    async perform(deeds) {
      await inTransaction(own, async (tx) => {
        const writings = deeds.map(({ at }): Writing => {
          deedsDone += 1
          return { at, newId: idsOf(chance.of(String(deedsDone))), history: [], audit: [] }
        })
        await inLanes(deeds, ({ by, run }, index) => {
          const mine = writings[index]!
          return writing.run(mine, () => run(actWithin(tx, optionsOf({ ...by, shop }, mine), mine.audit)))
        })
        await writeHistory(
          tx,
          writings.flatMap(({ history }) => history),
        )
        await chainUp(
          tx,
          writings.flatMap(({ audit }) => audit),
        )
      })
    },
    close: () => pool.end(),
  }
}

/** Prisma's client, with the ids and times of the deed in rows that have none, and each instrument read once. */
function completing(client: PrismaClient, writing: () => Writing): PrismaClient {
  const complete = (model: string, row: Record<string, unknown>) => {
    const { at, newId } = writing()
    if (OWN_ID.includes(model)) row.id ??= newId(at)
    const stamp = STAMPED[model]
    if (stamp !== undefined) row[stamp] ??= new Date(at)
  }
  // Nobody else writes in this book, so what was read of an instrument stands until the filling itself changes one.
  const instruments = new Map<string, Promise<unknown>>()
  const forgetting = <Args, Answer>({ args, query }: { args: Args; query: (args: Args) => Promise<Answer> }) => {
    instruments.clear()
    return query(args)
  }
  return client.$extends({
    query: {
      $allModels: {
        create({ model, args, query }) {
          complete(model, args.data as Record<string, unknown>)
          return query(args)
        },
        createMany({ model, args, query }) {
          for (const row of [args.data].flat()) complete(model, row as Record<string, unknown>)
          return query(args)
        },
      },
      instrument: {
        updateMany: forgetting,
        findUnique({ args, query }) {
          const asked = JSON.stringify(args)
          const known = instruments.get(asked) ?? query(args)
          instruments.set(asked, known)
          return known as ReturnType<typeof query>
        },
      },
    },
  }) as unknown as PrismaClient
}

async function writeHistory(tx: Tx, lines: readonly HistoryLine[]): Promise<void> {
  await ask(
    tx,
    Prisma.sql`INSERT INTO job_event (id, job_id, kind, says, data, person_id, occurred_at, recorded_at)
      SELECT id, "jobId", kind, says, data::jsonb, "personId", "occurredAt", "recordedAt" FROM json_to_recordset(${JSON.stringify(lines)}::json)
        AS line (id uuid, "jobId" uuid, kind text, says text, data text, "personId" uuid, "occurredAt" timestamptz, "recordedAt" timestamptz)`,
  )
}

/** Ids of its own, and lines of history that wait for the last. */
function optionsOf(by: Caller, { at, newId, history }: Writing): ActOptions {
  return {
    by,
    now: new Date(at),
    newId: () => newId(at),
    history: async (line) => {
      history.push(line)
      return 0
    },
  }
}

/**
 * Deeds about different jobs know nothing of each other: while the database works on one, the next is made ready. Those
 * about one thing go one after the other, and one that is about more waits for all before it, and all after wait for it; so
 * that the book comes out the same whichever is done first.
 */
async function inLanes(deeds: readonly Deed[], work: (deed: Deed, index: number) => Promise<unknown>): Promise<void> {
  const lanes = new Map<string, Promise<void>>()
  const faults: unknown[] = []
  const through = async () => {
    await Promise.all(lanes.values())
    lanes.clear()
    if (faults.length > 0) throw faults[0]
  }
  for (const [index, deed] of deeds.entries()) {
    if (deed.lane === undefined) {
      await through()
      await work(deed, index)
      continue
    }
    const before = lanes.get(deed.lane) ?? Promise.resolve()
    const mine = before.then(async () => {
      if (faults.length === 0) await work(deed, index)
    })
    lanes.set(
      deed.lane,
      mine.catch((fault: unknown) => {
        faults.push(fault)
      }),
    )
  }
  await through()
}
