/** The demo shop: invented people, customers, engines and cranks, drawn through the same commands that the screens run. */
import { addEngine } from '#server/features/engines/commands.ts'
import { addPerson } from '#server/features/people/store.ts'
import { anybodyThere } from '#server/features/sessions/store.ts'
import { isDemo, markDemo } from '#server/features/settings/store.ts'
import { type Caller, perform } from '#server/plugins/act.ts'
import type { Db } from '#server/plugins/database.ts'
import { hashPassword } from '#server/plugins/passwords.ts'
import { DEMO_ENGINES } from './engines.ts'
import { DEMO_PASSWORD, DEMO_PEOPLE } from './people.ts'

export interface SeedOptions {
  db: Db
  files: string
  now: Date
  say: (line: string) => void
}

/** Fills an empty book, once; refuses a book that holds anybody's real work. */
export async function seedDemo({ db, now, say }: SeedOptions): Promise<void> {
  if (await isDemo(db.prisma)) return
  if (await anybodyThere(db.prisma)) throw new Error('This book holds real work and is not marked demo: the demo shop is not put into it.')
  say('Filling the demo shop, once …')
  const passwordHash = await hashPassword(DEMO_PASSWORD)
  const owner = DEMO_PEOPLE.find((person) => person.role === 'owner')
  if (!owner) throw new Error('the demo needs an owner')
  const by: Caller = { id: owner.id, name: owner.name, role: owner.role, maySign: owner.maySign }
  await perform(db, { by, now }, async (act) => {
    await markDemo(act.tx)
    for (const person of DEMO_PEOPLE) await addPerson(act, { ...person, passwordHash })
    act.note('fill the demo shop', 'setting', 'demo', {})
  })
  await perform(db, { by, now }, async (act) => {
    for (const engine of DEMO_ENGINES) await addEngine(act, engine)
  })
}
