/** The queue of the background work in the database, and which of its workers are still alive. */
import { runMigrations } from 'graphile-worker'
import pg from 'pg'
import { DATABASE_LIMITS } from '#server/plugins/database.ts'

export interface QueueAt {
  url: string
  roles: { owner: string; app: string; separate: boolean }
}

type Logger = NonNullable<Parameters<typeof runMigrations>[0]['logger']>

// The queue's tables are shut to everybody but their owner by row level security; the role that serves is let through.
const LET_THROUGH = `DO $$
DECLARE one record;
BEGIN
  GRANT USAGE ON SCHEMA graphile_worker TO throwbook_app;
  GRANT SELECT, INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA graphile_worker TO throwbook_app;
  GRANT USAGE ON ALL SEQUENCES IN SCHEMA graphile_worker TO throwbook_app;
  FOR one IN SELECT c.oid::regclass AS it, c.oid FROM pg_class c
    WHERE c.relnamespace = 'graphile_worker'::regnamespace AND c.relkind = 'r' AND c.relrowsecurity
      AND NOT EXISTS (SELECT 1 FROM pg_policy p WHERE p.polrelid = c.oid AND p.polname = 'throwbook_app')
  LOOP EXECUTE format('CREATE POLICY throwbook_app ON %s TO throwbook_app USING (true) WITH CHECK (true)', one.it); END LOOP;
END $$`

const PREPARING = 730_231

/** Makes the queue, or brings it to this build. Servers that start at once take turns. */
export async function prepareQueue({ url, roles }: QueueAt, logger: Logger): Promise<void> {
  const pool = poolOf(url, roles.owner, 2)
  const client = await pool.connect()
  try {
    await client.query('SELECT pg_advisory_lock($1)', [PREPARING])
    await runMigrations({ pgPool: pool, logger })
    if (roles.separate) await client.query(LET_THROUGH)
    await client.query('SELECT pg_advisory_unlock($1)', [PREPARING])
  } finally {
    client.release()
    await pool.end()
  }
}

/** Connections of the worker alone: one that listens, one that takes jobs and ends them, one in hand. */
export function workerPool({ url, roles }: QueueAt): pg.Pool {
  return poolOf(url, roles.app, 3)
}

function poolOf(url: string, options: string, max: number): pg.Pool {
  const pool = new pg.Pool({ connectionString: url, options, max, connectionTimeoutMillis: DATABASE_LIMITS.connectMs })
  // A connection that dies says so at the next statement; without listeners it would end the process.
  pool.on('error', () => {})
  pool.on('connect', (client) => {
    client.on('error', () => {})
  })
  return pool
}

const ALIVE = 730_232
// A worker may take its first job a moment before it is known here.
const GRACE_SECONDS = 5

/**
 * Who still lives. The queue keeps the lock of a worker that was killed for four hours; here each holds an advisory lock
 * that goes with its process, so that another server, or the next start, can tell within seconds.
 */
export interface Liveness {
  hold(id: string): Promise<void>
  /** Gives the jobs of dead workers free, and answers whose they were. */
  freeDead(): Promise<string[]>
  close(): Promise<void>
}

export function livenessAt({ url, roles }: QueueAt): Liveness {
  const own = new Set<string>()
  let connecting: Promise<pg.Client> | undefined
  const connect = async () => {
    const client = new pg.Client({ connectionString: url, options: roles.app, connectionTimeoutMillis: 10_000 })
    client.on('error', () => {
      connecting = undefined
    })
    await client.connect()
    for (const id of own) await holdIn(client, id)
    return client
  }
  /** One connection for all; a new one, which holds everything again, where it was lost. */
  const connected = () => {
    connecting ??= connect().catch((error: unknown) => {
      connecting = undefined
      throw error
    })
    return connecting
  }
  return {
    async hold(id) {
      const open = connecting
      own.add(id)
      if (open) await holdIn(await open, id)
      else await connected()
    },
    async freeDead() {
      const client = await connected()
      const { rows } = await client.query<{ id: string }>(
        `SELECT DISTINCT locked_by AS id FROM graphile_worker._private_jobs
         WHERE locked_by <> ALL ($1) AND locked_at < now() - make_interval(secs => $2)`,
        [[...own], GRACE_SECONDS],
      )
      const dead: string[] = []
      for (const { id } of rows) {
        const got = await client.query<{ free: boolean }>('SELECT pg_try_advisory_lock($1, hashtext($2)) AS free', [ALIVE, id])
        if (!got.rows[0]?.free) continue
        await client.query('SELECT graphile_worker.force_unlock_workers(ARRAY[$1])', [id])
        await client.query('SELECT pg_advisory_unlock($1, hashtext($2))', [ALIVE, id])
        dead.push(id)
      }
      return dead
    },
    async close() {
      const open = connecting
      connecting = undefined
      await (await open)?.end()
    },
  }
}

async function holdIn(client: pg.Client, id: string): Promise<void> {
  await client.query('SELECT pg_advisory_lock_shared($1, hashtext($2))', [ALIVE, id])
}
