import { availableParallelism } from 'node:os'
import { defineConfig } from 'vitest/config'
import { CountsReporter } from './tests/support/counts.ts'

export default defineConfig({
  test: {
    // Two at least: a test of the server waits for the database as often as it works.
    maxWorkers: Math.max(2, availableParallelism() - 1),
    reporters: ['default', new CountsReporter()],
    projects: [
      // Pure sums keep nothing from one file to the next, so one process runs them all.
      { test: { name: 'core', include: ['tests/core/**/*.test.ts'], environment: 'node', isolate: false } },
      { test: { name: 'contract', include: ['tests/contract/**/*.test.ts'], environment: 'node', isolate: false } },
      {
        test: {
          name: 'server',
          include: ['tests/server/**/*.test.ts'],
          environment: 'node',
          globalSetup: ['tests/support/postgres.ts'],
          testTimeout: 30_000,
          hookTimeout: 60_000,
        },
      },
      {
        test: { name: 'web', include: ['tests/web/**/*.test.{ts,tsx}'], environment: 'happy-dom' },
      },
      {
        test: {
          name: 'browser',
          include: ['tests/browser/**/*.test.ts'],
          environment: 'node',
          globalSetup: ['tests/support/postgres.ts'],
          testTimeout: 180_000,
          hookTimeout: 180_000,
          fileParallelism: false,
        },
      },
    ],
  },
})
