import { type ChildProcess, spawn } from 'node:child_process'
import path from 'node:path'
import { beforeAll, expect, inject, test } from 'vitest'
import { prepareRoles } from '#prisma/migrate.ts'
import { startBackground } from '#server/features/background/worker.ts'
import { startApp } from '#tests/support/app.ts'
import { inDatabase } from '#tests/support/backup-book.ts'

const it = await startApp()
const roles = inject('roles')
const root = path.resolve(import.meta.dirname, '../../..')

beforeAll(async () => {
  await prepareRoles(it.url)
})

async function hangingWorker(): Promise<ChildProcess> {
  const child = spawn(process.execPath, ['--import', 'tsx', 'tests/support/hanging-worker.ts', JSON.stringify({ url: it.url, roles })], {
    cwd: root,
    stdio: ['ignore', 'pipe', 'pipe'],
  })
  let said = ''
  await new Promise<void>((resolve, reject) => {
    const hear = (chunk: Buffer) => {
      said += chunk.toString()
      if (said.includes('it has the job')) resolve()
    }
    child.stdout.on('data', hear)
    child.stderr.on('data', hear)
    child.once('exit', (code) => reject(new Error(`ended with ${code}: ${said}`)))
  })
  return child
}

const queue = (task: string) => inDatabase(it.url, (client) => client.query('SELECT graphile_worker.add_job($1)', [task]))

test('the role that serves puts jobs into the queue and does them; a job that is rolled back was never there', async () => {
  const done: unknown[] = []
  const tasks = { note: async (payload: unknown) => void done.push(payload) }
  const background = await startBackground({ url: it.url, roles }, { tasks, cron: [] }, { warn: () => {} })
  try {
    const add = (what: number) =>
      it.db.prisma.$transaction(async (tx) => {
        await tx.$queryRaw`SELECT graphile_worker.add_job('note', json_build_object('what', ${what}::int))::text AS job`
        if (what === 2) throw new Error('it went wrong after all')
      })
    await add(1)
    await expect(add(2)).rejects.toThrow('after all')
    await add(3)
    await expect.poll(() => done.length, { timeout: 15_000 }).toBe(2)
    expect(done).toEqual([{ what: 1 }, { what: 3 }])
  } finally {
    await background.stop()
  }
})

// F6: the queue alone would keep the lock of a worker that was killed for four hours.
test('a job whose worker was killed runs again within a minute, and one whose worker lives does not', async () => {
  const killed = await hangingWorkerWithJob()
  const living = await hangingWorkerWithJob()
  let ran = 0
  let background: Awaited<ReturnType<typeof startBackground>> | undefined
  try {
    const gone = new Promise((resolve) => killed.once('exit', resolve))
    killed.kill('SIGKILL')
    await gone
    const from = Date.now()
    const tasks = { hang: async () => void ran++ }
    background = await startBackground({ url: it.url, roles }, { tasks, cron: [] }, { warn: () => {}, lookEveryMs: 500 })
    await expect.poll(() => ran, { timeout: 25_000, interval: 100 }).toBe(1)
    expect(Date.now() - from).toBeLessThan(60_000)
    await new Promise((resume) => setTimeout(resume, 6_000))
    expect(ran).toBe(1)
    const { rows } = await inDatabase(it.url, (client) => client.query('SELECT locked_by IS NOT NULL AS held FROM graphile_worker.jobs'))
    expect(rows).toEqual([{ held: true }])
  } finally {
    await background?.stop()
    living.kill('SIGKILL')
  }
})

async function hangingWorkerWithJob(): Promise<ChildProcess> {
  const worker = hangingWorker()
  // The queue is made by the first worker; a job can be put there from then on.
  for (;;) {
    const there = await queue('hang').then(
      () => true,
      () => false,
    )
    if (there) return worker
    await new Promise((resume) => setTimeout(resume, 100))
  }
}
