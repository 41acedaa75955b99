import { readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'

// Runs every `@example expression // value` line of these files against the module it stands in.

const core = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'server', 'core')
const EXAMPLE = /@example (.+?) \/\/ (.+?)\s*(?:\*\/)?$/gm
const FILES = [
  'bench-now.ts',
  'box-list.ts',
  'clock-angle.ts',
  'contained-tax.ts',
  'engine-sheet.ts',
  'find-text.ts',
  'fit.ts',
  'learning.ts',
  'money-words.ts',
  'numeric/distributions.ts',
  'numeric/line.ts',
  'numeric/mean.ts',
  'numeric/random.ts',
  'numeric/sum.ts',
  'numeric/symmetric-matrix.ts',
  'owes.ts',
  'readings-round-a-turn.ts',
  'truing-best.ts',
  'truing-faults.ts',
  'truing.ts',
  'units.ts',
  'width.ts',
]

const examples = FILES.flatMap((file) =>
  [...readFileSync(join(core, file), 'utf8').matchAll(EXAMPLE)].map(([, expression, value]) => ({
    file,
    expression: expression!,
    value: value!,
  })),
)

describe('examples in the comments of the core', () => {
  it.each(FILES)('%s has at least one', (file) => {
    expect(examples.filter((example) => example.file === file).length).toBeGreaterThan(0)
  })

  it.each(examples)('$file: $expression', async ({ file, expression, value }) => {
    const module = (await import(/* @vite-ignore */ join(core, file))) as Record<string, unknown>
    const names = Object.keys(module)
    const run = (text: string): unknown => new Function(...names, `return (${text})`)(...names.map((name) => module[name]))
    expect(run(expression)).toEqual(run(value))
  })
})
