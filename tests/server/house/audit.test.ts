import pg from 'pg'
import { describe, expect, test } from 'vitest'
import { auditRows } from '#server/features/audit/store.ts'
import { verifyChain } from '#server/features/audit/verify.ts'
import { perform } from '#server/plugins/act.ts'
import { startApp } from '#tests/support/app.ts'

const it = await startApp()
const owner = await it.as('owner')

async function asBoss<Answer>(work: (client: pg.Client) => Promise<Answer>): Promise<Answer> {
  const client = new pg.Client({ connectionString: it.url })
  await client.connect()
  return work(client).finally(() => client.end())
}

const note = (count: number) =>
  perform(it.db, { by: owner.person, now: it.clock.now, requestId: 'request' }, async (act) => {
    for (let row = 0; row < count; row++) act.note('note', 'thing', String(row), { after: { row, says: 'Łő ß 0.02' } })
  })

describe('audit chain', () => {
  test('a hundred acts at once make a chain without gaps that holds', async () => {
    await Promise.all(Array.from({ length: 100 }, () => note(1)))
    const report = await verifyChain(auditRows(it.db.pool))
    expect(report).toMatchObject({ rows: 100, fault: null })
  })

  test('no right and no trigger lets the serving role, or anybody, change it', async () => {
    for (const statement of [
      "UPDATE audit_row SET action = 'x'",
      'DELETE FROM audit_row',
      'TRUNCATE audit_row',
      'ALTER TABLE audit_row DISABLE TRIGGER ALL',
    ])
      await expect(it.db.pool.query(statement)).rejects.toMatchObject({ code: '42501' })
    await asBoss(async (client) => {
      await client.query('SET session_replication_role = replica')
      for (const statement of ["UPDATE audit_row SET action = 'x'", 'DELETE FROM audit_row', 'TRUNCATE audit_row'])
        await expect(client.query(statement)).rejects.toMatchObject({ code: '42501' })
    })
  })

  // Somebody with every right takes the triggers away first; the chain has to show what they did then.
  const TAMPERED: [what: string, sql: string, firstBad: number][] = [
    ['one byte of the payload', `UPDATE audit_row SET payload = replace(payload, '0.02', '0.03') WHERE seq = 40`, 40],
    ['the actor', `UPDATE audit_row SET actor_id = gen_random_uuid() WHERE seq = 41`, 41],
    ['the time by a microsecond', `UPDATE audit_row SET recorded_at = recorded_at + interval '1 microsecond' WHERE seq = 42`, 42],
    ['a row gone', 'DELETE FROM audit_row WHERE seq = 50', 51],
    [
      'two swapped',
      'UPDATE audit_row SET seq = CASE seq WHEN 60 THEN -61 ELSE -60 END WHERE seq IN (60, 61); UPDATE audit_row SET seq = -seq WHERE seq < 0',
      60,
    ],
    ['the request', `UPDATE audit_row SET request_id = NULL WHERE seq = 70`, 70],
  ]
  test.each(TAMPERED)('names the first bad row after %s', async (_what, sql, firstBad) => {
    await asBoss(async (client) => {
      await client.query('ALTER TABLE audit_row DISABLE TRIGGER ALL')
      await client.query('CREATE TABLE kept AS SELECT * FROM audit_row')
      await client.query(sql)
      const report = await verifyChain(auditRows(it.db.pool))
      expect(report.fault?.seq).toBe(firstBad)
      await client.query('DELETE FROM audit_row; INSERT INTO audit_row SELECT * FROM kept; DROP TABLE kept')
      await client.query(
        'ALTER TABLE audit_row ENABLE ALWAYS TRIGGER never_changed; ALTER TABLE audit_row ENABLE ALWAYS TRIGGER never_emptied',
      )
    })
    expect((await verifyChain(auditRows(it.db.pool))).fault).toBeNull()
  })

  test('a cut tail is caught by a head noted earlier', async () => {
    const { head } = await verifyChain(auditRows(it.db.pool))
    await asBoss((client) => client.query('ALTER TABLE audit_row DISABLE TRIGGER ALL; DELETE FROM audit_row WHERE seq > 95'))
    expect((await verifyChain(auditRows(it.db.pool))).fault).toBeNull()
    expect((await verifyChain(auditRows(it.db.pool), head)).fault).toMatchObject({ seq: 96 })
  })
})
