import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import path from 'node:path'
import { cruise, type ICruiseResult } from 'dependency-cruiser'
import { describe, expect, test } from 'vitest'

const root = path.resolve(import.meta.dirname, '../..')

/** One planted file for each rule of the direction, and the rule that has to refuse it. */
const PLANTED: [rule: string, file: string, source: string][] = [
  ['core-imports-only-core', 'server/core/planted.ts', "import { z } from 'zod'\nexport const planted = z"],
  ['core-imports-only-core', 'server/core/planted.ts', "import type { Role } from '#contract/people.ts'\nexport type Planted = Role"],
  [
    'distributions-import-only-core-and-their-library',
    'server/core/numeric/distributions.ts',
    "import { z } from 'zod'\nexport const planted = z",
  ],
  [
    'contract-imports-only-contract-core-zod',
    'server/contract/planted.ts',
    "import Fastify from 'fastify'\nexport const planted = Fastify",
  ],
  ['web-sees-only-core-and-contract', 'web/planted.ts', "export { buildApp } from '#server/app.ts'"],
  ['web-never-imports-node', 'web/planted.ts', "export { readFileSync } from 'node:fs'"],
  ['server-never-imports-web-tests-seed', 'server/planted.ts', "export { seedDemo } from '#seed/demo.ts'"],
  ['only-stores-touch-prisma', 'server/features/jobs/routes.ts', "export { PrismaPg } from '@prisma/adapter-pg'"],
  ['only-stores-touch-prisma', 'server/features/jobs/commands.ts', "export { PrismaClient } from '#prisma/client/client.ts'"],
  ['server-features-are-islands', 'server/features/jobs/planted.ts', "export { addKit } from '#server/features/kits/commands.ts'"],
  ['web-features-are-islands', 'web/features/jobs/planted.tsx', "export { KitList } from '#web/features/kits/kit-list.tsx'"],
  ['plugins-know-no-routes', 'server/plugins/planted.ts', "export { addKit } from '#server/features/kits/commands.ts'"],
  ['no-circular', 'server/core/planted.ts', "import { other } from '#core/other.ts'\nexport const planted = () => other"],
  ['not-to-unresolvable', 'server/core/planted.ts', "export { nothing } from '#core/not-there.ts'"],
  ['bench-sums-stay-light', 'server/core/truing.ts', "export { quantile } from '#core/between.ts'"],
]

/** What the planted files lead to. */
const AROUND: Record<string, string> = {
  'server/app.ts': 'export const buildApp = 1',
  'server/contract/people.ts': "export type Role = 'owner'",
  'server/core/other.ts': "import { planted } from '#core/planted.ts'\nexport const other = () => planted",
  'server/core/between.ts': "export { quantile } from '#core/numeric/distributions.ts'",
  'server/core/numeric/distributions.ts': 'export const quantile = 1',
  'server/features/kits/commands.ts': 'export const addKit = 1',
  'server/features/kits/store.ts': 'export const kits = 1',
  'web/features/kits/kit-list.tsx': 'export const KitList = 1',
  'seed/demo.ts': 'export const seedDemo = 1',
  'prisma/client/client.ts': 'export const PrismaClient = 1',
}

async function refusals(files: Record<string, string>): Promise<string[]> {
  const folder = mkdtempSync(path.join(tmpdir(), 'throwbook-direction-'))
  const before = process.cwd()
  try {
    for (const [file, source] of Object.entries(files)) {
      mkdirSync(path.dirname(path.join(folder, file)), { recursive: true })
      writeFileSync(path.join(folder, file), source)
    }
    for (const file of ['package.json', 'tsconfig.json', 'tsconfig.base.json', 'node_modules'])
      symlinkSync(path.join(root, file), path.join(folder, file))
    const { default: rules } = await import(path.join(root, '.dependency-cruiser.mjs'))
    process.chdir(folder)
    const { options, ...ruleSet } = rules
    const { output } = await cruise(['server', 'web', 'prisma', 'seed'], {
      ...options,
      ruleSet,
      validate: true,
      baseDir: folder,
      tsConfig: { fileName: 'tsconfig.json' },
    })
    return (output as ICruiseResult).summary.violations.filter((found) => found.rule.severity === 'error').map((found) => found.rule.name)
  } finally {
    process.chdir(before)
    rmSync(folder, { recursive: true, force: true })
  }
}

describe('direction of the house', () => {
  test('files that keep to it are let through', async () => {
    const { 'server/core/other.ts': _circle, ...fine } = AROUND
    expect(
      await refusals({ ...fine, 'server/features/jobs/commands.ts': "export { kits } from '#server/features/kits/store.ts'" }),
    ).toEqual([])
  })

  test.each(PLANTED)('%s refuses %s', async (rule, file, source) => {
    const around =
      rule === 'no-circular' ? AROUND : Object.fromEntries(Object.entries(AROUND).filter(([name]) => name !== 'server/core/other.ts'))
    expect(await refusals({ ...around, [file]: source })).toContain(rule)
  })
})
