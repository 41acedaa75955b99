import { readdirSync, readFileSync } from 'node:fs'
import { dirname, join } from 'node:path'
import { fileURLToPath } from 'node:url'
import { describe, expect, it } from 'vitest'
import { aRecord } from '#tests/core/bench/record.ts'
import { readyJob } from '#tests/core/gates/ready-job.ts'
import { sampleCertificate } from '#tests/support/sample-certificate.ts'

// Runs every `@example expression // value` line of the core against the module it stands in. In them `record` is the record
// of an ordinary job, `facts` what the gates ask of one that has everything, `data` an ordinary sheet.

const core = join(dirname(fileURLToPath(import.meta.url)), '..', '..', 'server', 'core')
const EXAMPLE = /@example (.+?) \/\/ (.+?)\s*(?:\*\/)?$/gm

const files = readdirSync(core, { recursive: true, encoding: 'utf8' })
  .filter((file) => file.endsWith('.ts'))
  .map((file) => ({ file, text: readFileSync(join(core, file), 'utf8') }))
const examples = files.flatMap(({ file, text }) =>
  [...text.matchAll(EXAMPLE)].map(([, expression, value]) => ({ file, expression: expression!, value: value! })),
)

const samples = { record: aRecord(), facts: readyJob(), data: sampleCertificate() }

describe('examples in the comments of the core', () => {
  it('stand each in one line, so that all of them are run', () => {
    const written = files.reduce((count, { text }) => count + text.split('@example').length - 1, 0)
    expect(examples.length).toBeGreaterThan(0)
    expect(examples.length).toBe(written)
  })

  it.each(examples)('$file: $expression', async ({ file, expression, value }) => {
    const known: Record<string, unknown> = { ...(await import(/* @vite-ignore */ join(core, file))), ...samples }
    const run = (text: string): unknown => new Function(...Object.keys(known), `return (${text})`)(...Object.values(known))
    expect(run(expression)).toEqual(run(value))
  })
})
