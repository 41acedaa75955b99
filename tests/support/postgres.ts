/** One PostgreSQL for a run: a migrated template, from which every test file takes a clone of its own. */
import { chmodSync, mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import pg from 'pg'
import type { TestProject } from 'vitest/node'
import { startCluster } from '#prisma/cluster.ts'
import { migrate, prepareRoles, type Roles } from '#prisma/migrate.ts'

declare module 'vitest' {
  interface ProvidedContext {
    clusterUrl: string
    roles: Roles
  }
}

export const TEMPLATE = 'throwbook_template'

export default async function setup(project: TestProject): Promise<() => Promise<void>> {
  const folder = mkdtempSync(path.join(tmpdir(), 'throwbook-tests-'))
  // The database may run under another account, which has to pass through the folder.
  chmodSync(folder, 0o755)
  const cluster = await startCluster(path.join(folder, 'pg'), { flags: ['-c', 'max_connections=200'] })
  const client = new pg.Client({ connectionString: cluster.url() })
  await client.connect()
  await client.query(`CREATE DATABASE ${TEMPLATE}`)
  await client.end()
  const url = cluster.url(TEMPLATE)
  const roles = await prepareRoles(url)
  await migrate(url, roles)
  project.provide('clusterUrl', cluster.url())
  project.provide('roles', roles)
  return async () => {
    await cluster.stop()
    rmSync(folder, { recursive: true, force: true })
  }
}
