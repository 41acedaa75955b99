/** Prisma's client over one connection on which a transaction is open already, beside whatever else is sent over it. */
import { PrismaPg } from '@prisma/adapter-pg'
import type { SqlDriverAdapter } from '@prisma/driver-adapter-utils'
import type pg from 'pg'
import { PrismaClient } from './client/client.ts'
import { statementNameOf } from './statement-names.ts'

/** Makes clients for connections of this pool, one each, as long as the connection lives. */
export function clientsOn(pool: pg.Pool): (connection: pg.PoolClient) => PrismaClient {
  const factory = new PrismaPg(pool, { statementNameGenerator: ({ sql }) => statementNameOf(sql) })
  const made = new WeakMap<pg.PoolClient, PrismaClient>()
  let whole: Promise<SqlDriverAdapter> | undefined
  return (connection) => {
    const known = made.get(connection)
    if (known !== undefined) return known
    const connect = async () => {
      whole ??= factory.connect()
      return onOne(await whole, connection)
    }
    const client = new PrismaClient({ adapter: { provider: 'postgres', adapterName: factory.adapterName, connect } })
    made.set(connection, client)
    return client
  }
}

/** The adapter with this connection in the place of its pool; a transaction of its own is a part of the one that is open. */
function onOne(whole: SqlDriverAdapter, connection: pg.PoolClient): SqlDriverAdapter {
  const here: SqlDriverAdapter = Object.create(whole, { client: { value: connection } })
  const part = {
    options: { value: { usePhantomQuery: true } },
    commit: sends('RELEASE SAVEPOINT part'),
    rollback: sends('ROLLBACK TO SAVEPOINT part'),
  }
  function sends(text: string) {
    return { value: async () => void (await connection.query(text)) }
  }
  return Object.create(here, {
    startTransaction: {
      value: async () => {
        await connection.query('SAVEPOINT part')
        return Object.create(here, part)
      },
    },
  })
}
