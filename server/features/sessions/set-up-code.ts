import { randomBytes } from 'node:crypto'
import type { FastifyInstance } from 'fastify'
import { hashPassword } from '#server/plugins/passwords.ts'
import { anybodyThere, keepSetUpCode } from './store.ts'

/** A book without people prints a code that makes the first owner, once; each start prints a new one. */
export async function printSetUpCode(app: FastifyInstance, say: (line: string) => void): Promise<void> {
  if (await anybodyThere(app.db.prisma)) return
  const code = randomBytes(6).toString('hex').toUpperCase()
  await keepSetUpCode(app.db, await hashPassword(code))
  say(`First visit: open that address and make the owner with this one-time code: ${code}`)
}
