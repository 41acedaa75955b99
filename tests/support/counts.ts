/** Writes the true counts of a run on one line to the file named by TEST_COUNTS, for whoever ran the suite. */
import { writeFileSync } from 'node:fs'
import type { Reporter, TestModule } from 'vitest/node'

export class CountsReporter implements Reporter {
  onTestRunEnd(modules: readonly TestModule[], faults: readonly unknown[]): void {
    const file = process.env.TEST_COUNTS
    if (file === undefined) return
    const count = { passed: 0, failed: faults.length, skipped: 0, pending: 0 }
    for (const module of modules) {
      const tests = [...module.children.allTests()]
      for (const test of tests) count[test.result().state]++
      // A file that fell over before its first test has failed, though none of its tests has.
      if (tests.length === 0 && module.state() === 'failed') count.failed++
    }
    const skipped = count.skipped + count.pending
    writeFileSync(file, `${count.passed} passed, ${count.failed} failed${skipped > 0 ? `, ${skipped} skipped` : ''}\n`)
  }
}
