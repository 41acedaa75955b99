/** Loads the schema engine that ships as WebAssembly, so that migrating needs no binary fetched from anywhere. */
import { readFileSync } from 'node:fs'
import { createRequire } from 'node:module'
import path from 'node:path'
import { pathToFileURL } from 'node:url'

interface MigrationFile {
  path: string
  migrationFile: { path: string; content: { tag: 'ok'; value: string } }
}

export interface MigrationsList {
  baseDir: string
  lockfile: { path: string; content: string | null }
  shadowDbInitScript: string
  migrationDirectories: MigrationFile[]
}

export interface SchemaEngine {
  applyMigrations(input: { migrationsList: MigrationsList; filters: object }): Promise<{ appliedMigrationNames: string[] }>
  diagnoseMigrationHistory(input: { migrationsList: MigrationsList; optInToShadowDatabase: boolean; filters: object }): Promise<{
    failedMigrationNames: string[]
    editedMigrationNames: string[]
    hasMigrationsTable: boolean
    history: unknown
  }>
  diff(input: object): Promise<{ stdout: string | null; exitCode: number }>
}

interface EngineModule {
  __wbg_set_wasm(exports: object): void
  SchemaEngine: { new: (options: object, log: (line: string) => void, adapter: object) => Promise<SchemaEngine> }
}

// Node has it; its types come with the browser's library, which the server must not see.
const wasm = (globalThis as unknown as { WebAssembly: Instantiator }).WebAssembly

interface Instantiator {
  instantiate(bytes: Uint8Array, imports: object): Promise<{ instance: { exports: Record<string, () => void> } }>
}

export const NO_FILTERS = { externalTables: [], externalEnums: [] }

// Kept on the process and not in this file: a test runner may load this file twice, the engine's module only once.
const onProcess = globalThis as { throwbookSchemaEngine?: Promise<EngineModule> }

export async function loadEngine(schema: string, adapterFactory: object): Promise<SchemaEngine> {
  // One instance a process: the module keeps its memory in a variable of its own, which a second one would overwrite.
  onProcess.throwbookSchemaEngine ??= loadModule()
  const { SchemaEngine } = await onProcess.throwbookSchemaEngine
  return SchemaEngine.new({ datamodels: [['prisma/schema.prisma', schema]] }, () => {}, adapterFactory)
}

async function loadModule(): Promise<EngineModule> {
  const folder = path.dirname(createRequire(import.meta.url).resolve('@prisma/schema-engine-wasm'))
  const background = (await import(pathToFileURL(path.join(folder, 'schema_engine_bg.js')).href)) as EngineModule
  const { instance } = await wasm.instantiate(readFileSync(path.join(folder, 'schema_engine_bg.wasm')), {
    './schema_engine_bg.js': background,
  })
  background.__wbg_set_wasm(instance.exports)
  instance.exports.__wbindgen_start?.()
  return background
}
