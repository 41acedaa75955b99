import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'
import { aRecord } from './record.ts'

// Runs every `@example expression // value` line of these files; `record` stands for the record of an ordinary job.

const folder = join(dirname(fileURLToPath(import.meta.url)), '..', '..', '..', 'server', 'core', 'bench')
const EXAMPLE = /@example (.+?) \/\/ (.+?)\s*(?:\*\/)?$/gm

const examples = readdirSync(folder).flatMap((file) =>
  [...readFileSync(join(folder, file), 'utf8').matchAll(EXAMPLE)].map(([, expression, value]) => ({
    file,
    expression: expression ?? '',
    value: value ?? '',
  })),
)

describe('examples in the comments of the bench sums', () => {
  it('are there', () => {
    expect(new Set(examples.map((example) => example.file)).size).toBeGreaterThanOrEqual(8)
  })

  it.each(examples)('$file: $expression', async ({ file, expression, value }) => {
    const module = (await import(/* @vite-ignore */ join(folder, file))) as Record<string, unknown>
    const known: Record<string, unknown> = { ...module, record: aRecord() }
    const run = (text: string): unknown => new Function(...Object.keys(known), `return (${text})`)(...Object.values(known))
    expect(run(expression)).toEqual(run(value))
  })
})
