/**
 * Work that nobody waits for, in the server process, beside the requests. The queue is a table of the book's database
 * (graphile-worker): a job is put there in the transaction of what it belongs to, runs once on whichever server is free,
 * and runs again when its server was killed in the middle.
 */
import { EventEmitter } from 'node:events'
import { type CronItem, Logger, parseCronItems, type Runner, run, type TaskList } from 'graphile-worker'
import { livenessAt, prepareQueue, type QueueAt, workerPool } from './store.ts'

export interface Work {
  tasks: TaskList
  cron: CronItem[]
}

export interface Background {
  /** Lets what runs end, or be cut off after five seconds; it is taken up again at the next start. */
  stop(): Promise<void>
}

export interface BackgroundOptions {
  /** Hears what goes wrong. */
  warn: (line: string) => void
  /** Between two looks for workers that died. */
  lookEveryMs?: number
}

const LOOK_EVERY_MS = 15_000
const AGAIN_AFTER_MS = 30_000

export async function startBackground(
  at: QueueAt,
  work: Work,
  { warn, lookEveryMs = LOOK_EVERY_MS }: BackgroundOptions,
): Promise<Background> {
  const logger = new Logger(() => (level, message) => {
    if (level === 'error' || level === 'warning') warn(message)
  })
  await prepareQueue(at, logger)
  const pool = workerPool(at)
  const liveness = livenessAt(at)
  const noteFault = (error: unknown) => warn(`background work: ${(error as Error).message}`)
  const events = new EventEmitter()
  // The queue locks a job in the name of the pool that took it.
  events.on('pool:create', ({ workerPool: { id } }: { workerPool: { id: string } }) => void liveness.hold(id).catch(noteFault))
  const look = () => void liveness.freeDead().catch(noteFault)

  let runner: Runner | undefined
  let stopping = false
  let again: NodeJS.Timeout | undefined
  const begin = async () => {
    runner = await run({
      pgPool: pool,
      taskList: work.tasks,
      parsedCronItems: parseCronItems(work.cron),
      concurrency: 1,
      pollInterval: 5_000,
      noHandleSignals: true,
      events,
      logger,
    })
    // A database that goes away ends the runner; it is begun again until it holds.
    runner.promise.catch(noteFault).finally(beginAgain)
  }
  const beginAgain = () => {
    if (!stopping) again = setTimeout(() => void tryAgain(), AGAIN_AFTER_MS)
  }
  const tryAgain = async () => {
    try {
      await begin()
    } catch (error) {
      noteFault(error)
      beginAgain()
    }
  }
  await begin()
  look()
  const looking = setInterval(look, lookEveryMs)
  return {
    async stop() {
      stopping = true
      clearInterval(looking)
      clearTimeout(again)
      await runner?.stop().catch(noteFault)
      await liveness.close()
      await pool.end()
    },
  }
}
