/** What a backup says about itself: enough to tell, after it was put back, that everything is there. */
import { z } from 'zod'

/** Counts up when the form of the file changes so that an older build cannot read it. */
export const FORM = 1

const sha256 = z.string().regex(/^[0-9a-f]{64}$/)
const count = z.int().min(0)
const name = z.string().regex(/^[a-z_][a-z0-9_]{0,62}$/)

export const migration = z.object({ name: z.string().min(1), checksum: z.string().min(1) })
export type MigrationMark = z.infer<typeof migration>

export const tableMark = z.object({
  name,
  columns: z.array(name).min(1),
  rows: count,
  /** Of the rows in COPY's text form, in the order of the primary key. */
  bytes: count,
  sha256,
})
export type TableMark = z.infer<typeof tableMark>

export const fileMark = z.object({
  /** Beneath the folder of files: photos/ab/ab…cd.jpg. Nothing that could lead out of it. */
  path: z.string().regex(/^[a-z]+\/[0-9a-f]{2}\/[0-9a-f]{64}(\.[a-z]+){1,2}$/),
  bytes: count,
  sha256,
})
export type FileMark = z.infer<typeof fileMark>

export const manifest = z.object({
  form: z.literal(FORM),
  /** Version of the build that wrote it, and of its database. */
  app: z.string(),
  postgres: z.string(),
  book: z.string(),
  /** RFC 3339, UTC. */
  madeAt: z.iso.datetime(),
  migrations: z.array(migration).min(1),
  /** In an order in which no row comes before one that it refers to. */
  tables: z.array(tableMark).min(1),
  /** Last value given out; null where none was. */
  sequences: z.array(
    z.object({
      name,
      last: z
        .string()
        .regex(/^-?\d+$/)
        .nullable(),
    }),
  ),
  audit: z.object({ seq: count, head: sha256.nullable() }),
  files: z.array(fileMark),
  /** Files that the book names and that could not be taken along as they should be: gone from the disk, or altered there. */
  lacking: z.array(z.object({ path: z.string(), what: z.enum(['gone', 'altered']) })),
})
export type Manifest = z.infer<typeof manifest>

export function rowsOf({ tables }: Manifest): number {
  return tables.reduce((sum, table) => sum + table.rows, 0)
}
