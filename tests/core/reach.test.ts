import { readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'

// The sums of the bench must load without the library of distributions.

const core = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'server', 'core')
const IMPORT = /(?:from|import) '([^']+)'/g

function reachedFrom(file: string, seen = new Set<string>()): Set<string> {
  if (seen.has(file)) return seen
  seen.add(file)
  if (!file.endsWith('.ts')) return seen
  for (const [, name] of readFileSync(join(core, file), 'utf8').matchAll(IMPORT)) {
    reachedFrom(name!.startsWith('#core/') ? name!.slice('#core/'.length) : name!, seen)
  }
  return seen
}

describe('what a sum reaches', () => {
  it.each(['truing.ts', 'width.ts', 'fit.ts', 'units.ts', 'steps.ts'])('%s reaches the core alone, and not the distributions', (file) => {
    const reached = [...reachedFrom(file)]
    expect(reached).not.toContain('numeric/distributions.ts')
    expect(reached.filter((name) => !name.endsWith('.ts'))).toEqual([])
  })

  it('learning does reach them, so that the walk above is known to find what is there', () => {
    expect([...reachedFrom('learning.ts')]).toContain('@stdlib/stats-base-dists-t-quantile')
  })
})
