import path from 'node:path'
import { describe, expect, test } from 'vitest'
import { migrate, migrationNames, prepareRoles } from '#prisma/migrate.ts'
import { backUp, restoreInto } from '#server/features/backups/store.ts'
import { emptyBook, emptyDatabase, inDatabase, lookAtBook, ownFolder } from '#tests/support/backup-book.ts'

const folder = ownFolder()
const files = path.join(folder, 'files')

describe('a backup of an older build', () => {
  test('is put in as it was and brought to this build, into a fresh database and into an empty book', async () => {
    const old = await emptyBook(migrationNames()[0])
    const id = (last: number) => `00000000-0000-7000-8000-${String(last).padStart(12, '0')}`
    await inDatabase(old, async (client) => {
      await client.query(`INSERT INTO person (id, sign_in, name, role, password_hash) VALUES ('${id(1)}', 'ewa', 'Ewa', 'owner', 'x')`)
      await client.query(`INSERT INTO customer (id, name, phone, find_text) VALUES ('${id(2)}', 'A. Hollis', '0161 496 0100', 'hollis')`)
      await client.query(
        `INSERT INTO engine (id, maker, code, cycle, surface_left, surface_right, find_text) VALUES ('${id(3)}', 'Ruskhammar', 'R449-4X', '4T', 'taper', 'plain', 'r')`,
      )
      await client.query(`INSERT INTO crank (id, engine_id, customer_id, find_text) VALUES ('${id(4)}', '${id(3)}', '${id(2)}', 'r')`)
      const job = (number: number, more: string, values: string) =>
        client.query(
          `INSERT INTO job (id, number, tag, kind, state, crank_id, customer_id, why_now, booked_by_id, booked_at${more})
           VALUES ('${id(100 - number)}', ${number}, '${number}-V', 'rebuild', 'booked', '${id(4)}', '${id(2)}', 'hours-up', '${id(1)}', now()${values})`,
        )
      await job(1, '', '')
      await job(2, ', comeback_of_id, comeback_why', `, '${id(99)}', 'knocks'`)
    })
    const file = path.join(folder, 'old.tbk')
    await backUp({ name: 'book', url: old, files }, file, { now: new Date() })
    await migrate(old, await prepareRoles(old))
    // What the later changes make of old rows they make with ids and marks of their own.
    const madeLater = ['comeback', 'office_stale']
    const asOld = (seen: Record<string, string>) => Object.fromEntries(Object.entries(seen).filter(([name]) => !madeLater.includes(name)))
    const wanted = asOld(await lookAtBook(old))
    const later = migrationNames().slice(1)
    for (const url of [await emptyDatabase(), await emptyBook()]) {
      expect(await restoreInto({ url, files }, file)).toMatchObject({ brought: later })
      expect(asOld(await lookAtBook(url))).toEqual(wanted)
      const { rows } = await inDatabase(url, (client) => client.query('SELECT job_id, says, new_job_id FROM comeback'))
      expect(rows).toEqual([{ job_id: id(99), says: 'knocks', new_job_id: id(98) }])
    }
  })
})
