import { readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'

// Runs every `@example expression // value` line of these files against the module it stands in.

const core = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'server', 'core')
const EXAMPLE = /@example (.+?) \/\/ (.+?)\s*(?:\*\/)?$/gm
const FILES = [
  'audit-words.ts',
  'bench-now.ts',
  'bench/web-fits.ts',
  'bench/warm-part.ts',
  'bench/odd-reading.ts',
  'bench/odd-figure-slip.ts',
  'bench/gauge-and-fit.ts',
  'box-list.ts',
  'certificate-margin.ts',
  'chart.ts',
  'clock-angle.ts',
  'comeback-calls.ts',
  'comeback-findings.ts',
  'comeback.ts',
  'compare.ts',
  'contained-tax.ts',
  'crank-build.ts',
  'doubt.ts',
  'engine-sheet.ts',
  'find-text.ts',
  'fit-stop.ts',
  'fit.ts',
  'flow.ts',
  'gauge-study.ts',
  'gauge-table.ts',
  'gauge.ts',
  'guessable.ts',
  'instrument-doubt.ts',
  'learning.ts',
  'merged-customer.ts',
  'money-words.ts',
  'numeric/distributions.ts',
  'numeric/line.ts',
  'numeric/mean.ts',
  'numeric/median.ts',
  'numeric/random.ts',
  'numeric/sum.ts',
  'numeric/symmetric-matrix.ts',
  'odd-one-out.ts',
  'office-hours.ts',
  'office-late.ts',
  'office-lots.ts',
  'office-running.ts',
  'office-window.ts',
  'owes.ts',
  'phase.ts',
  'placeholders.ts',
  'practice-crank.ts',
  'practice-move.ts',
  'practice.ts',
  'rate.ts',
  'readings-round-a-turn.ts',
  'survival-log-rank.ts',
  'survival-steps.ts',
  'survival-weibull.ts',
  'survival.ts',
  'short-day.ts',
  'truing-best.ts',
  'truing-faults.ts',
  'truing.ts',
  'units.ts',
  'web-life.ts',
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
