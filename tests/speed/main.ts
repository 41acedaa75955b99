/**
 * `npm run speed`: the service against the twin, in a book of 400 jobs and in one of 100,000, and the sums alone. Prints
 * the table of the README; what misses its aim is bold. JOBS, ROUNDS, SECONDS and WRITES make it shorter, for a first look.
 */
import { type Books, openBooks } from './books.ts'
import { casesOf } from './cases.ts'
import { type Effort, type Measured, measure } from './measure.ts'
import { CALLERS, signEverybodyIn } from './people.ts'
import { startSides } from './sides.ts'
import { speedOfSums } from './sums.ts'
import { madeOn, type SizedBook, sumsTable, tableOf } from './table.ts'

const say = (line: string) => process.stderr.write(`${line}\n`)
const number = (name: string, usual: number) => Number(process.env[name] ?? usual)

const SMALL = { jobs: 400, years: 1 }
const LARGE = { jobs: number('JOBS', 100_000), years: 20 }
const EFFORT: Effort = { rounds: number('ROUNDS', 5), seconds: number('SECONDS', 3), writes: number('WRITES', 40 * CALLERS) }
const ONLY = process.env.ONLY

async function measureBook(books: Books, { jobs, years }: { jobs: number; years: number }): Promise<SizedBook> {
  const started = performance.now()
  const url = await books.make(jobs, years)
  say(`${jobs} jobs, filled in ${Math.round((performance.now() - started) / 1000)} s`)
  const sides = await startSides(url, books.roles, books.folder)
  try {
    const cookies = await signEverybodyIn(sides.address.service)
    const measured: Measured[] = []
    for (const one of casesOf(jobs)) {
      if (ONLY !== undefined && !ONLY.split(',').some((name) => one.name.startsWith(name))) continue
      const of = await measure(one, sides, cookies, EFFORT)
      say(
        `${one.name}: ${Math.round(of.perSecond.service)} to ${Math.round(of.perSecond.twin)} a second, ${of.ratio.toFixed(2)}, p95 ${of.p95.toFixed(1)} ms, work ${of.workMs.service.toFixed(2)} to ${of.workMs.twin.toFixed(2)} ms${of.turnedAway === 0 ? '' : `, ${of.turnedAway} turned away`}`,
      )
      measured.push(of)
    }
    return { jobs, measured }
  } finally {
    await sides.close()
  }
}

const sums = speedOfSums()
const books = await openBooks()
for (const signal of ['SIGINT', 'SIGTERM']) process.once(signal, () => void books.close().then(() => process.exit(1)))
try {
  const small = await measureBook(books, SMALL)
  const large = await measureBook(books, LARGE)
  const effort = `${CALLERS} callers that ask again at once, ${EFFORT.rounds} rounds a side in turn`
  process.stdout.write(`\n${tableOf(small, large)}\n\n${sumsTable(sums)}\n\n${madeOn(books.version, effort)}\n`)
} finally {
  await books.close()
}
