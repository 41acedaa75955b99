/** The demo shop: invented people, customers, engines and cranks, drawn through the same commands that the screens run. */
import path from 'node:path'
import { FIRST_SETTINGS } from '#contract/settings.ts'
import { BookTrouble } from '#prisma/migrate.ts'
import { addEngine } from '#server/features/engines/commands.ts'
import { clockAnswer } from '#server/features/hours/answer.ts'
import { setTagCounter } from '#server/features/jobs/store.ts'
import { addPerson } from '#server/features/people/store.ts'
import { anybodyThere } from '#server/features/sessions/store.ts'
import { changeSettings, isDemo, markDemo } from '#server/features/settings/store.ts'
import type { Db } from '#server/plugins/database.ts'
import { hashPassword } from '#server/plugins/passwords.ts'
import { idsOf, type SeedBook, seedBookOf } from './book.ts'
import { chanceFrom } from './chance.ts'
import { CLOSING_TIME, dayOf, ZONE } from './days.ts'
import { isFilled, markFilled } from './filled.ts'
import { type LaidOut, layOutShop } from './lay-out.ts'
import { MODEL_SHEETS } from './model-sheets.ts'
import { DEMO_PASSWORD, DEMO_PEOPLE, EWA, HANDS } from './people.ts'

/** Another number here makes another shop of the same kind. */
const SEED = 318

export interface SeedOptions {
  db: Db
  files: string
  now: Date
  say: (line: string) => void
}

/** Fills an empty book, once; refuses a book that holds anybody's real work, and one whose filling was stopped half way. */
export async function seedDemo({ db, files, now, say }: SeedOptions): Promise<void> {
  if (await isFilled(db)) return
  if (await isDemo(db.prisma))
    throw new BookTrouble(
      `The filling of this demo book was stopped half way, so that it tells only half. Delete the folder ${path.dirname(files)}, or with DATABASE_URL empty that database, and start again.`,
    )
  if (await anybodyThere(db.prisma))
    throw new BookTrouble('This book holds real work and is not marked demo: the demo shop is not put into it.')
  say('Filling the demo shop, once; it takes under a minute …')
  const chance = chanceFrom(SEED)
  const newId = idsOf(chance.of('ids'))
  const shop = layOutShop(now.getTime(), chance, newId)
  const book = seedBookOf(db, newId)
  await fillBeforeOpening(book, shop, await hashPassword(DEMO_PASSWORD))
  await fillDayByDay(book, shop, say)
  // Everybody looks at their clock: one of yesterday is found running, and stops at closing time.
  for (const by of Object.values(HANDS)) await clockAnswer(db, by, now)
  await book.perform({ at: now.getTime(), by: EWA, run: (act) => markFilled(act) })
  say(
    `The demo shop is filled: ${shop.lives.length} cranks since ${dayOf(shop.opened)}. A customer’s page to look at: /crank/${shop.token}`,
  )
}

/** The people, the shop’s own settings, its model sheets, and where the tags of its paper book ended. */
async function fillBeforeOpening(book: SeedBook, shop: LaidOut, passwordHash: string): Promise<void> {
  const at = shop.opened - 1
  await book.perform({
    at,
    by: EWA,
    run: async (act) => {
      await markDemo(act.tx)
      for (const person of DEMO_PEOPLE) await addPerson(act, { ...person, passwordHash })
      act.note('fill the demo shop', 'setting', 'demo', {})
    },
  })
  await book.perform({
    at,
    by: EWA,
    run: (act) =>
      changeSettings(
        { ...act, expectedVersion: () => 1 },
        {
          ...FIRST_SETTINGS,
          shopName: 'Kettle Row Crank Works',
          shopAddress: 'Mill Lane 4',
          zone: ZONE,
          currency: 'EUR',
          closingTime: CLOSING_TIME,
        },
      ),
  })
  await book.perform({ at, by: EWA, run: (act) => setTagCounter(act.tx, shop.tagsBefore) })
  for (const { code, asAdded } of MODEL_SHEETS)
    await book.perform({ at, by: EWA, run: (act) => addEngine(act, { ...asAdded, id: shop.engineIds.get(code)! }) })
}

/** Everything that was laid out, in the order in which it happened. */
async function fillDayByDay(book: SeedBook, { deeds }: LaidOut, say: (line: string) => void): Promise<void> {
  let month = ''
  for (const [index, deed] of deeds.entries()) {
    const deedMonth = dayOf(deed.at).slice(0, 7)
    if (deedMonth !== month) say(`  ${deedMonth}, ${index} of ${deeds.length} done`)
    month = deedMonth
    await book.perform(deed)
  }
}
