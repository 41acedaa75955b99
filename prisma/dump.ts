/** The book's structure as text, read back from a migrated database: what `prisma/schema.sql` holds and a test compares. */
import type pg from 'pg'

const PARTS: { title: string; sql: string }[] = [
  {
    title: 'columns',
    sql: `SELECT format('%s.%s %s%s%s', c.relname, a.attname, format_type(a.atttypid, a.atttypmod),
            CASE WHEN a.attnotnull THEN ' not null' ELSE '' END, coalesce(' default ' || pg_get_expr(d.adbin, d.adrelid), ''))
          FROM pg_attribute a JOIN pg_class c ON c.oid = a.attrelid LEFT JOIN pg_attrdef d ON d.adrelid = c.oid AND d.adnum = a.attnum
          WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r' AND a.attnum > 0 AND NOT a.attisdropped ORDER BY c.relname, a.attnum`,
  },
  {
    title: 'constraints',
    sql: `SELECT format('%s.%s %s', conrelid::regclass, conname, pg_get_constraintdef(oid)) FROM pg_constraint
          WHERE connamespace = 'public'::regnamespace AND contype <> 'n' AND conrelid <> 0 ORDER BY 1`,
  },
  { title: 'indexes', sql: `SELECT indexdef FROM pg_indexes WHERE schemaname = 'public' ORDER BY 1` },
  {
    title: 'functions',
    sql: `SELECT pg_get_functiondef(p.oid) FROM pg_proc p WHERE p.pronamespace = 'public'::regnamespace
          AND NOT EXISTS (SELECT 1 FROM pg_depend d WHERE d.objid = p.oid AND d.deptype = 'e') ORDER BY p.proname`,
  },
  {
    title: 'triggers',
    sql: `SELECT format('%s enabled %s', pg_get_triggerdef(oid), tgenabled) FROM pg_trigger WHERE NOT tgisinternal ORDER BY 1`,
  },
  {
    title: 'rights of throwbook_app',
    sql: `SELECT format('%s: %s', table_name, string_agg(privilege_type, ', ' ORDER BY privilege_type)) FROM information_schema.role_table_grants
          WHERE grantee = 'throwbook_app' AND table_schema = 'public' GROUP BY table_name ORDER BY table_name`,
  },
  {
    title: 'rights of throwbook_app on single columns',
    sql: `SELECT format('%s (%s)', c.table_name, string_agg(c.column_name, ', ' ORDER BY c.column_name)) FROM information_schema.role_column_grants c
          WHERE c.grantee = 'throwbook_app' AND c.table_schema = 'public' AND c.privilege_type = 'UPDATE'
          AND NOT EXISTS (SELECT 1 FROM information_schema.role_table_grants t
            WHERE t.grantee = 'throwbook_app' AND t.table_name = c.table_name AND t.privilege_type = 'UPDATE')
          GROUP BY c.table_name ORDER BY c.table_name`,
  },
]

export async function dumpStructure(client: pg.Client | pg.Pool): Promise<string> {
  const text = ['-- Read back from a migrated book; never edited by hand. `npm run db:dump` writes it.']
  for (const { title, sql } of PARTS) {
    const { rows } = await client.query<[string]>({ text: sql, rowMode: 'array' })
    text.push('', `-- ${title}`, ...rows.map(([line]) => line))
  }
  return `${text.join('\n')}\n`
}
