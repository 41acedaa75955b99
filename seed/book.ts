/** How the seed writes into the book: one act at a time, in the order of the shop's days, by the commands of the screens. */
import { type Act, type Caller, perform } from '#server/plugins/act.ts'
import type { Db } from '#server/plugins/database.ts'
import type { Chance } from './chance.ts'

/** Something that somebody of the shop did at a moment (milliseconds since 1970). */
export interface Deed {
  at: number
  by: Caller
  run: (act: Act) => Promise<unknown>
}

/** Ids as the commands would make them (UUID version 7, RFC 9562), of a given moment and of seeded chance. */
export function idsOf(chance: Chance): (at: number) => string {
  let last = 0
  let count = 0
  return (at) => {
    count = at === last ? count + 1 : 0
    last = at
    const tail = [...chance.bytes(8)].map((byte) => byte.toString(16).padStart(2, '0')).join('')
    const variant = '89ab'.charAt(Number.parseInt(tail.charAt(0), 16) % 4)
    const time = at.toString(16).padStart(12, '0')
    return `${time.slice(0, 8)}-${time.slice(8)}-7${count.toString(16).padStart(3, '0')}-${variant}${tail.slice(1, 4)}-${tail.slice(4)}`
  }
}

/** Rows whose commands let the book make the id; with seeded ids in them the same seed makes the same book. */
const OWN_ID = ['Crank', 'Customer', 'Engine', 'JobEvent', 'JobPass', 'JobStep', 'JobWait', 'KitFitted', 'Payment', 'PublicLink', 'Quote']

export interface SeedBook {
  perform(deed: Deed): Promise<void>
}

/** The book with seeded ids wherever a command brings none of its own. */
export function seedBookOf(db: Db, newId: (at: number) => string): SeedBook {
  let now = 0
  const prisma = db.prisma.$extends({
    query: {
      $allModels: {
        create({ model, args, query }) {
          const data = args.data as { id?: string }
          if (OWN_ID.includes(model)) data.id ??= newId(now)
          return query(args)
        },
      },
    },
  }) as unknown as Db['prisma']
  return {
    async perform({ at, by, run }) {
      now = at
      await perform({ ...db, prisma }, { by, now: new Date(at) }, run)
    },
  }
}
