import { defineConfig } from 'vitest/config'
import { CountsReporter } from './tests/support/counts.ts'

export default defineConfig({
  test: {
    reporters: ['default', new CountsReporter()],
    projects: [
      { test: { name: 'core', include: ['tests/core/**/*.test.ts'], environment: 'node' } },
      { test: { name: 'contract', include: ['tests/contract/**/*.test.ts'], environment: 'node' } },
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
