/** Generates the typed client when it is missing or older than the schema. Needs no network and no engine binary. */
import { spawnSync } from 'node:child_process'
import { createHash } from 'node:crypto'
import { existsSync, readFileSync, writeFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import path from 'node:path'

const here = import.meta.dirname
const root = path.dirname(here)
const stamp = path.join(here, 'client', '.schema')
const wanted = createHash('sha256')
  .update(readFileSync(path.join(here, 'schema.prisma')))
  .digest('hex')
const have = existsSync(stamp) ? readFileSync(stamp, 'utf8') : ''

if (have !== wanted) {
  const cli = path.join(path.dirname(createRequire(import.meta.url).resolve('prisma/package.json')), 'build/index.js')
  const run = spawnSync(process.execPath, [cli, 'generate', '--schema', path.join(here, 'schema.prisma')], {
    cwd: root,
    encoding: 'utf8',
    // The command would otherwise fetch a schema engine that generating does not use; any program stands in for it.
    env: { ...process.env, PRISMA_SCHEMA_ENGINE_BINARY: process.execPath, PRISMA_HIDE_UPDATE_MESSAGE: '1' },
  })
  if (run.status !== 0) {
    process.stderr.write(`${run.stdout}\n${run.stderr}\nThe database client could not be generated from prisma/schema.prisma.\n`)
    process.exit(1)
  }
  writeFileSync(stamp, wanted)
}
