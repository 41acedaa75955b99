/** One of the two sides, as a process of its own: `serve.ts service|twin <address of the book> <its roles> <folder>`. Prints where it listens. */
import pg from 'pg'
import type { Roles } from '#prisma/migrate.ts'
import { buildApp } from '#server/app.ts'
import { DATABASE_LIMITS, openDatabase, PLANNING } from '#server/plugins/database.ts'
import { buildTwin } from './twin.ts'

const [side, url = '', given = '', files = ''] = process.argv.slice(2)
const roles = JSON.parse(given) as Roles
const clock = () => new Date()

const app =
  side === 'service'
    ? await buildApp({ db: openDatabase(url, roles), clock, files, logLevel: 'warn' })
    : buildTwin({
        pool: new pg.Pool({ connectionString: url, max: DATABASE_LIMITS.connections, options: `${roles.app} ${PLANNING}` }),
        clock,
      })
const address = await app.listen({ port: 0, host: '127.0.0.1' })
// How long it worked, in milliseconds, whenever it is asked.
process.on('message', () => {
  const { user, system } = process.cpuUsage()
  process.send?.((user + system) / 1000)
})
process.on('disconnect', () => process.exit(1))
process.on('SIGTERM', () => void app.close().then(() => process.exit(0)))
process.stdout.write(`${address}\n`)
