/** A worker for tests that is killed in the middle: it says so once it has a job, and never ends it. */
import { startBackground } from '#server/features/background/worker.ts'

const { url, roles } = JSON.parse(process.argv[2] ?? '{}')
const hang = async () => {
  process.stdout.write('it has the job\n')
  await new Promise(() => {})
}
await startBackground({ url, roles }, { tasks: { hang }, cron: [] }, { warn: (line) => process.stderr.write(`${line}\n`) })
// Nothing else keeps the process up while the job waits for ever.
setInterval(() => {}, 60_000)
