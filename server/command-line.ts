/** What the commands for backups share: which book, and how a fault is said. */
import path from 'node:path'
import { type ParseArgsConfig, parseArgs } from 'node:util'
import { type Config, ConfigTrouble, readConfig } from './config.ts'

type Options = NonNullable<ParseArgsConfig['options']>

/** The book that the command line names, and what else stands there; `wants` names the one file that has to be given. */
export function readPlace<Known extends Options>(known: Known, wants?: string) {
  const parse = () => {
    try {
      return parseArgs({
        options: { ...known, book: { type: 'string' } } as Known & { book: { type: 'string' } },
        allowPositionals: wants !== undefined,
      })
    } catch (error) {
      throw new ConfigTrouble((error as Error).message)
    }
  }
  const { values, positionals: files } = parse()
  const name = (values as { book?: string }).book ?? 'book'
  if (name !== 'book' && name !== 'demo') throw new ConfigTrouble(`There is no book named ${name}: --book is book or demo.`)
  if (wants !== undefined && files.length !== 1) throw new ConfigTrouble(`Name one ${wants}.`)
  const config: Config = readConfig(process.env, name, path.dirname(import.meta.dirname))
  return { config, values, files }
}

const PLAIN = ['BackupTrouble', 'BookTrouble', 'ClusterTrouble', 'ConfigTrouble', 'FolderTrouble']

/** Runs a command and ends with what it answers; a fault that is known is said without a trace of the program. */
export async function runPlainly(command: (say: (line: string) => void) => Promise<number>): Promise<void> {
  try {
    process.exitCode = await command((line) => process.stdout.write(`${line}\n`))
  } catch (error) {
    const { name, message, stack } = error as Error
    process.stderr.write(`${PLAIN.includes(name) ? message : (stack ?? message)}\n`)
    process.exitCode = 1
  }
}
