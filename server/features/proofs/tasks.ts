/** What the background work does for the proofs: the night's drill, and the one that somebody asked for. */
import type { CronItem, Task, TaskList } from 'graphile-worker'
import { proveIfDue } from './nightly.ts'
import { type Proving, prove } from './prove.ts'

// One after the other: two drills of a book at once would only slow each other.
const QUEUE = { queueName: 'proofs', maxAttempts: 3 } as const

export function proofTasks(by: Omit<Proving, 'signal'>): { tasks: TaskList; cron: CronItem[] } {
  const drill: Task = async (payload, { abortSignal }) => {
    await prove({ ...by, signal: abortSignal }, (payload as { id: string }).id)
  }
  const night: Task = async (_payload, { abortSignal }) => {
    await proveIfDue({ ...by, signal: abortSignal })
  }
  // Asked every ten minutes by the clock of the world; the task itself looks at the clock of the shop.
  return { tasks: { drill, night }, cron: [{ task: 'night', match: '*/10 * * * *', options: { ...QUEUE, jobKey: 'night' } }] }
}
