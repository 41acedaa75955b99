import { mkdtempSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import pg from 'pg'
import { startCluster } from './cluster.ts'
import { dumpStructure } from './dump.ts'
import { migrate, prepareRoles } from './migrate.ts'

const folder = mkdtempSync(path.join(tmpdir(), 'throwbook-dump-'))
const cluster = await startCluster(folder)
await migrate(cluster.url(), await prepareRoles(cluster.url()))
const client = new pg.Client({ connectionString: cluster.url() })
await client.connect()
writeFileSync(path.join(import.meta.dirname, 'schema.sql'), await dumpStructure(client))
await client.end()
await cluster.stop()
rmSync(folder, { recursive: true, force: true })
