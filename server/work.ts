/** The background work of an open book, put together: the night's drill, drills asked for, the forgetting of old keys. */
import type { FastifyInstance } from 'fastify'
import type { Config } from './config.ts'
import { type Background, startBackground } from './features/background/worker.ts'
import { proofTasks } from './features/proofs/tasks.ts'
import type { Opened } from './plugins/database.ts'
import { forgetOldKeys } from './plugins/idempotency.ts'

type Open = Pick<Opened, 'db' | 'url' | 'roles'>

/** Where the queue cannot be made, the book is served without it, and a line says so. */
export async function startWork(app: FastifyInstance, open: Open, config: Config, say: (line: string) => void): Promise<Background> {
  const proofs = proofTasks({
    db: open.db,
    book: { name: config.book, url: open.url, files: config.files },
    folder: config.backups,
    clock: app.clock,
  })
  const tasks = { ...proofs.tasks, 'forget-old-keys': async () => void (await forgetOldKeys(app)) }
  const cron = [...proofs.cron, { task: 'forget-old-keys', match: '17 3 * * *', options: { jobKey: 'forget-old-keys' } }]
  try {
    return await startBackground(open, { tasks, cron }, { warn: (line) => app.log.warn(line) })
  } catch (error) {
    say(`No background work runs, so no backup is written at night: ${(error as Error).message}`)
    return { stop: async () => {} }
  }
}
