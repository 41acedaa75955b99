/** The real service on a database of its own, and people signed in to it. */
import { randomUUID } from 'node:crypto'
import { mkdtempSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import type { FastifyInstance } from 'fastify'
import pg from 'pg'
import supertest from 'supertest'
import { afterAll, inject } from 'vitest'
import type { Role } from '#contract/people.ts'
import { buildApp } from '#server/app.ts'
import { addPerson } from '#server/features/people/store.ts'
import { type Caller, perform } from '#server/plugins/act.ts'
import { hashOf, newToken } from '#server/plugins/auth.ts'
import { type Db, openDatabase } from '#server/plugins/database.ts'
import { TEMPLATE } from './postgres.ts'

export const FIRST_DAY = new Date('2026-11-24T09:00:00.000Z')

/** A clock that stands still until a test moves it. */
export interface TestClock {
  now: Date
  pass(minutes: number): void
}

export interface TestApp {
  app: FastifyInstance
  db: Db
  clock: TestClock
  /** Connection address of this file's database, as the role that owns the cluster. */
  url: string
  as(role: Role, more?: Partial<{ name: string; maySign: boolean; cranksBefore: number }>): Promise<Agent>
  nobody(): Agent
}

type Method = 'get' | 'post' | 'put' | 'patch' | 'delete'

/** One person's way in: requests with their cookie, a fresh key for each act, and If-Match from a version. */
export interface Agent {
  person: Caller
  cookie: string
  get(address: string): supertest.Test
  post(address: string, body?: object, key?: string): supertest.Test
  put(address: string, body: object, version?: number): supertest.Test
  patch(address: string, body: object, version?: number): supertest.Test
  delete(address: string, version?: number): supertest.Test
}

/** Builds the app once for a test file and takes it down after it. */
export async function startApp(
  options: { publicUrl?: string; webFolder?: string; realTime?: boolean; checkAnswers?: boolean } = {},
): Promise<TestApp> {
  const name = `t_${randomUUID().replaceAll('-', '')}`
  const clusterUrl = inject('clusterUrl')
  await inCluster(clusterUrl, `CREATE DATABASE ${name} TEMPLATE ${TEMPLATE}`)
  const url = clusterUrl.replace(/\/[^/]*$/, `/${name}`)
  const db = openDatabase(url, inject('roles'))
  const files = mkdtempSync(path.join(tmpdir(), 'throwbook-files-'))
  const clock: TestClock = {
    now: options.realTime ? new Date() : FIRST_DAY,
    pass(minutes) {
      clock.now = new Date(clock.now.getTime() + minutes * 60_000)
    },
  }
  const app = await buildApp({
    db,
    clock: options.realTime ? () => new Date() : () => clock.now,
    files,
    // Empty means: links carry the address of the request.
    publicUrl: options.publicUrl === '' ? undefined : (options.publicUrl ?? 'https://book.example'),
    webFolder: options.webFolder,
    checkAnswers: options.checkAnswers ?? true,
  })
  await app.ready()
  afterAll(async () => {
    await app.close()
    await db.close()
    await inCluster(clusterUrl, `DROP DATABASE ${name} WITH (FORCE)`)
    rmSync(files, { recursive: true, force: true })
  })
  let people = 0
  return {
    app,
    db,
    clock,
    url,
    nobody: () => agent(app, { id: '', name: '', role: 'counter', maySign: false }, ''),
    async as(role, more = {}) {
      people++
      const person: Caller = { id: randomUUID(), name: more.name ?? `${role} ${people}`, role, maySign: more.maySign ?? role === 'owner' }
      const token = newToken()
      await perform(db, { by: person, now: clock.now }, async (act) => {
        await addPerson(act, {
          ...person,
          signIn: `${role}${people}`,
          cranksBefore: more.cranksBefore ?? 0,
          passwordHash: 'no password fits this',
        })
        await act.tx.session.create({
          data: {
            idHash: hashOf(token),
            personId: person.id,
            startedAt: clock.now,
            lastSeenAt: clock.now,
            endsAt: new Date(clock.now.getTime() + 365 * 86_400_000),
          },
        })
      })
      return agent(app, person, `throwbook=${token}`)
    },
  }
}

function agent(app: FastifyInstance, person: Caller, cookie: string): Agent {
  const send = (method: Method, address: string) => {
    const test = supertest(app.server)[method](address).set('sec-fetch-site', 'same-origin')
    return cookie === '' ? test : test.set('cookie', cookie)
  }
  const change = (method: Method, address: string, version?: number) => {
    const test = send(method, address)
    return version === undefined ? test : test.set('if-match', `"${version}"`)
  }
  return {
    person,
    cookie,
    get: (address) => send('get', address),
    post: (address, body = {}, key = randomUUID()) => send('post', address).set('idempotency-key', key).send(body),
    put: (address, body, version) => change('put', address, version).send(body),
    patch: (address, body, version) => change('patch', address, version).send(body),
    delete: (address, version) => change('delete', address, version),
  }
}

async function inCluster(url: string, statement: string): Promise<void> {
  const client = new pg.Client({ connectionString: url })
  await client.connect()
  // Files clone the template at the same time; PostgreSQL lets one at a time, so they take turns.
  await client.query('SELECT pg_advisory_lock(730299)')
  await client.query(statement)
  await client.end()
}
