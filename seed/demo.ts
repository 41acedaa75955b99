/** The demo shop: invented people, customers, engines and cranks, drawn through the same commands that the screens run. */
import path from 'node:path'
import { FIRST_SETTINGS, type Settings } from '#contract/settings.ts'
import { BookTrouble } from '#prisma/migrate.ts'
import { addEngine } from '#server/features/engines/commands.ts'
import { clockAnswer } from '#server/features/hours/answer.ts'
import { setTagCounter } from '#server/features/jobs/store.ts'
import { addPerson } from '#server/features/people/store.ts'
import { anybodyThere } from '#server/features/sessions/store.ts'
import { changeSettings, isDemo, markDemo } from '#server/features/settings/store.ts'
import { perform } from '#server/plugins/act.ts'
import type { Db } from '#server/plugins/database.ts'
import { hashPassword } from '#server/plugins/passwords.ts'
import { type Deed, idsOf, type SeedBook, seedBookOf } from './book.ts'
import { chanceFrom } from './chance.ts'
import { CLOSING_TIME, dayOf, ZONE } from './days.ts'
import { isFilled, markFilled } from './filled.ts'
import { USUAL_JOBS } from './finished-jobs.ts'
import { type LaidOut, layOutShop } from './lay-out.ts'
import { MODEL_SHEETS } from './model-sheets.ts'
import { DEMO_PASSWORD, DEMO_PEOPLE, EWA, HANDS } from './people.ts'

/** Another number here makes another shop of the same kind. */
const SEED = 318

const SETTINGS: Settings = {
  ...FIRST_SETTINGS,
  shopName: 'Kettle Row Crank Works',
  shopAddress: 'Mill Lane 4',
  zone: ZONE,
  currency: 'EUR',
  closingTime: CLOSING_TIME,
}

export interface SeedOptions {
  db: Db
  files: string
  now: Date
  say: (line: string) => void
  /** Where the book is at home: what its certificates lead to. */
  address?: string
  /** About how many jobs; those in the house today are always there. */
  jobs?: number
  seed?: number
}

/** Fills an empty book, once; refuses a book that holds anybody's real work, and one whose filling was stopped half way. */
export async function seedDemo(options: SeedOptions): Promise<void> {
  const { db, files, now, say, address = 'http://localhost:4180', jobs = USUAL_JOBS, seed = SEED } = options
  if (await isFilled(db)) return
  if (await isDemo(db.prisma))
    throw new BookTrouble(
      `The filling of this demo book was stopped half way, so that it tells only half. Delete the folder ${path.dirname(files)}, or with DATABASE_URL empty that database, and start again.`,
    )
  if (await anybodyThere(db.prisma))
    throw new BookTrouble('This book holds real work and is not marked demo: the demo shop is not put into it.')
  say('Filling the demo shop, once: two years of it; it takes a minute or two …')
  const chance = chanceFrom(seed)
  const newId = idsOf(chance.of('ids'))
  const shop = layOutShop({ now: now.getTime(), chance, newId, jobs, address })
  const book = seedBookOf(db, chance.of('ids of the book'), SETTINGS)
  try {
    await book.perform(beforeOpening(shop, await hashPassword(DEMO_PASSWORD)))
    await fillDayByDay(book, shop, say)
  } finally {
    await book.close()
  }
  // Everybody looks at their clock: one of yesterday is found running, and stops at closing time.
  for (const by of Object.values(HANDS)) await clockAnswer(db, by, now)
  // The server's own connection commits for good, and everything that was committed before with it.
  await perform(db, { by: EWA, now }, (act) => markFilled(act))
  say(
    `The demo shop is filled: ${shop.lives.length} cranks since ${dayOf(shop.opened)}. A customer’s page to look at: /crank/${shop.token}`,
  )
}

/** The people, the shop’s own settings, its model sheets, and where the tags of its paper book ended. */
function beforeOpening(shop: LaidOut, passwordHash: string): Deed[] {
  const deed = (run: Deed['run']): Deed => ({ at: shop.opened - 1, by: EWA, run })
  return [
    deed(async (act) => {
      await markDemo(act.tx)
      for (const { hand, ...person } of DEMO_PEOPLE)
        await addPerson(act, { ...person, cranksBefore: hand === undefined ? 0 : shop.builtBefore[hand], passwordHash })
      act.note('fill the demo shop', 'setting', 'demo', {})
    }),
    deed((act) => changeSettings({ ...act, expectedVersion: () => 1 }, SETTINGS)),
    deed((act) => setTagCounter(act.tx, shop.tagsBefore)),
    ...MODEL_SHEETS.map(({ code, asAdded }) => deed((act) => addEngine(act, { ...asAdded, id: shop.engineIds.get(code)! }))),
  ]
}

/**
 * Everything that was laid out, in the order in which it happened. A shop day is one transaction, so that the audit chain,
 * the tags and the numbers of the certificates follow time as they do in a real book; a transaction for each job would put
 * the whole of a crank before the first word of the next.
 */
async function fillDayByDay(book: SeedBook, { deeds }: LaidOut, say: (line: string) => void): Promise<void> {
  let quarter = ''
  for (let from = 0; from < deeds.length; ) {
    const day = dayOf(deeds[from]!.at)
    const quarterOfDay = `${day.slice(0, 4)}, quarter ${Math.ceil(Number(day.slice(5, 7)) / 3)}`
    if (quarterOfDay !== quarter) say(`  ${quarterOfDay}: ${from} of ${deeds.length} done`)
    quarter = quarterOfDay
    let until = from + 1
    while (until < deeds.length && dayOf(deeds[until]!.at) === day) until++
    await book.perform(deeds.slice(from, until))
    from = until
  }
}
